import type { DecimalText } from './record.ts';

/** Longer text than this is no reading of any instrument. */
export const MAX_DECIMAL_LENGTH = 40;

const DECIMAL = /^[+-]?(?:\d+\.?\d*|\.\d+)$/;

/** Optional sign, digits, at most one point; no exponent, no grouping, no spaces. */
export function isDecimalText(text: string): boolean {
  return text.length <= MAX_DECIMAL_LENGTH && DECIMAL.test(text);
}

/**
 * The double nearest to a decimal text.
 * @throws TypeError when the text is not decimal: callers check what people typed before they compute.
 */
export function numberOf(text: DecimalText): number {
  if (!isDecimalText(text)) throw new TypeError(`not a decimal number: ${JSON.stringify(text)}`);
  return Number(text);
}

/** As `numberOf`; null where nothing is known. */
export function numberOrNull(text: DecimalText | null | undefined): number | null {
  return text == null ? null : numberOf(text);
}

/** Digits behind the point: 4 for `160.8371`, 0 for `160`. */
export function decimalsOf(text: DecimalText): number {
  const point = text.indexOf('.');
  return point < 0 ? 0 : text.length - point - 1;
}

/** One step of the last digit shown: 0.0001 for `160.8371`. */
export function stepOf(text: DecimalText): number {
  return Number(`1e-${decimalsOf(text)}`);
}

/** The digits without their point, as an integer count of 10^-decimals. */
function scaled(text: DecimalText, decimals: number): bigint {
  if (!isDecimalText(text)) throw new TypeError(`not a decimal number: ${JSON.stringify(text)}`);
  const digits = text.replace(/[+\-.]/g, '') + '0'.repeat(decimals - decimalsOf(text));
  return text.startsWith('-') ? -BigInt(digits) : BigInt(digits);
}

/** Exact difference of two decimal texts, with as many decimals as the finer one, and the double nearest to it. */
export function subtractDecimals(minuend: DecimalText, subtrahend: DecimalText): { text: string; number: number } {
  const decimals = Math.max(decimalsOf(minuend), decimalsOf(subtrahend));
  const difference = scaled(minuend, decimals) - scaled(subtrahend, decimals);
  const digits = (difference < 0n ? -difference : difference).toString().padStart(decimals + 1, '0');
  const whole = digits.slice(0, digits.length - decimals);
  const sign = difference < 0n ? '-' : '';
  const text = decimals === 0 ? sign + whole : `${sign}${whole}.${digits.slice(digits.length - decimals)}`;
  return { text, number: Number(text) };
}

/** Below this, a double times a power of ten is still off by less than half a unit, so rounding it is exact. */
const EXACT_LIMIT = 1e15;

/** The double nearest to the exact difference; the same number as `subtractDecimals`, without building its text. */
export function differenceOf(minuend: DecimalText, subtrahend: DecimalText): number {
  const decimals = Math.max(decimalsOf(minuend), decimalsOf(subtrahend));
  if (decimals <= 15) {
    const scale = 10 ** decimals;
    const first = numberOf(minuend) * scale;
    const second = numberOf(subtrahend) * scale;
    if (Math.abs(first) < EXACT_LIMIT && Math.abs(second) < EXACT_LIMIT) {
      return (Math.round(first) - Math.round(second)) / scale;
    }
  }
  return subtractDecimals(minuend, subtrahend).number;
}

/** Compares the numbers, not the digits: `100` and `100.0` are equal. Negative, zero or positive as for sorting. */
export function compareDecimals(first: DecimalText, second: DecimalText): number {
  const rough = numberOf(first) - numberOf(second);
  if (rough !== 0) return rough;
  const decimals = Math.max(decimalsOf(first), decimalsOf(second));
  const difference = scaled(first, decimals) - scaled(second, decimals);
  return difference < 0n ? -1 : difference > 0n ? 1 : 0;
}

/** True when both texts mean the same number. */
export function sameDecimal(first: DecimalText, second: DecimalText): boolean {
  return compareDecimals(first, second) === 0;
}
