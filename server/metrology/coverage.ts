import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import tCdf from '@stdlib/stats-base-dists-t-cdf';
import tQuantile from '@stdlib/stats-base-dists-t-quantile';

/** Above this the t distribution is the normal one to every digit that counts. */
const INFINITE = 1e7;

/** Something with a standard uncertainty and degrees of freedom (null = infinite). */
export interface Contribution {
  contributionMl: number;
  degreesOfFreedom: number | null;
}

/**
 * Combined standard uncertainty in mL: the root of the sum of squares of independent contributions.
 * @source jcgm-100-2008, 5.1.2
 */
export function combinedUncertainty(contributions: readonly Contribution[]): number {
  let sum = 0;
  for (const { contributionMl } of contributions) sum += contributionMl * contributionMl;
  return Math.sqrt(sum);
}

/**
 * Effective degrees of freedom, fractional: u_c⁴/Σ(u_i⁴/ν_i); null when infinite or above 10⁷.
 * @source jcgm-100-2008, G.4.1
 */
export function effectiveDegreesOfFreedom(contributions: readonly Contribution[]): number | null {
  let weighted = 0;
  let variance = 0;
  for (const { contributionMl, degreesOfFreedom } of contributions) {
    const square = contributionMl * contributionMl;
    variance += square;
    if (degreesOfFreedom !== null) weighted += (square * square) / degreesOfFreedom;
  }
  if (weighted === 0) return null;
  const degrees = (variance * variance) / weighted;
  return degrees > INFINITE ? null : degrees;
}

/**
 * Coverage factor k: two-sided quantile of Student's t at fractional degrees of freedom, of the normal distribution
 * when they are infinite.
 * @param probability coverage probability, above 0 and below 1
 * @source jcgm-100-2008, G.3.2 and table G.2
 */
export function coverageFactor(probability: number, degreesOfFreedom: number | null): number {
  const upper = (1 + probability) / 2;
  return degreesOfFreedom === null || degreesOfFreedom > INFINITE
    ? normalQuantile(upper, 0, 1)
    : tQuantile(upper, degreesOfFreedom);
}

function cumulative(x: number, degreesOfFreedom: number | null): number {
  return degreesOfFreedom === null || degreesOfFreedom > INFINITE ? normalCdf(x, 0, 1) : tCdf(x, degreesOfFreedom);
}

/**
 * Probability that the true error lies within ±T, for a result b with standard uncertainty u: t distribution with the
 * effective degrees of freedom, scale u, uniform prior.
 * @source jcgm-106-2012, 7.2 and 7.3
 */
export function probabilityOfConformity(
  biasMl: number,
  toleranceMl: number,
  standardUncertaintyMl: number,
  degreesOfFreedom: number | null,
): number {
  if (standardUncertaintyMl === 0) return Math.abs(biasMl) <= toleranceMl ? 1 : 0;
  const above = (toleranceMl - biasMl) / standardUncertaintyMl;
  const below = (-toleranceMl - biasMl) / standardUncertaintyMl;
  return cumulative(above, degreesOfFreedom) - cumulative(below, degreesOfFreedom);
}
