import fQuantile from '@stdlib/stats-base-dists-f-quantile';
import type { Component } from './component.ts';
import { normal } from './component.ts';
import { numberOrNull } from './decimal.ts';
import { finding } from './findings.ts';
import type { RepeatabilityChoice, VesselFacts } from './record.ts';
import type { Finding } from './result.ts';
import { settingSpreadMl } from './meniscus.ts';
import type { ReadingMark } from './reading-mark.ts';
import { DEFAULTS } from './uncertainty-defaults.ts';

/** Spread of one trial with the degrees of freedom it is known to. */
export interface Repeatability {
  kind: 'own' | 'pooled' | 'predicted';
  sdMl: number;
  degreesOfFreedom: number;
}

/** Fewest degrees of freedom a pooled spread must have. */
export const FEWEST_POOLED = 10;
const F_PROBABILITY = 0.99;

/**
 * Spread of single trials in mL before any was made: √(2·r² + h² + e²), r the balance's repeatability as volume, h the
 * spread of setting the meniscus, e the vessel's expected spread where typed; 8 degrees of freedom.
 * @param balanceMl repeatability of one weighing as volume, mL
 * @source jcgm-100-2008, 5.1.2 and table G.2 for a spread known to a quarter
 */
export function predictedRepeatability(
  balanceMl: number,
  mark: ReadingMark,
  toleranceMl: number | null,
  vessel: Pick<VesselFacts, 'expectedSpreadMl'>,
): Repeatability {
  const setting = settingSpreadMl(mark, toleranceMl);
  const expected = numberOrNull(vessel.expectedSpreadMl) ?? 0;
  return {
    kind: 'predicted',
    sdMl: Math.sqrt(2 * balanceMl ** 2 + setting ** 2 + expected ** 2),
    degreesOfFreedom: DEFAULTS.predictedDegreesOfFreedom.value,
  };
}

/** The pooled spread as chosen, null where it was not chosen or rests on too little; says so. */
export function pooledChoice(
  choice: RepeatabilityChoice | null | undefined,
  findings: Finding[],
): Repeatability | null {
  if (choice == null || choice.use === 'own') return null;
  const sdMl = numberOrNull(choice.sdMl);
  const degreesOfFreedom = choice.degreesOfFreedom ?? 0;
  if (sdMl === null || degreesOfFreedom < FEWEST_POOLED) {
    const detail = `A pooled spread needs at least ${FEWEST_POOLED} degrees of freedom; there are ${degreesOfFreedom}.`;
    findings.push(finding('pooled-too-few', detail));
    return null;
  }
  return { kind: 'pooled', sdMl, degreesOfFreedom };
}

/**
 * True when n trials spread so much more than the pooled spread that it no longer holds for them:
 * s²/s_p² above the 99 % quantile of F(n − 1, ν).
 * @source jcgm-100-2008, H.5.2.2, F test of two variances
 */
export function spreadsTooMuch(sdMl: number, n: number, pooled: Repeatability): boolean {
  if (pooled.sdMl === 0) return sdMl > 0;
  const ratio = (sdMl / pooled.sdMl) ** 2;
  return ratio > fQuantile(F_PROBABILITY, n - 1, pooled.degreesOfFreedom);
}

/** The spread that counts for n trials with their own standard deviation (null for one trial). */
export function chooseRepeatability(
  n: number,
  sdMl: number | null,
  pooled: Repeatability | null,
  predicted: () => Repeatability,
  findings: Finding[],
): Repeatability {
  if (sdMl === null) {
    if (pooled !== null) return pooled;
    const foreseen = predicted();
    const detail = `One trial shows no spread; ${foreseen.sdMl.toPrecision(2)} mL was predicted from balance and mark.`;
    findings.push(finding('predicted-spread', detail));
    return foreseen;
  }
  const own: Repeatability = { kind: 'own', sdMl, degreesOfFreedom: n - 1 };
  if (pooled === null) return own;
  if (!spreadsTooMuch(sdMl, n, pooled)) return pooled;
  const detail = `These trials spread ${sdMl.toPrecision(2)} mL, too much for the pooled ${pooled.sdMl.toPrecision(2)} mL.`;
  findings.push(finding('own-spread-used', detail));
  return own;
}

/**
 * Repeatability of the mean of n trials as a component: s/√n.
 * @source jcgm-100-2008, 4.2.3
 */
export function repeatabilityComponent(repeatability: Repeatability, n: number): Component {
  const { kind, sdMl, degreesOfFreedom } = repeatability;
  const words = { own: 'spread of the trials', pooled: 'pooled spread', predicted: 'predicted spread' };
  return {
    component: 'repeatability',
    value: null,
    unit: 'mL',
    parts: [normal(sdMl / Math.sqrt(n))],
    sensitivity: 1,
    degreesOfFreedom: sdMl === 0 ? null : degreesOfFreedom,
    source: words[kind],
    assumed: kind === 'predicted',
  };
}
