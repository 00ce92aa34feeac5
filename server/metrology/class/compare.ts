import tCdf from '@stdlib/stats-base-dists-t-cdf';
import { combinedUncertainty, coverageFactor, effectiveDegreesOfFreedom } from '../coverage.ts';
import { oneWay } from './one-way.ts';

export interface MeanDifference {
  /** Second mean − first mean. */
  differenceMl: number;
  standardUncertaintyMl: number;
  degreesOfFreedom: number;
  coverageProbability: number;
  coverageFactor: number;
  expandedUncertaintyMl: number;
  /** Difference ÷ its standard uncertainty; null where nothing spreads. */
  t: number | null;
  /** Probability of a difference at least as large when there is none; null where nothing spreads. */
  p: number | null;
  /** True when 0 lies outside the difference ± its expanded uncertainty. */
  seen: boolean;
}

/**
 * Difference of the means of two rows with its uncertainty, spreads unequal: u² = u₁² + u₂² with the uncertainties of
 * the two means (groups drawn at random), degrees of freedom by Welch. What both rows share, for example one balance or
 * one thermometer, cancels only as far as it is the same in both; it is not part of this u.
 * @param first trials of each group, mL
 * @param second trials of each group, mL; trials that stand alone are groups of one
 * @param coverageProbability above 0 and below 1
 * @returns null when a row has fewer than two groups
 * @source welch-1947, degrees of freedom of the difference of two means
 */
export function compareMeans(
  first: readonly (readonly number[])[],
  second: readonly (readonly number[])[],
  coverageProbability = 0.95,
): MeanDifference | null {
  if ([first, second].some((row) => row.filter((group) => group.length > 0).length < 2)) return null;
  const [one, other] = [oneWay(first), oneWay(second)];
  const parts = [one, other].map((row) => ({
    contributionMl: row.meanUncertaintyMl ?? 0,
    degreesOfFreedom: row.meanDegreesOfFreedom,
  }));
  const standardUncertaintyMl = combinedUncertainty(parts);
  const differenceMl = other.meanMl - one.meanMl;
  const least = Math.min(...parts.map((part) => part.degreesOfFreedom ?? 1));
  const degreesOfFreedom = effectiveDegreesOfFreedom(parts) ?? least;
  const k = coverageFactor(coverageProbability, degreesOfFreedom);
  const expandedUncertaintyMl = k * standardUncertaintyMl;
  const t = standardUncertaintyMl === 0 ? null : differenceMl / standardUncertaintyMl;
  return {
    differenceMl,
    standardUncertaintyMl,
    degreesOfFreedom,
    coverageProbability,
    coverageFactor: k,
    expandedUncertaintyMl,
    t,
    p: t === null ? null : 2 * tCdf(-Math.abs(t), degreesOfFreedom),
    seen: Math.abs(differenceMl) > expandedUncertaintyMl,
  };
}
