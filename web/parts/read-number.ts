/**
 * What somebody typed, or a balance sent, as decimal text with a point: every digit kept, nothing guessed. An unclear
 * number is a question, never an interpretation.
 */
import { text } from '../messages/en.ts';

export type NumberRead =
  /** `converted` says in words what was converted from another unit, null where nothing was. */
  { ok: true; value: string; converted: string | null } | { ok: false; problem: string };

const LONGEST = 32;

/** Marks a balance puts before a reading: stable, gross, net. Anything else in front of a number is refused. */
const SETTLED = new Set(['ST', 'S', 'GS', 'G', 'NT', 'N']);
const UNSETTLED = new Set(['US', 'SD', 'D', 'UN', '?', '*']);
const ERRORS = new Set(['OL', 'UL', 'EL', 'ER', 'ERR', 'ERROR', 'I', 'H', 'L']);

const REFUSED_UNITS = new Set([
  'ct',
  'lb',
  'lbs',
  'oz',
  'ozt',
  'oz t',
  'gn',
  'gr',
  'dwt',
  'n',
  'tl',
  'mom',
  '°f',
  'f',
  'k',
]);

/** Places the decimal mark moves to come from this unit to g; only such units keep the digits shown. */
const SHIFT_TO_G: Record<string, number> = { mg: -3, kg: 3 };

const SENT =
  /^(?<head>[A-Za-z?*][A-Za-z?*,;:\s]*)?(?<number>[+-]?[\s\d.,'’]*\d[.,]?)\s*(?<unit>(?:[A-Za-zµ°%]+(?: t)?)?)\s*(?<tail>[?*]?)$/;

/** @param unit of the field; `g` fields also take mg and kg, visibly converted */
export function readNumber(typed: string, unit = ''): NumberRead {
  const plain = toAscii(typed);
  if (plain === '') return refuse(text.number.empty);
  if (/^[+-]?[\d.,\s'’]+$/.test(plain)) return digitsOf(plain, typed);
  if (/^[+-]?[\d.,]*\d[eE][+-]?\d+$/.test(plain)) return refuse(text.number.exponent(typed.trim()));
  const words = plain.toUpperCase().split(/[\s,;:]+/);
  const sent = SENT.exec(plain)?.groups;
  if (!sent) return refuse(ERRORS.has(words[0] ?? '') ? text.number.overload : text.number.letters(typed.trim()));
  const head = (sent.head ?? '')
    .toUpperCase()
    .split(/[\s,;:]+/)
    .filter(Boolean);
  if (sent.tail || head.some((word) => UNSETTLED.has(word))) return refuse(text.number.unstable);
  if (head.some((word) => ERRORS.has(word))) return refuse(text.number.overload);
  if (!head.every((word) => SETTLED.has(word))) return refuse(text.number.letters(typed.trim()));
  const digits = digitsOf((sent.number ?? '').replace(/^([+-])\s+/, '$1'), typed);
  return digits.ok ? inUnit(digits.value, sent.unit ?? '', unit, typed) : digits;
}

const refuse = (problem: string): NumberRead => ({ ok: false, problem });

/** Digits of other scripts, full-width forms, minus signs and spaces in their plain form. */
function toAscii(typed: string): string {
  return typed
    .normalize('NFKC')
    .replace(/[\u0660-\u0669]/g, (digit) => String(digit.charCodeAt(0) - 0x0660))
    .replace(/[\u06f0-\u06f9]/g, (digit) => String(digit.charCodeAt(0) - 0x06f0))
    .replace(/\u066b/g, '.')
    .replace(/[\u2212\u2010-\u2015\ufe63]/g, '-')
    .replace(/[\u200b\u200e\u200f\u2060\ufeff]/g, '')
    .replace(/\u03bc/g, 'µ')
    .trim();
}

function digitsOf(plain: string, typed: string): NumberRead {
  const shown = typed.trim();
  const points = plain.split('.').length - 1;
  const commas = plain.split(',').length - 1;
  if (points > 0 && commas > 0) return refuse(text.number.bothMarks(shown));
  if (points > 1 || commas > 1) return refuse(text.number.twoMarks(shown));
  if (/\d[\s'’]+[\d.,]|[.,][\s'’]+\d/.test(plain)) return refuse(text.number.grouped(shown));
  const match = /^(?<sign>[+-]?)\s*(?<whole>\d*)(?:[.,](?<fraction>\d*))?$/.exec(plain)?.groups;
  if (!match || `${match.whole ?? ''}${match.fraction ?? ''}` === '') return refuse(text.number.letters(shown));
  const value = join(match.sign ?? '', match.whole ?? '', match.fraction ?? '');
  return value.length > LONGEST ? refuse(text.number.tooLong) : { ok: true, value, converted: null };
}

/** One zero at most in front, no plus, no lone point; digits after the mark stay, zeros included. */
const join = (sign: string, whole: string, fraction: string): string =>
  `${sign === '-' ? '-' : ''}${whole.replace(/^0+(?=\d)/, '') || '0'}${fraction === '' ? '' : `.${fraction}`}`;

function inUnit(value: string, sentUnit: string, wanted: string, typed: string): NumberRead {
  const unit = sentUnit === 'C' ? '°c' : sentUnit.toLowerCase();
  if (unit === '' || unit === wanted.toLowerCase()) return { ok: true, value, converted: null };
  const places = SHIFT_TO_G[unit];
  if (wanted === 'g' && places !== undefined) {
    const shifted = shiftMark(value, places);
    if (shifted === null) return refuse(text.number.unitRefused(sentUnit, wanted));
    return { ok: true, value: shifted, converted: text.number.converted(value, sentUnit) };
  }
  if (wanted === 'g' && REFUSED_UNITS.has(unit)) return refuse(text.number.unitRefused(sentUnit, wanted));
  if (
    REFUSED_UNITS.has(unit) ||
    places !== undefined ||
    /^(ml|l|g|hpa|kpa|pa|mbar|bar|mmhg|%|mm|cm|s|min|h|µl)$/.test(unit)
  )
    return refuse(wanted === '' ? text.number.letters(typed.trim()) : text.number.unitWrong(sentUnit, wanted));
  return refuse(text.number.letters(typed.trim()));
}

/**
 * Moves the decimal mark, keeping exactly the digits shown: `49987.6`, −3 → `49.9876`. Null where a zero would have to be
 * made up at the end.
 */
export function shiftMark(value: string, places: number): string | null {
  const sign = value.startsWith('-') ? '-' : '';
  const [whole = '', fraction = ''] = value.replace('-', '').split('.');
  if (places > fraction.length) return null;
  const digits = whole.padStart(1 - places, '0') + fraction;
  const mark = whole.padStart(1 - places, '0').length + places;
  return join(sign, digits.slice(0, mark), digits.slice(mark));
}
