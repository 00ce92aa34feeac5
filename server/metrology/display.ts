/** A result as it is shown and printed: U with two significant digits, the value to the same decimal place. */
export interface RoundedResult {
  value: string;
  uncertainty: string;
  /** Digits behind the point of both; negative when rounded to tens or hundreds. */
  decimals: number;
}

/** A number shifted by powers of ten through its shortest text, so that 1.005 counts as the tie it looks like. */
function shift(value: number, places: number): number {
  const [digits = '0', exponent = '0'] = value.toString().split('e');
  return Number(`${digits}e${Number(exponent) + places}`);
}

/**
 * Rounds to a number of decimals, halves away from zero, as text with all its digits: (99.996, 2) → `100.00`.
 * Negative decimals round to tens, hundreds …
 */
export function roundedText(value: number, decimals: number): string {
  const size = shift(Math.round(shift(Math.abs(value), decimals)), -decimals);
  const text = size.toFixed(Math.max(0, decimals));
  return value < 0 && Number(text) !== 0 ? `-${text}` : text;
}

/** Decimals that leave a positive number so many significant digits after rounding, a carry included. */
export function decimalsFor(value: number, significantDigits: number): number {
  if (!(value > 0) || !Number.isFinite(value)) return 0;
  const exponent = Math.floor(Math.log10(value));
  const decimals = significantDigits - 1 - exponent;
  const rounded = Number(roundedText(value, decimals));
  // 0.0995 rounds to 0.10, one place less
  return rounded >= 10 ** (exponent + 1) ? decimals - 1 : decimals;
}

/**
 * Value and expanded uncertainty for display and print. Rounding happens here and nowhere before.
 * @source jcgm-100-2008, 7.2.6
 */
export function roundedResult(value: number, expandedUncertainty: number): RoundedResult {
  const decimals = decimalsFor(expandedUncertainty, 2);
  return {
    value: roundedText(value, decimals),
    uncertainty: roundedText(expandedUncertainty, decimals),
    decimals,
  };
}

/** True minus sign in front of a negative number, and no minus before a zero. */
export function withTrueMinus(shown: string): string {
  const isZero = !/[1-9]/.test(shown);
  return shown.replace(/^[-−]/, isZero ? '' : '−');
}

export function fixed(value: number, decimals: number): string {
  return withTrueMinus(roundedText(value, decimals));
}

/** With its sign, for what is an error or a difference. */
export function signed(value: number, decimals: number): string {
  const shown = fixed(value, decimals);
  return shown.startsWith('−') || !/[1-9]/.test(shown) ? shown : `+${shown}`;
}

/** With so many significant digits, written out: 0.0021. */
export function significant(value: number, digits: number): string {
  return value === 0 ? '0' : fixed(value, Math.max(0, decimalsFor(Math.abs(value), digits)));
}

/** Decimals that show a tolerance with three significant digits: 0.1 mL reads 0.100. */
export function decimalsForTolerance(tolerance: number): number {
  return tolerance > 0 && Number.isFinite(tolerance)
    ? Math.max(0, Math.min(6, 2 - Math.floor(Math.log10(tolerance) + 1e-9)))
    : 3;
}

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
