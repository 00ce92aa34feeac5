import { RandomStream } from '../random-stream.ts';
import type { ClassRow } from './data.ts';

/** A kind of ware as a made-up class handles it: how far off, and how much it spreads. */
export interface MadeUpRow extends Omit<ClassRow, 'groups'> {
  biasMl: number;
  /** s_r, spread within a group. */
  repeatabilitySdMl: number;
  /** s_L, spread of the groups' own means. */
  betweenSdMl: number;
  /** Trials of each group; 0 for a group that has not weighed. */
  trialsPerGroup: readonly number[];
}

/**
 * Trials of a class with known mean and spreads: V = mean + L + e, with L normal of s_L for a group and e normal of
 * s_r for a trial. The same stream at the same place gives the same trials.
 * @returns trials of each group, mL
 * @source iso-5725-2-2019, basic model with one factor
 */
export function madeUpTrials(
  stream: RandomStream,
  meanMl: number,
  facts: Pick<MadeUpRow, 'repeatabilitySdMl' | 'betweenSdMl' | 'trialsPerGroup'>,
): number[][] {
  return facts.trialsPerGroup.map((count) => {
    const own = meanMl + facts.betweenSdMl * stream.normal();
    return Array.from({ length: count }, () => own + facts.repeatabilitySdMl * stream.normal());
  });
}

/**
 * A made-up class for rehearsals: every row with its trials, the same for the same seed. Groups are named `1`, `2` …
 * @param seed a 32-bit integer
 * @source iso-5725-2-2019, basic model with one factor
 */
export function madeUpClass(rows: readonly MadeUpRow[], seed: number): ClassRow[] {
  const stream = new RandomStream(seed);
  return rows.map(({ biasMl, repeatabilitySdMl, betweenSdMl, trialsPerGroup, ...row }) => {
    const facts = { repeatabilitySdMl, betweenSdMl, trialsPerGroup };
    const trials = madeUpTrials(stream, row.nominalMl + biasMl, facts);
    return { ...row, groups: trials.map((trialsMl, index) => ({ key: `${index + 1}`, trialsMl })) };
  });
}
