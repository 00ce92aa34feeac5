/** Numbers of an explanation as they are shown, and formulas with the numbers put in. */
import type { Calibration } from '../../server/calibrations/contract.ts';
import { decimalsForTolerance, decimalsOf, fixed, scientific, signed, significant, withTrueMinus } from './rounding.ts';

type Explanations = NonNullable<Calibration['explain']>;
/** A number with the way to it. */
export type Explanation = Explanations['trials'][number]['volume'];

const UNITS: Record<string, string> = {
  '1': '',
  'kg/m3': 'kg/m³',
  '1/K': '/K',
  'mL/(1)': 'mL',
  'mL/(mL)': '',
  'mL/(1/K)': 'mL·K',
  'mL/(kg/m3)': 'mL/(kg/m³)',
};
/** `mL/(g)` as `mL/g`; the unit one is not written. */
export const unitWords = (unit: string): string => UNITS[unit] ?? unit.replace(/^mL\/\(([^/()]+)\)$/, 'mL/$1');

/** At most so many significant digits, without zeros at the end; with a power of ten where it would be long. */
export function compact(value: number, digits: number): string {
  if (value === 0) return '0';
  const size = Math.abs(value);
  if (size < 1e-4 || size >= 1e7) return scientific(Number(value.toPrecision(digits)));
  return withTrueMinus(String(Number(value.toPrecision(digits))));
}

const VOLUMES = ['V', 'Vs', 'V̄', 'b', 'm'];
const READINGS = ['filled', 'empty'];
const SPREADS = /^(s|s_p|U|u_c|u|u\(.*\))$/;

/** @param readingDecimals digits behind the mark of the balance */
export function shownNumber(node: Explanation, readingDecimals: number): string {
  const { symbol, value, typed } = node;
  if (typed !== undefined) return withTrueMinus(typed);
  if (value === null) return symbol === 'ν_eff' ? '∞' : '–';
  if (VOLUMES.includes(symbol)) return fixed(value, readingDecimals);
  if (READINGS.includes(symbol)) return fixed(value, readingDecimals + 1);
  if (symbol === 'T') return fixed(value, decimalsForTolerance(value));
  if (symbol === 'k') return fixed(value, 2);
  if (symbol === 'ν_eff') return fixed(value, 1);
  if (symbol === 'p') return probabilityWords(value);
  if (symbol === 'c') return compact(value, 4);
  if (symbol.startsWith('c(')) return value === 0 ? '0' : signed(value, Math.max(0, decimalsOf(significant(value, 2))));
  if (SPREADS.test(symbol)) return Math.abs(value) < 1e-5 ? compact(value, 2) : significant(value, 2);
  return compact(value, 7);
}

/** Never a certainty: 0.99999 reads > 0.9999. */
export const probabilityWords = (probability: number): string =>
  probability > 0.9999 ? '> 0.9999' : probability < 0.0001 ? '< 0.0001' : fixed(probability, 4);

const NO_LETTER_BEFORE = '(?<![\\p{L}\\p{M}_])';
const NO_LETTER_BEHIND = '(?![\\p{L}\\p{M}\\d_])';
const escaped = (symbol: string) => symbol.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

/** Names that stand for no number: functions, and the exponent of a number written out. */
const isAllPutIn = (left: string): boolean =>
  !/\p{L}/u.test(left.replace(/(t|F)(?=\()/gu, '').replace(/\de-?\d/gu, ''));

/**
 * A formula with the numbers in the place of its symbols: `m·Z·C` as `99.71 g · 1.0029 mL/g · 0.999995`. Null where a
 * symbol has no number here.
 */
export function putIn(formula: string, numbers: ReadonlyMap<string, string>): string | null {
  const [pure = formula] = formula.split(/, (?=[A-Z][a-z]{2})/);
  const symbols = [...numbers.keys()].sort((one, other) => other.length - one.length).map(escaped);
  if (symbols.length === 0) return null;
  const pattern = new RegExp(`${NO_LETTER_BEFORE}(${symbols.join('|')})${NO_LETTER_BEHIND}`, 'gu');
  if (!isAllPutIn(pure.replace(pattern, ''))) return null;
  return pure.replace(pattern, (symbol) => numbers.get(symbol) ?? symbol).replace(/\s*·\s*/g, ' · ');
}

const inBrackets = (shown: string): string => (/^[−-]|10[⁻⁰-⁹]/.test(shown) ? `(${shown})` : shown);
const NARROW_SPACE = '\u202f';
export const withUnit = (shown: string, unit: string): string => {
  const words = unitWords(unit);
  return words === '' ? shown : `${shown}${NARROW_SPACE}${words}`;
};

const MOST_TERMS = 4;
/** `a + b + … + z`. */
const sumOf = (terms: readonly string[]): string =>
  terms.length <= MOST_TERMS
    ? terms.join(' + ')
    : [...terms.slice(0, MOST_TERMS - 2), '…', ...terms.slice(-1)].join(' + ');

/** The formula of a number with its parts put in; sums name their first terms. */
export function numbersPutIn(
  node: Explanation,
  readingDecimals: number,
  constants: Readonly<Record<string, number>> = {},
): string | null {
  const { formula, parts } = node;
  if (formula === null) return null;
  const shown = parts.map((part) => inBrackets(shownNumber(part, readingDecimals)));
  if (formula === 'reading + correction') return shown.join(' + ');
  if (formula === 'ΣV/n') return `(${sumOf(shown)})${NARROW_SPACE}mL / ${parts.length}`;
  if (formula === '√Σ(c·u)²') return withUnit(`√(${sumOf(largestFirst(node).map((one) => `(${one})²`))})`, node.unit);
  const known = new Map(Object.entries(constants).map(([name, value]) => [name, inBrackets(compact(value, 10))]));
  parts.forEach((part, index) => known.set(part.symbol, withUnit(shown[index] ?? '', part.unit)));
  return putIn(formula, known);
}

const largestFirst = ({ parts }: Explanation): string[] =>
  parts
    .map(({ value }) => value ?? 0)
    .filter((value) => value > 0)
    .sort((one, other) => other - one)
    .map((value) => compact(value, 2));

/** Digits behind the mark of the finest filled reading. */
export const readingDecimalsOf = (trials: readonly { used: { filledG: string } }[]): number =>
  trials.reduce((most, { used }) => Math.max(most, decimalsOf(used.filledG)), 0);
