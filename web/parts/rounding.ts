/** Rounding for display, by the rules the printed result follows. Nothing is rounded before this. */
import { decimalsFor, roundedText } from '../../server/metrology/display.ts';

const MINUS = '−';
const FIGURE_SPACE = '\u2007';
const PUNCTUATION_SPACE = '\u2008';

/** True minus sign in front of a negative number, and no minus before a zero. */
export const withTrueMinus = (shown: string): string => {
  const isZero = !/[1-9]/.test(shown);
  return shown.replace(/^[-−]/, isZero ? '' : MINUS);
};

/**
 * Decimals that leave an uncertainty at most two significant digits (JCGM 100:2008, 7.2.6). Looks at the digits after
 * rounding, so that 0.0996 becomes 0.10 and not 0.100. Whole numbers stay whole.
 */
export const decimalsForUncertainty = (uncertainty: number): number => {
  if (!(uncertainty > 0) || !Number.isFinite(uncertainty)) return 4;
  return Math.max(0, Math.min(8, decimalsFor(uncertainty, 2)));
};

/** Decimals that show a tolerance with three significant digits: 0.1 mL reads 0.100. */
export const decimalsForTolerance = (tolerance: number): number =>
  tolerance > 0 && Number.isFinite(tolerance)
    ? Math.max(0, Math.min(6, 2 - Math.floor(Math.log10(tolerance) + 1e-9)))
    : 3;

/** Digits after the decimal mark of a reading as typed. */
export const decimalsOf = (reading: string): number => {
  const mark = reading.indexOf('.');
  return mark === -1 ? 0 : reading.length - mark - 1;
};

export const fixed = (value: number, decimals: number): string => withTrueMinus(roundedText(value, decimals));

/** With so many significant digits, written out: 0.0021. */
export const significant = (value: number, digits: number): string =>
  value === 0 ? '0' : fixed(value, Math.max(0, decimalsFor(Math.abs(value), digits)));

/** Spaces as wide as digits to stand behind a number, so that a column stands on its decimal mark. */
export const decimalPadding = (shown: string, most: number): string => {
  const decimals = decimalsOf(shown);
  const mark = decimals === 0 && most > 0 ? PUNCTUATION_SPACE : '';
  return mark + FIGURE_SPACE.repeat(Math.max(0, most - decimals));
};

/** With its sign, for what is an error or a difference. */
export const signed = (value: number, decimals: number): string => {
  const shown = fixed(value, decimals);
  return shown.startsWith(MINUS) || !/[1-9]/.test(shown) ? shown : `+${shown}`;
};

const SUPERSCRIPTS: Record<string, string> = {
  '-': '⁻',
  '0': '⁰',
  '1': '¹',
  '2': '²',
  '3': '³',
  '4': '⁴',
  '5': '⁵',
  '6': '⁶',
  '7': '⁷',
  '8': '⁸',
  '9': '⁹',
};

/** 9.9e-6 as 9.9 · 10⁻⁶. */
export function scientific(value: number): string {
  if (value === 0) return '0';
  const [mantissa = '', exponent = ''] = value.toExponential().split('e');
  const raised = exponent.replace('+', '').replace(/[-\d]/g, (sign) => SUPERSCRIPTS[sign] ?? sign);
  return `${withTrueMinus(mantissa)} · 10${raised}`;
}
