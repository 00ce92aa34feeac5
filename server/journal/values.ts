import type { JournalValue } from './canonical.ts';

type Loose = string | number | boolean | null | undefined | readonly Loose[] | { readonly [key: string]: Loose };

/** Typed facts as a journal value: keys that were not given are left out. */
export const withoutGaps = (facts: object): JournalValue => strip(facts as { readonly [key: string]: Loose });

const strip = (value: Loose): JournalValue => {
  if (value === undefined || value === null) return null;
  if (typeof value !== 'object') return value;
  if (isList(value)) return value.map(strip);
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, member]) => member !== undefined)
      .map(([key, member]) => [key, strip(member)]),
  );
};

const isList = (value: readonly Loose[] | { readonly [key: string]: Loose }): value is readonly Loose[] =>
  Array.isArray(value);
