/** Elements of a calibration certificate in XML: texts, quantities and their units. */

/** An element as the builder takes it: names in their order, attributes behind `@`, text behind `#`. */
export interface Element {
  [name: string]: Content;
}
export type Content = string | Element | readonly (string | Element)[];

/** D-SI strings of the units that certificates use. @source D-SI 2.2.1, unit identifiers of the SI brochure */
const UNITS: Readonly<Record<string, string>> = {
  mL: '\\milli\\litre',
  g: '\\gram',
  '°C': '\\degreecelsius',
  hPa: '\\hecto\\pascal',
  '%': '\\percent',
  s: '\\second',
  '1': '\\one',
};

/** @throws Error for a unit without a D-SI string: a certificate must not go out with a guessed one */
export const dsiUnit = (unit: string): string => {
  const known = UNITS[unit];
  if (known === undefined) throw new Error(`The unit ${unit} has no D-SI string.`);
  return known;
};

// What XML 1.0 cannot hold at all, not even as a reference: control signs, halves of pairs, the two non-characters.
const UNWRITABLE = /[^\t\n\r\u{20}-\u{d7ff}\u{e000}-\u{fffd}\u{10000}-\u{10ffff}]/gu;

/** A sign that XML cannot hold is written by its Unicode number, so that nothing vanishes unseen. */
const writable = (typed: string): string =>
  typed.replaceAll(
    UNWRITABLE,
    (sign) => `[U+${(sign.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}]`,
  );

/** Text that may not be empty nor begin or end in white space. */
export const token = (typed: string): string => {
  const text = writable(typed).trim();
  return text === '' ? 'not stated' : text;
};

/** Name or description in English, the one language of the papers. */
export const text = (typed: string): Element => ({ 'dcc:content': { '@lang': 'en', '#': writable(typed) } });

/** Decimal text of a number: a point, its zeros kept, no exponent. @throws Error for anything else */
export const decimal = (shown: string): string => {
  if (!/^[-+]?(\d+\.?\d*|\.\d+)$/.test(shown)) throw new Error(`${shown} is no decimal number.`);
  return shown;
};

export interface Uncertainty {
  expanded: string;
  factor: string;
  probability: string;
}

/** A value with its unit, and U = k · u where it is known. */
export const real = (value: string, unit: string, uncertainty: Uncertainty | null = null): Element => ({
  'si:real': {
    'si:value': decimal(value),
    'si:unit': dsiUnit(unit),
    ...(uncertainty === null
      ? {}
      : {
          'si:measurementUncertaintyUnivariate': {
            'si:expandedMU': {
              'si:valueExpandedMU': decimal(uncertainty.expanded),
              'si:coverageFactor': decimal(uncertainty.factor),
              'si:coverageProbability': decimal(uncertainty.probability),
            },
          },
        }),
  },
});

/** Values of a column, all in one unit. A value that is not there reads NaN. */
export const realList = (values: readonly (string | null)[], unit: string): Element => ({
  'si:realListXMLList': {
    'si:valueXMLList': values.map((value) => (value === null ? 'NaN' : decimal(value))).join(' '),
    'si:unitXMLList': dsiUnit(unit),
  },
});

/** @param refType role of the quantity, of the common basic set */
export const quantity = (name: string, content: Element, refType: string | null = null): Element => ({
  ...(refType === null ? {} : { '@refType': refType }),
  'dcc:name': text(name),
  ...content,
});
