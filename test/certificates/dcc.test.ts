/** The certificate as data, held against the published schemas and against what they do not see. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { XmlBufferInputProvider, XmlDocument, xmlRegisterInputProvider, XsdValidator } from 'libxml2-wasm';
import { describe, expect, it } from 'vitest';
import { complaints } from '../../server/certificates/dcc/check.ts';
import { certificateDocument, certificateXml, written } from '../../server/certificates/dcc/certificate.ts';
import { dsiUnit, real, type Element } from '../../server/certificates/dcc/element.ts';
import type { Issued, ToleranceBasis } from '../../server/certificates/issued.ts';
import type { Verdict } from '../../server/metrology/result.ts';
import { flask } from '../metrology/make.ts';
import { AWKWARD, ENTRY, flaskRecord, issued, maximal, weighings } from './samples.ts';

const schemas = process.env['DCC_SCHEMA_DIR'];
const NO_SCHEMAS = 'DCC_SCHEMA_DIR names no folder with the schemas of PTB';

/** Addresses by which the schemas import each other, and where they lie in the folder. */
const IMPORTS = {
  'https://ptb.de/si/v2.2.1/SI_Format.xsd': 'd-si-2.2.1/SI_Format.xsd',
  'https://www.ptb.de/si/v2.2.1/qudt/quantitykind.xsd': 'd-si-2.2.1/qudt/quantitykind.xsd',
  'https://www.ptb.de/dcc/d-sig/xmldsig-core-schema.xsd': 'xmldsig/xmldsig-core-schema.xsd',
};

let validator: XsdValidator | undefined;
const validatorIn = (folder: string): XsdValidator => {
  if (validator) return validator;
  const buffers = Object.entries(IMPORTS).map(([url, file]) => [url, readFileSync(join(folder, file))] as const);
  xmlRegisterInputProvider(new XmlBufferInputProvider(Object.fromEntries(buffers)));
  validator = XsdValidator.fromDoc(XmlDocument.fromBuffer(readFileSync(join(folder, 'dcc-3.3.0/dcc.xsd'))));
  return validator;
};

/** @returns what the schemas say against it, or null */
const invalid = (xml: Buffer, folder: string): string | null => {
  const document = XmlDocument.fromBuffer(xml);
  try {
    validatorIn(folder).validate(document);
    return null;
  } catch (error) {
    return String(error);
  } finally {
    document.dispose();
  }
};

/** A flask whose mean is 0.032 mL low with U = 0.019 mL unless told otherwise, against a marked tolerance. */
const marked = (markedMl: string, massG = 99.66): Issued =>
  issued(
    flaskRecord({
      vessel: flask({ tolerance: { markedMl }, neckDiameterMm: '13' }),
      trials: weighings('100', massG, 10),
    }),
  );

const VERDICTS: [Verdict, Issued, string | null][] = [
  ['pass', marked('0.1'), 'pass'],
  ['conditional-pass', marked('0.04'), 'conditionalPass'],
  ['conditional-fail', marked('0.025'), 'conditionalFail'],
  ['fail', issued(flaskRecord({ trials: weighings('100', 99.4, 10) })), 'fail'],
  ['not-decidable', marked('0.01', 99.692), null],
];

const HUNDREDS = issued(flaskRecord({ plannedTrials: 200, trials: weighings('100', 99.66, 200) }));
const SAMPLES: [string, Issued][] = [
  ['minimal', issued()],
  ['maximal and amended', maximal()],
  ['of 200 trials', HUNDREDS],
  ['of invented data', issued(flaskRecord(), { demonstration: true })],
  ['without a tolerance', issued(flaskRecord(), { toleranceBasis: { kind: 'none' } })],
  ...VERDICTS.map(([verdict, sample]): [string, Issued] => [`with the verdict ${verdict}`, sample]),
];

const text = (sample: Issued): string => certificateXml(sample, ENTRY).toString('utf8');
const between = (xml: string, tag: string): string[] =>
  [...xml.matchAll(new RegExp(`<${tag}>([^<]*)</${tag}>`, 'g'))].map((match) => match[1] ?? '');

describe('against the schemas', () => {
  it('takes every kind of certificate, and refuses a broken one', (context) => {
    if (schemas === undefined) return context.skip(NO_SCHEMAS);
    const answers = SAMPLES.map(([name, sample]) => [name, invalid(certificateXml(sample, ENTRY), schemas)]);
    expect(answers).toEqual(SAMPLES.map(([name]) => [name, null]));
    const good = text(issued());
    const comma = good.replace(/<si:value>(\d+)\.(\d+)<\/si:value>/, '<si:value>$1,$2</si:value>');
    expect(comma).not.toBe(good);
    expect(invalid(Buffer.from(comma), schemas)).toMatch(/si}value/);
    const nameless = good.replace(/<dcc:uniqueIdentifier>.*<\/dcc:uniqueIdentifier>/, '');
    expect(invalid(Buffer.from(nameless), schemas)).toMatch(/uniqueIdentifier/);
  });
});

describe('what it says', () => {
  it.each(VERDICTS)('gives %s its word of conformity, at the point and for all', (verdict, sample, word) => {
    expect(sample.result.verdict).toBe(verdict);
    const xml = text(sample);
    expect(between(xml, 'dcc:conformity')).toEqual(word === null ? [] : [word, word]);
    expect(xml).toContain('Decision rule: guarded acceptance.');
  });

  it.each(['not-checked', 'none'] as const)('gives no word and no rule where the tolerance is %s', (kind) => {
    const toleranceBasis: ToleranceBasis = { kind };
    const xml = text(issued(flaskRecord(), { toleranceBasis }));
    expect(between(xml, 'dcc:conformity')).toEqual([]);
    expect(xml).not.toContain('Decision rule');
    expect(xml).toContain('so there is no verdict.');
  });

  it('names what it replaces', () => {
    const xml = text(maximal());
    expect(between(xml, 'dcc:replacedUniqueIdentifier')).toEqual(['2026-00042']);
    expect(text(issued())).not.toContain('reportAmendedSubstituted');
  });

  it('names the country where somebody said it, and a code of nobody where not', () => {
    expect(between(text(maximal()), 'dcc:countryCodeISO3166_1')).toEqual(['NZ']);
    expect(between(text(issued()), 'dcc:countryCodeISO3166_1')).toEqual(['XX']);
    const before = { format: 'tarebook-issued-1', laboratory: { name: null, address: null } } as const;
    expect(between(text(issued(flaskRecord(), before)), 'dcc:countryCodeISO3166_1')).toEqual(['XX']);
  });

  it('gives the budget: contributions whose squares add up to that of all together (JCGM 100:2008, 5.1.2)', () => {
    const document = XmlDocument.fromBuffer(certificateXml(maximal(), ENTRY));
    const space = { dcc: 'https://ptb.de/dcc', si: 'https://ptb.de/si' };
    const points = maximal().result.points.length;
    expect(points).toBeGreaterThan(0);
    for (let at = 1; at <= points; at += 1) {
      const found = document.find(`//dcc:result[@id="budget-${at}"]//si:value`, space);
      const values = found.map(({ content }) => Number(content));
      const together = values.pop() ?? 0;
      expect(together).toBeGreaterThan(0);
      expect(Math.hypot(...values) / together).toBeCloseTo(1, 2);
    }
    document.dispose();
  });

  it('brings awkward text back as it was typed', () => {
    const document = XmlDocument.fromBuffer(certificateXml(maximal(), ENTRY));
    const names = document.find('//dcc:manufacturer/dcc:name/dcc:content', { dcc: 'https://ptb.de/dcc' });
    expect(names.map(({ content }) => content)).toEqual([AWKWARD]);
    document.dispose();
    const rung = issued(flaskRecord(), { note: 'a\u0007b\ud83ec' });
    expect(text(rung)).toContain('a[U+0007]b[U+D83E]c');
  });

  it('writes numbers with a point and their zeros, never with an exponent', () => {
    const xml = text(maximal());
    const lists = between(xml, 'si:valueXMLList').flatMap((list) => list.split(' '));
    const numbers = [...between(xml, 'si:value'), ...between(xml, 'si:valueExpandedMU'), ...lists];
    expect(numbers.length).toBeGreaterThan(300);
    expect(numbers.filter((value) => !/^-?\d+(\.\d+)?$|^NaN$/.test(value))).toEqual([]);
    expect(lists).toContain('21.30');
    expect(new Set(between(xml, 'si:coverageProbability'))).toEqual(new Set(['0.9545']));
    expect(xml).not.toContain('expandedUnc>');
  });

  it('writes units as D-SI strings and guesses none', () => {
    // From the D-SI guide: identifiers of SI and accepted units, each behind a backslash.
    expect(['mL', 'g', '°C', 'hPa', '%'].map(dsiUnit)).toEqual([
      '\\milli\\litre',
      '\\gram',
      '\\degreecelsius',
      '\\hecto\\pascal',
      '\\percent',
    ]);
    expect(() => dsiUnit('fl oz')).toThrow('fl oz');
    expect(() => real('1,5', 'mL')).toThrow('1,5');
    expect(() => real('1e-7', 'mL')).toThrow('1e-7');
  });

  it('gives the same bytes each time', () => {
    expect(certificateXml(maximal(), ENTRY).equals(certificateXml(maximal(), ENTRY))).toBe(true);
  });
});

describe('what no schema sees', () => {
  const changed = (change: (root: Record<string, Record<string, Element>>) => void): string[] => {
    const document = structuredClone(certificateDocument(issued(), ENTRY));
    change(document['dcc:digitalCalibrationCertificate'] as unknown as Record<string, Record<string, Element>>);
    return complaints(document);
  };

  it('finds nothing against a whole certificate', () => {
    expect(SAMPLES.map(([, sample]) => complaints(certificateDocument(sample, ENTRY)))).toEqual(SAMPLES.map(() => []));
  });

  it('finds an end before the beginning, and refuses to write it', () => {
    const backwards = issued(flaskRecord(), { endedOn: '2026-03-11' });
    expect(() => certificateXml(backwards, ENTRY)).toThrow('It ended on 2026-03-11, before it began on 2026-03-12.');
  });

  it.each(['dcc:usedMethods', 'dcc:influenceConditions'])('misses %s', (name) => {
    const found = changed((root) => delete root['dcc:measurementResults']?.['dcc:measurementResult']?.[name]);
    expect(found).toEqual([expect.stringContaining(`has no ${name}.`)]);
  });

  it('finds a reference to nothing, an id and a language given twice, and the outdated form of U', () => {
    const found = changed((root) => {
      const administrative = root['dcc:administrativeData'] ?? {};
      const core = administrative['dcc:coreData'] ?? {};
      core['dcc:usedLangCodeISO639_1'] = ['en', 'en'];
      const item = administrative['dcc:items']?.['dcc:item'] as Element;
      item['@refId'] = 'nowhere';
      item['dcc:name'] = {
        'dcc:content': [
          { '@lang': 'en', '#': 'one' },
          { '@lang': 'en', '#': 'two' },
        ],
      };
      item['si:expandedUnc'] = { '@id': 'calibration' };
    });
    expect(found).toEqual([
      'Nothing has the id nowhere.',
      'The id calibration is there more than once.',
      'dcc:usedLangCodeISO639_1 en is there twice.',
      expect.stringContaining('says it twice in the language en.'),
      expect.stringContaining('is outdated.'),
    ]);
  });

  it('is asked about what is written, not about a copy', () => {
    const document = certificateDocument(issued(), ENTRY);
    expect(written(document).equals(certificateXml(issued(), ENTRY))).toBe(true);
  });
});
