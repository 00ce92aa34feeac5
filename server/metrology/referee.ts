import { coverageFactor } from './coverage.ts';
import { MonteCarlo } from './monte-carlo.ts';
import type { DrawnResult } from './monte-carlo.ts';
import { refereePoint } from './referee-model.ts';
import type { RefereePoint } from './referee-model.ts';

export { refereePoint };
export type { RefereePoint };

export const REFEREE_OUTCOMES = ['confirmed', 'gum-wider', 'gum-narrower', 'too-few-readings'] as const;
export type RefereeOutcome = (typeof REFEREE_OUTCOMES)[number];

export interface RefereeResult {
  outcome: RefereeOutcome;
  /** Half a unit of the first significant digit of u_c, mL. */
  toleranceMl: number;
  /** Interval of the budget, mean ± k·u_c with infinite degrees of freedom. */
  gum: { low: number; high: number; standardUncertainty: number };
  /** Null where there are too few readings. */
  drawn: DrawnResult | null;
  /** Drawn minus budget at both ends, mL. */
  lowDifferenceMl: number | null;
  highDifferenceMl: number | null;
  /** Interval with t-distributed repeatability, from four trials on. */
  student: DrawnResult | null;
}

/**
 * Numerical tolerance for one significant digit of u: u = c·10^r with c from 1 to 9, tolerance 0.5·10^r.
 * @source jcgm-101-2008, 7.9.2
 */
export function numericalTolerance(standardUncertainty: number): number {
  let exponent = Math.floor(Math.log10(standardUncertainty));
  if (Math.round(standardUncertainty / 10 ** exponent) === 10) exponent += 1;
  return 0.5 * 10 ** exponent;
}

/** Which side differs: the budget is wider, or narrower where any end of the draws lies further out. */
function outcomeOf(lowDifference: number, highDifference: number, tolerance: number): RefereeOutcome {
  if (Math.abs(lowDifference) <= tolerance && Math.abs(highDifference) <= tolerance) return 'confirmed';
  return lowDifference < -tolerance || highDifference > tolerance ? 'gum-narrower' : 'gum-wider';
}

const LEAST_DRAWS = 200_000;
const MOST_DRAWS = 5_000_000;

/** The referee of one point, block by block, so that a worker can tell how far it is and stop. */
export class Referee {
  readonly #point: RefereePoint;
  readonly #seed: number;
  readonly #toleranceMl: number;
  readonly #judging: MonteCarlo | null;
  #student: MonteCarlo | null = null;

  /** @param draws a fixed number of draws in multiples of 10 000; null draws until the result is stable */
  constructor(point: RefereePoint, seed: number, draws: number | null = null) {
    this.#point = point;
    this.#seed = seed;
    this.#toleranceMl = numericalTolerance(point.combinedUncertaintyMl);
    const tooFew = point.n <= 3 && point.repeatability.kind !== 'pooled';
    this.#judging = tooFew
      ? null
      : new MonteCarlo(point.model, {
          seed,
          probability: point.probability,
          tolerance: draws === null ? this.#toleranceMl : null,
          leastDraws: LEAST_DRAWS,
          mostDraws: draws ?? MOST_DRAWS,
        });
  }

  get draws(): number {
    return (this.#judging?.draws ?? 0) + (this.#student?.draws ?? 0);
  }

  get finished(): boolean {
    if (this.#judging === null) return true;
    if (!this.#judging.finished) return false;
    return this.#point.studentModel === null || this.#student?.finished === true;
  }

  step(): void {
    const judging = this.#judging;
    if (judging === null) return;
    if (!judging.finished) {
      judging.step();
      return;
    }
    const { studentModel, probability } = this.#point;
    if (studentModel === null) return;
    this.#student ??= new MonteCarlo(studentModel, {
      seed: this.#seed + 1,
      probability,
      tolerance: null,
      leastDraws: judging.draws,
      mostDraws: judging.draws,
    });
    this.#student.step();
  }

  result(): RefereeResult {
    const { meanMl, combinedUncertaintyMl, probability } = this.#point;
    const half = coverageFactor(probability, null) * combinedUncertaintyMl;
    const gum = { low: meanMl - half, high: meanMl + half, standardUncertainty: combinedUncertaintyMl };
    const toleranceMl = this.#toleranceMl;
    if (this.#judging === null) {
      const none = { drawn: null, lowDifferenceMl: null, highDifferenceMl: null, student: null };
      return { outcome: 'too-few-readings', toleranceMl, gum, ...none };
    }
    const drawn = this.#judging.result();
    const lowDifferenceMl = drawn.low - gum.low;
    const highDifferenceMl = drawn.high - gum.high;
    return {
      outcome: outcomeOf(lowDifferenceMl, highDifferenceMl, toleranceMl),
      toleranceMl,
      gum,
      drawn,
      lowDifferenceMl,
      highDifferenceMl,
      student: this.#student?.result() ?? null,
    };
  }
}

/**
 * Compares the budget of a point with a Monte Carlo calculation of the whole model, from start to end.
 * @param draws a fixed number of draws in multiples of 10 000; null draws until the result is stable
 * @source jcgm-101-2008, 8, validation of the GUM framework
 */
export function refereeOf(point: RefereePoint, seed: number, draws: number | null = null): RefereeResult {
  const referee = new Referee(point, seed, draws);
  while (!referee.finished) referee.step();
  return referee.result();
}
