import { finding } from './findings.ts';
import { calibrationFindings, markBeyondPlan } from './point-findings.ts';
import { evaluatePoint } from './point.ts';
import type { Task } from './point.ts';
import { groupByPoint } from './points.ts';
import type { CalibrationRecord } from './record.ts';
import type { CalibrationResult, Finding } from './result.ts';
import { prepareSetup } from './setup.ts';
import { findTolerance, rowOf, unusualMark } from './tolerance.ts';
import type { ToleranceMatch, ToleranceRow } from './tolerance.ts';
import { computeTrial } from './trial.ts';
import { vesselVerdict } from './verdict.ts';
import { VERSIONS } from './versions.ts';

function markFindings(record: CalibrationRecord, match: ToleranceMatch): Finding[] {
  const question = unusualMark(record.vessel, rowOf(match), record.vessel.nominalVolumeMl);
  return question === null ? [] : [finding('tolerance-unusual', question)];
}

/**
 * Everything a record says: each trial, each test point, the vessel. The one computation behind page, certificate,
 * data file and evaluate request; it reads no clock and no file.
 * @param rows of the tolerance tables, at least those of the vessel's standard
 * @throws OutsideValidity where a reading lies outside the ranges of the water or air formula
 * @throws TypeError where a quantity is not decimal text
 */
export function evaluate(record: CalibrationRecord, rows: readonly ToleranceRow[]): CalibrationResult {
  const match = findTolerance(rows, record.vessel);
  const setup = prepareSetup(record, rowOf(match));
  const trials = record.trials.map((trial, index) => computeTrial(setup, trial, trial.number ?? index + 1));
  const task: Task = {
    setup,
    match,
    rows,
    rule: record.decisionRule ?? 'guarded',
    coverageProbability: record.coverageProbability ?? '0.9545',
  };
  const groups = groupByPoint(record, trials);
  const planned = record.plannedTrials ?? null;
  for (const group of groups) markBeyondPlan(group.counted, planned);
  const points = groups.map((group) => evaluatePoint(task, group));
  return {
    basis: setup.basis,
    decisionRule: task.rule,
    points,
    trials,
    difference: null,
    verdict: vesselVerdict(points.map((point) => point.verdict)),
    final: planned === null || groups.every((group) => group.counted.length >= planned),
    findings: [...calibrationFindings(record), ...markFindings(record, match)],
    versions: VERSIONS,
  };
}
