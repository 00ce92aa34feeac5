import { combinedUncertainty, coverageFactor, effectiveDegreesOfFreedom } from './coverage.ts';
import type { Contribution } from './coverage.ts';
import type { ComponentName } from './component.ts';
import { isGraduated } from './points-proposed.ts';
import type { BudgetLine, DifferenceResult, PointResult } from './result.ts';
import type { Task } from './task.ts';
import { judge } from './verdict.ts';

/** Lines that are independent from point to point and count whole on both sides. */
const INDEPENDENT: ReadonlySet<string> = new Set<ComponentName>([
  'repeatability',
  'balance-resolution',
  'balance-linearity',
]);

/** The common part of setting the meniscus is the same at both points and cancels. */
const CANCELS: ReadonlySet<string> = new Set<ComponentName>(['meniscus']);

/** A point with everything its difference to another needs. */
interface Measured {
  meanMl: number;
  biasMl: number;
  toleranceMl: number | null;
  predicted: boolean;
  budget: readonly BudgetLine[];
}

function measured(point: PointResult): Measured[] {
  const { meanMl, biasMl, toleranceMl, budget } = point;
  if (meanMl === null || biasMl === null) return [];
  return [{ meanMl, biasMl, toleranceMl, predicted: point.repeatability?.kind === 'predicted', budget }];
}

/**
 * Contributions to the uncertainty of the difference of the errors of two points: what is independent on both sides,
 * and of what both share, relative to the volume, only the part in which the volumes differ.
 * @source jcgm-100-2008, 5.2.2, for inputs common to two results
 */
function contributions(first: Measured, second: Measured): Contribution[] {
  const [larger, smaller] = first.meanMl >= second.meanMl ? [first, second] : [second, first];
  const share = (larger.meanMl - smaller.meanMl) / larger.meanMl;
  const independent = (line: BudgetLine) => INDEPENDENT.has(line.component);
  return [
    ...larger.budget.filter(independent),
    ...smaller.budget.filter(independent),
    ...larger.budget
      .filter((line) => !independent(line) && !CANCELS.has(line.component))
      .map((line) => ({
        contributionMl: share * line.contributionMl,
        degreesOfFreedom: line.degreesOfFreedom,
      })),
  ];
}

/**
 * Largest minus smallest error of any two points of graduated ware, judged against the same tolerance under the same
 * rule; null for other ware and below two measured points.
 * @source iso-4788-2005, the limit holds for the difference of the errors of any two points
 */
export function evaluateDifference(task: Task, points: readonly PointResult[]): DifferenceResult | null {
  if (!isGraduated(task.setup.record.vessel.kind)) return null;
  const all = points.flatMap(measured);
  const [start] = all;
  if (start === undefined || all.length < 2) return null;
  let [highest, lowest] = [start, start];
  for (const point of all) {
    if (point.biasMl > highest.biasMl) highest = point;
    if (point.biasMl < lowest.biasMl) lowest = point;
  }
  const other = highest === lowest ? (all[1] ?? start) : lowest;
  const valueMl = highest.biasMl - other.biasMl;
  const parts = contributions(highest, other);
  const k = coverageFactor(Number(task.coverageProbability), effectiveDegreesOfFreedom(parts));
  const expandedUncertaintyMl = k * combinedUncertainty(parts);
  const { toleranceMl } = highest;
  const stated = toleranceMl !== null && task.setup.basis === task.setup.record.vessel.basis;
  const undecided = highest.predicted || other.predicted;
  const verdict = stated
    ? judge({ biasMl: valueMl, toleranceMl, expandedUncertaintyMl, rule: task.rule, undecided })
    : 'none-stated';
  return { valueMl, expandedUncertaintyMl, verdict };
}
