import { compareDecimals, numberOf } from './decimal.ts';
import type { CalibrationRecord, DecimalText } from './record.ts';
import type { TrialResult } from './result.ts';

/** The trials of one test point: all recorded, and those that count. */
export interface PointTrials {
  pointMl: DecimalText;
  recorded: TrialResult[];
  counted: TrialResult[];
}

function pointTexts(record: CalibrationRecord): DecimalText[] {
  const texts: DecimalText[] = [];
  for (const text of [...(record.points ?? []), ...record.trials.map((trial) => trial.pointMl)]) {
    if (!texts.some((known) => known === text || compareDecimals(known, text) === 0)) texts.push(text);
  }
  return texts;
}

/** Trials by test point, in the order of the points; `100` and `100.0` are one point. */
export function groupByPoint(record: CalibrationRecord, trials: readonly TrialResult[]): PointTrials[] {
  const groups = pointTexts(record).map((pointMl): PointTrials => ({ pointMl, recorded: [], counted: [] }));
  const byNumber = new Map(groups.map((group) => [numberOf(group.pointMl), group]));
  for (const trial of trials) {
    const group = byNumber.get(numberOf(trial.pointMl));
    group?.recorded.push(trial);
    if (trial.exclusion == null) group?.counted.push(trial);
  }
  return groups;
}
