import type { DecisionRule } from './record.ts';
import type { BudgetLine, PointResult, RandomError } from './result.ts';
import { combineLines } from './uncertainty.ts';
import { jointVerdict } from './random-error.ts';
import { judge } from './verdict.ts';

/** What one more trial would bring, and whether going on could change the verdict. */
export interface OneMore {
  /** Trials after one more. */
  trials: number;
  expandedUncertaintyMl: number;
  /** U of the mean at the planned number of trials. */
  plannedTrials: number;
  plannedUncertaintyMl: number;
  verdictCouldChange: boolean;
}

type Measured = PointResult & { biasMl: number; repeatability: NonNullable<PointResult['repeatability']> };

function expandedAt(point: Measured, trials: number): number {
  const { kind, sdMl, degreesOfFreedom } = point.repeatability;
  const contributionMl = sdMl / Math.sqrt(trials);
  const lines = point.budget.map((line): BudgetLine =>
    line.component === 'repeatability'
      ? {
          ...line,
          standardUncertainty: contributionMl,
          contributionMl,
          degreesOfFreedom: sdMl === 0 ? null : kind === 'pooled' ? degreesOfFreedom : trials - 1,
        }
      : line,
  );
  return combineLines(lines, Number(point.coverageProbability)).expandedMl;
}

/**
 * Whether s may come to lie on either side of the random limit: s of ν degrees of freedom is known to about 1/√(2ν).
 */
function randomVerdicts(point: Measured): RandomError['verdict'][] {
  const { randomError, sdMl, n } = point;
  if (randomError == null) return [];
  if (sdMl === null) return ['pass', 'fail'];
  const reach = (2 * sdMl) / Math.sqrt(2 * (n - 1));
  const open = Math.abs(sdMl - randomError.limitMl) <= reach;
  return open ? ['pass', 'fail'] : [randomError.verdict];
}

/**
 * U after one more trial with the same spread, and whether the verdict at the planned number could differ from now for
 * a bias within b ± 2·s/√n. Null for a point without trials.
 * @source jcgm-100-2008, 4.2.3 and G.4.1
 */
export function oneMore(point: PointResult, rule: DecisionRule, plannedTrials: number | null): OneMore | null {
  const { biasMl, repeatability, toleranceMl, verdict } = point;
  if (biasMl === null || repeatability === null) return null;
  const measured: Measured = { ...point, biasMl, repeatability };
  const trials = point.n + 1;
  const planned = Math.max(plannedTrials ?? trials, trials);
  const plannedUncertaintyMl = expandedAt(measured, planned);
  const reach = (2 * repeatability.sdMl) / Math.sqrt(point.n);
  const error = Math.abs(biasMl);
  const candidates = [Math.max(0, error - reach), error, error + reach];
  const verdictCouldChange =
    toleranceMl !== null &&
    verdict !== 'none-stated' &&
    candidates.some((bias) => {
      const later = { biasMl: bias, toleranceMl, expandedUncertaintyMl: plannedUncertaintyMl, rule, undecided: false };
      const systematic = judge(later);
      const random = randomVerdicts(measured);
      return random.length === 0
        ? systematic !== verdict
        : random.some((one) => jointVerdict(systematic, one) !== verdict);
    });
  return {
    trials,
    expandedUncertaintyMl: expandedAt(measured, trials),
    plannedTrials: planned,
    plannedUncertaintyMl,
    verdictCouldChange,
  };
}
