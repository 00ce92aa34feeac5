/** Trials of a class whose mean and spreads are known, to hold estimates against. */
import type { RandomStream } from '../../../server/metrology/random-stream.ts';

interface KnownSpreads {
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
 * Model: ISO 5725-2, one factor.
 */
export function simulatedTrials(stream: RandomStream, meanMl: number, facts: KnownSpreads): number[][] {
  return facts.trialsPerGroup.map((count) => {
    const own = meanMl + facts.betweenSdMl * stream.normal();
    return Array.from({ length: count }, () => own + facts.repeatabilitySdMl * stream.normal());
  });
}
