import { classMet } from './class-met.ts';
import { numberOf } from './decimal.ts';
import { finding } from './findings.ts';
import { driftFinding, overdueFindings, reusedFinding, waterRangeFinding } from './point-findings.ts';
import type { PointTrials } from './points.ts';
import type { CoverageProbability, DecisionRule } from './record.ts';
import type { Finding, PointResult, TrialResult, Verdict } from './result.ts';
import type { Setup } from './setup.ts';
import { summarise } from './statistics.ts';
import { rowName, toleranceMlAt } from './tolerance.ts';
import type { ToleranceMatch, ToleranceRow } from './tolerance.ts';
import { judge } from './verdict.ts';

/** What every point of a calibration is judged with. */
export interface Task {
  setup: Setup;
  match: ToleranceMatch;
  rows: readonly ToleranceRow[];
  rule: DecisionRule;
  coverageProbability: CoverageProbability;
}

function emptyPoint(group: PointTrials, task: Task, toleranceMl: number | null): PointResult {
  return {
    pointMl: group.pointMl,
    n: 0,
    nRecorded: group.recorded.length,
    meanMl: null,
    biasMl: null,
    biasPercent: null,
    sdMl: null,
    cvPercent: null,
    smallestMl: null,
    largestMl: null,
    simpleMeanMl: null,
    combinedUncertaintyMl: null,
    effectiveDegreesOfFreedom: null,
    coverageFactor: null,
    coverageProbability: task.coverageProbability,
    expandedUncertaintyMl: null,
    toleranceMl,
    probabilityOfConformity: null,
    verdict: null,
    verdictWithExcluded: null,
    meetsClass: null,
    budget: [],
    findings: [],
  };
}

/** Why a point gets no verdict, or what should be known of the tolerance that gives one. */
function toleranceFindings(task: Task): Finding[] {
  const { match, setup } = task;
  const { vessel } = setup.record;
  if (setup.basis !== vessel.basis) {
    const detail = `Marked to ${vessel.basis}, calibrated to ${setup.basis}: mean and uncertainty, no verdict.`;
    return [finding('other-basis', detail)];
  }
  if (match.outcome === 'none') return [finding('no-tolerance', 'No tolerance is marked or named for this vessel.')];
  if (match.outcome === 'unknown' || match.outcome === 'ambiguous') {
    return [finding('tolerance-not-found', match.detail)];
  }
  if (match.outcome === 'found' && !match.marked && !match.row.readInStandard) {
    return [
      finding('tolerance-not-checked', `The limit of ${rowName(match.row)} was not read in the standard itself.`),
    ];
  }
  return [];
}

function judged(task: Task, toleranceMl: number | null): toleranceMl is number {
  return toleranceMl !== null && task.setup.basis === task.setup.record.vessel.basis;
}

function measurePoint(task: Task, group: PointTrials, counted: readonly TrialResult[]): PointResult {
  const nominal = numberOf(group.pointMl);
  const toleranceMl = toleranceMlAt(task.setup.record.vessel, task.setup.row, nominal);
  const point = emptyPoint(group, task, toleranceMl);
  if (counted.length === 0) return point;
  const volumes = summarise(counted.map((trial) => trial.volumeMl));
  const biasMl = volumes.mean - nominal;
  point.n = volumes.n;
  point.meanMl = volumes.mean;
  point.biasMl = biasMl;
  point.biasPercent = (100 * biasMl) / nominal;
  point.sdMl = volumes.sd;
  point.cvPercent = volumes.sd === null ? null : (100 * volumes.sd) / volumes.mean;
  point.smallestMl = volumes.smallest;
  point.largestMl = volumes.largest;
  point.simpleMeanMl = summarise(counted.map((trial) => trial.simpleVolumeMl)).mean;
  if (!judged(task, toleranceMl)) {
    point.verdict = 'none-stated';
    return point;
  }
  const judgement = { biasMl, expandedUncertaintyMl: null, rule: task.rule, undecided: false };
  point.verdict = judge({ ...judgement, toleranceMl });
  const { row, record } = task.setup;
  if (row !== null) {
    point.meetsClass = classMet({
      ...judgement,
      rows: task.rows,
      vessel: record.vessel,
      row,
      pointMl: nominal,
      counted,
    });
  }
  return point;
}

function changedVerdict(task: Task, group: PointTrials, verdict: Verdict | null): Verdict | null {
  if (group.counted.length === group.recorded.length) return null;
  const whole = measurePoint(task, group, group.recorded).verdict;
  return whole === verdict ? null : whole;
}

/** Result of one test point: statistics, verdict, both verdicts where an exclusion changes it, findings. */
export function evaluatePoint(task: Task, group: PointTrials): PointResult {
  const point = measurePoint(task, group, group.counted);
  point.verdictWithExcluded = changedVerdict(task, group, point.verdict);
  const { record } = task.setup;
  point.findings.push(
    ...waterRangeFinding(group.counted),
    ...driftFinding(record),
    ...overdueFindings(record),
    ...reusedFinding(group.counted),
    ...toleranceFindings(task),
  );
  if (point.verdictWithExcluded !== null) {
    const detail = `With all ${point.nRecorded} trials the verdict would be ${point.verdictWithExcluded}.`;
    point.findings.push(finding('verdict-changed-by-exclusion', detail));
  }
  if (point.verdict !== null && point.verdict !== 'none-stated') {
    point.findings.push(finding('without-uncertainty', 'Bias against tolerance alone; no uncertainty was worked out.'));
  }
  return point;
}
