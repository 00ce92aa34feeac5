import { judge } from './verdict.ts';
import type { DecisionRule } from './record.ts';
import type { TrialResult } from './result.ts';
import { NO_CLASS, rowToleranceMl, sameStandardRows } from './tolerance.ts';
import type { MarkedVessel, ToleranceRow } from './tolerance.ts';
import { waitKept } from './trial-findings.ts';

export interface ClassQuestion {
  rows: readonly ToleranceRow[];
  vessel: MarkedVessel;
  /** Row of the standard and class the vessel is marked with. */
  row: ToleranceRow;
  pointMl: number;
  biasMl: number;
  expandedUncertaintyMl: number | null;
  rule: DecisionRule;
  undecided: boolean;
  counted: readonly TrialResult[];
}

/** Classes that ask for a waiting time are met only by a vessel marked so whose every trial kept it. */
function mayMeet(question: ClassQuestion, row: ToleranceRow): boolean {
  const required = row.waitTimeS ?? 0;
  if (required === 0) return true;
  return row.class === question.row.class && question.counted.every((trial) => waitKept(required, trial.waitingTimeS));
}

/**
 * Tightest class of the same standard whose limit the vessel keeps under the same rule; null for none, and for
 * standards without classes. Of classes with equal limits the marked one is named. No class is worked out from another.
 * @source iso-384-2015, classes of the standard of the vessel
 */
export function classMet(question: ClassQuestion): string | null {
  const { vessel, row, pointMl } = question;
  if (row.class === NO_CLASS) return null;
  const candidates = sameStandardRows(question.rows, vessel, row, pointMl).filter((one) => mayMeet(question, one));
  const passed = candidates.find((one) => passes(question, one));
  if (passed === undefined) return null;
  const limit = rowToleranceMl(vessel, passed, pointMl);
  const equal = candidates.find((one) => one.class === row.class && rowToleranceMl(vessel, one, pointMl) === limit);
  return (equal ?? passed).class;
}

function passes(question: ClassQuestion, row: ToleranceRow): boolean {
  const toleranceMl = rowToleranceMl(question.vessel, row, question.pointMl);
  if (toleranceMl === null) return false;
  const { biasMl, expandedUncertaintyMl, rule, undecided } = question;
  return judge({ biasMl, toleranceMl, expandedUncertaintyMl, rule, undecided }) === 'pass';
}
