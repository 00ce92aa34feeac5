import type { DecimalText } from './record.ts';

/** Longer text than this is no reading of any instrument. */
export const MAX_DECIMAL_LENGTH = 40;

const PLUS = 43;
const MINUS = 45;
const POINT = 46;
const ZERO = 48;
const NINE = 57;

/** Up to so many digits the integer of a text is exact, and so is the division by a power of ten. */
const EXACT_DIGITS = 15;
const POWERS = Array.from({ length: EXACT_DIGITS + 1 }, (_, power) => 10 ** power);

/** The double nearest to a decimal text in one pass; NaN for any other text. */
function scan(text: string): number {
  if (text.length > MAX_DECIMAL_LENGTH) return Number.NaN;
  const sign = text.charCodeAt(0);
  let integer = 0;
  let digits = 0;
  let decimals = -1;
  for (let at = sign === PLUS || sign === MINUS ? 1 : 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    if (code >= ZERO && code <= NINE) {
      integer = integer * 10 + (code - ZERO);
      digits += 1;
      if (decimals >= 0) decimals += 1;
    } else if (code === POINT && decimals < 0) {
      decimals = 0;
    } else {
      return Number.NaN;
    }
  }
  if (digits === 0) return Number.NaN;
  if (digits > EXACT_DIGITS) return Number(text);
  const size = decimals > 0 ? integer / (POWERS[decimals] as number) : integer;
  return sign === MINUS ? -size : size;
}

/** Optional sign, digits, at most one point; no exponent, no grouping, no spaces. */
export function isDecimalText(text: string): boolean {
  return !Number.isNaN(scan(text));
}

/**
 * The double nearest to a decimal text.
 * @throws TypeError when the text is not decimal: callers check what people typed before they compute.
 */
export function numberOf(text: DecimalText): number {
  const value = scan(text);
  if (Number.isNaN(value)) throw new TypeError(`not a decimal number: ${JSON.stringify(text)}`);
  return value;
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

const STEPS = Array.from({ length: MAX_DECIMAL_LENGTH + 1 }, (_, decimals) => Number(`1e-${decimals}`));

/** One step of the last digit shown: 0.0001 for `160.8371`. */
export function stepOf(text: DecimalText): number {
  return STEPS[decimalsOf(text)] ?? 0;
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

/**
 * The double nearest to the exact difference; the same number as `subtractDecimals`, without building its text.
 * The numbers of both texts may be handed in where they are known already.
 */
export function differenceOf(
  minuend: DecimalText,
  subtrahend: DecimalText,
  minuendNumber = numberOf(minuend),
  subtrahendNumber = numberOf(subtrahend),
): number {
  const decimals = Math.max(decimalsOf(minuend), decimalsOf(subtrahend));
  if (decimals < POWERS.length) {
    const scale = POWERS[decimals] as number;
    const first = minuendNumber * scale;
    const second = subtrahendNumber * scale;
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
