import { evaluateDifference } from './difference.ts';
import { finding } from './findings.ts';
import { calibrationFindings, markBeyondPlan } from './point-findings.ts';
import { evaluatePoint } from './point.ts';
import { groupByPoint } from './points.ts';
import type { CalibrationRecord } from './record.ts';
import type { CalibrationResult, Finding } from './result.ts';
import { prepareTask } from './task.ts';
import { rowOf, unusualMark } from './tolerance.ts';
import type { ToleranceMatch, ToleranceRow } from './tolerance.ts';
import { computeTrial } from './trial.ts';
import { vesselVerdict } from './verdict.ts';
import { VERSIONS } from './versions.ts';

function markFindings(record: CalibrationRecord, match: ToleranceMatch): Finding[] {
  const question = unusualMark(record.vessel, rowOf(match), record.vessel.nominalVolumeMl);
  return question === null ? [] : [finding('tolerance-unusual', question)];
}

/**
 * Everything a record says: each trial, each test point with its budget, the vessel. The one computation behind page,
 * certificate, data file and evaluate request; it reads no clock and no file.
 * @param rows of the tolerance tables, at least those of the vessel's standard and of ISO 1042
 * @throws OutsideValidity where a reading lies outside the ranges of the water or air formula
 * @throws TypeError where a quantity is not decimal text
 */
export function evaluate(record: CalibrationRecord, rows: readonly ToleranceRow[]): CalibrationResult {
  const task = prepareTask(record, rows);
  const { setup, match } = task;
  const trials = record.trials.map((trial, index) => computeTrial(setup, trial, trial.number ?? index + 1));
  const groups = groupByPoint(record, trials);
  const planned = record.plannedTrials ?? null;
  for (const group of groups) markBeyondPlan(group.counted, planned);
  const points = groups.map((group) => evaluatePoint(task, group));
  const difference = evaluateDifference(task, points);
  const verdicts = points.map((point) => point.verdict);
  return {
    basis: setup.basis,
    decisionRule: task.rule,
    points,
    trials,
    difference,
    verdict: vesselVerdict(difference === null ? verdicts : [...verdicts, difference.verdict]),
    final: planned === null || groups.every((group) => group.counted.length >= planned),
    findings: [...calibrationFindings(record), ...markFindings(record, match)],
    versions: VERSIONS,
  };
}
