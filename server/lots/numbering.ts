/** Tags of a delivery that is numbered: a text with one run of `#`, which stands for the number. */

export type Numbered = { ok: true; tags: string[] } | { ok: false; field: 'pattern' | 'first'; detail: string };

/**
 * Tags from a pattern: `F100-###` from 7 on gives F100-007, F100-008 …
 * @param first number of the first vessel, 0 or more
 * @param count how many tags, 1 or more
 */
export const numberedTags = (pattern: string, first: number, count: number): Numbered => {
  const runs = pattern.match(/#+/g) ?? [];
  const [run] = runs;
  if (run === undefined)
    return { ok: false, field: 'pattern', detail: 'Put # where the number goes, as in F100-###; one # a digit.' };
  if (runs.length > 1)
    return { ok: false, field: 'pattern', detail: 'The signs # stand together in one place of the pattern.' };
  const last = first + count - 1;
  if (String(last).length > run.length) {
    const most = '9'.repeat(run.length);
    return { ok: false, field: 'first', detail: `${run} holds numbers to ${most}; the last one would be ${last}.` };
  }
  const tags = Array.from({ length: count }, (_, index) =>
    pattern.replace(run, String(first + index).padStart(run.length, '0')),
  );
  return { ok: true, tags };
};
