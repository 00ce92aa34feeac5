/**
 * RFC 8785 (JSON Canonicalization Scheme) text of the values a journal entry may hold: strings, safe integers,
 * true, false, null, and lists and objects of them. Restricted so, no number formatting rule is ever needed.
 */
export type JournalValue =
  string | number | boolean | null | readonly JournalValue[] | { readonly [key: string]: JournalValue };

export class NotCanonical extends Error {}

const text = (value: string): string => {
  if (!value.isWellFormed()) throw new NotCanonical('A text with half a surrogate pair has no UTF-8 form.');
  return JSON.stringify(value);
};

/** RFC 8785 §3.2.3: keys sorted by their UTF-16 code units, which is how JavaScript compares strings. */
const byCodeUnits = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

export const canonical = (value: JournalValue): string => {
  if (value === null || typeof value === 'boolean') return String(value);
  if (typeof value === 'string') return text(value);
  if (typeof value === 'number') {
    if (!Number.isSafeInteger(value)) throw new NotCanonical(`${value} is not a safe integer; send it as text.`);
    return String(value === 0 ? 0 : value);
  }
  if (isList(value)) return `[${value.map(canonical).join(',')}]`;
  const members = Object.keys(value)
    .sort(byCodeUnits)
    .map((key) => `${text(key)}:${canonical(value[key] ?? null)}`);
  return `{${members.join(',')}}`;
};

/** Whether JSON.stringify, which knows no order of members, writes this parsed value as `canonical` does. */
const isInOrder = (value: JournalValue): boolean => {
  if (value === null || typeof value === 'boolean') return true;
  if (typeof value === 'string') return value.isWellFormed();
  if (typeof value === 'number') return Number.isSafeInteger(value);
  if (isList(value)) return value.every(isInOrder);
  let before: string | null = null;
  for (const key of Object.keys(value)) {
    if (!key.isWellFormed() || (before !== null && key < before) || !isInOrder(value[key] ?? null)) return false;
    before = key;
  }
  return true;
};

/**
 * The value of a text, where the text is the canonical one. The quick comparison decides nearly all texts; what it does
 * not take is written anew.
 * @returns undefined for any other text
 * @throws SyntaxError, NotCanonical
 */
export const readCanonical = (written: string): JournalValue | undefined => {
  if (written === 'null') return null;
  const value = JSON.parse(written) as JournalValue;
  if (isInOrder(value) && JSON.stringify(value) === written) return value;
  return canonical(value) === written ? value : undefined;
};

const isList = (
  value: readonly JournalValue[] | { readonly [key: string]: JournalValue },
): value is readonly JournalValue[] => Array.isArray(value);

/**
 * RFC 8785 text of any JSON value, computed numbers included: its number format (§3.2.2.3) is that of ECMAScript, which
 * is what JSON.stringify writes. Members that are undefined are left out, as JSON does.
 * @throws NotCanonical for a number that is not finite
 */
export const canonicalJson = (value: unknown): string => {
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw new NotCanonical(`${value} is no JSON number.`);
    return JSON.stringify(value);
  }
  if (typeof value === 'string') return text(value);
  if (value === undefined) return 'null';
  if (value === null || typeof value !== 'object') return JSON.stringify(value);
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  const members = Object.entries(value)
    .filter(([, member]) => member !== undefined)
    .sort(([a], [b]) => byCodeUnits(a, b))
    .map(([key, member]) => `${text(key)}:${canonicalJson(member)}`);
  return `{${members.join(',')}}`;
};
