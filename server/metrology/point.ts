import { resolutionG } from './balance-components.ts';
import { classMet } from './class-met.ts';
import { probabilityOfConformity } from './coverage.ts';
import { numberOf } from './decimal.ts';
import { finding } from './findings.ts';
import { meanInputs } from './mean-inputs.ts';
import { outlierFinding } from './outlier.ts';
import { driftFinding, overdueFindings, reusedFinding, waterRangeFinding } from './point-findings.ts';
import type { PointTrials } from './points.ts';
import { jointVerdict, judgeRandom, randomLimitMl } from './random-error.ts';
import { chooseRepeatability } from './repeatability.ts';
import type { Repeatability } from './repeatability.ts';
import type { Finding, PointResult, TrialResult, Verdict } from './result.ts';
import { summarise } from './statistics.ts';
import type { Summary } from './statistics.ts';
import type { Task } from './task.ts';
import { rowName, toleranceMlAt } from './tolerance.ts';
import { commonComponents, foreseenRepeatability, meanUncertainty } from './uncertainty.ts';
import type { Uncertainty } from './uncertainty.ts';
import { judge } from './verdict.ts';

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
    singleUseUncertaintyMl: null,
    repeatability: null,
    toleranceMl,
    probabilityOfConformity: null,
    verdict: null,
    randomError: null,
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

function fillStatistics(point: PointResult, volumes: Summary, nominal: number, counted: readonly TrialResult[]): void {
  const biasMl = volumes.mean - nominal;
  point.n = volumes.n;
  point.meanMl = volumes.mean;
  point.biasMl = biasMl;
  point.biasPercent = (100 * biasMl) / nominal;
  point.sdMl = volumes.sd;
  point.cvPercent = volumes.sd === null || volumes.mean === 0 ? null : (100 * volumes.sd) / volumes.mean;
  point.smallestMl = volumes.smallest;
  point.largestMl = volumes.largest;
  point.simpleMeanMl = summarise(counted.map((trial) => trial.simpleVolumeMl)).mean;
}

function fillUncertainty(point: PointResult, uncertainty: Uncertainty, repeatability: Repeatability): void {
  point.budget = uncertainty.lines;
  point.combinedUncertaintyMl = uncertainty.combinedMl;
  point.effectiveDegreesOfFreedom = uncertainty.degreesOfFreedom;
  point.coverageFactor = uncertainty.coverageFactor;
  point.expandedUncertaintyMl = uncertainty.expandedMl;
  point.singleUseUncertaintyMl = Math.hypot(uncertainty.combinedMl, repeatability.sdMl);
  point.repeatability = repeatability;
}

/** A piston pipette keeps its random limit as well; without one the systematic error stands alone, and a finding says so. */
function addRandomError(point: PointResult, task: Task, systematicVerdict: Verdict): Verdict {
  const { vessel } = task.setup.record;
  if (vessel.kind !== 'piston-pipette') return systematicVerdict;
  const limitMl = randomLimitMl(vessel, task.setup.row);
  if (limitMl === null) {
    const detail = 'No random limit is known for this piston pipette: the systematic error alone was judged.';
    point.findings.push(finding('random-limit-unknown', detail));
    return systematicVerdict;
  }
  const verdict = judgeRandom(point.sdMl, limitMl);
  point.randomError = { limitMl, verdict, systematicVerdict };
  if (verdict === 'fail') {
    const detail = `The trials spread ${point.sdMl?.toPrecision(2)} mL; the random limit is ${limitMl} mL.`;
    point.findings.push(finding('random-error-outside', detail));
  }
  return jointVerdict(systematicVerdict, verdict);
}

/** Verdict, probability and class, where the vessel has a tolerance and was calibrated on its own basis. */
function fillVerdict(
  point: PointResult,
  task: Task,
  biasMl: number,
  uncertainty: Uncertainty,
  counted: readonly TrialResult[],
): void {
  const { record, row, basis } = task.setup;
  const { toleranceMl } = point;
  if (toleranceMl === null || basis !== record.vessel.basis) {
    point.verdict = 'none-stated';
    return;
  }
  const { combinedMl, expandedMl, degreesOfFreedom } = uncertainty;
  const undecided = point.repeatability?.kind === 'predicted';
  const { rule } = task;
  const systematic = judge({ biasMl, toleranceMl, expandedUncertaintyMl: expandedMl, rule, undecided });
  point.verdict = addRandomError(point, task, systematic);
  point.probabilityOfConformity = probabilityOfConformity(biasMl, toleranceMl, combinedMl, degreesOfFreedom);
  if (expandedMl > toleranceMl / 3) {
    const percent = ((100 * expandedMl) / toleranceMl).toFixed(0);
    const detail = `U is ${percent} % of the tolerance; a third is usual at most.`;
    point.findings.push(finding('uncertainty-above-third', detail));
  }
  if (row === null) return;
  const pointMl = numberOf(point.pointMl);
  point.meetsClass = classMet({
    rows: task.rows,
    vessel: record.vessel,
    row,
    pointMl,
    biasMl,
    expandedUncertaintyMl: expandedMl,
    rule,
    undecided,
    counted,
  });
}

function measurePoint(task: Task, group: PointTrials, counted: readonly TrialResult[]): PointResult {
  const nominal = numberOf(group.pointMl);
  const toleranceMl = toleranceMlAt(task.setup.record.vessel, task.setup.row, nominal);
  const point = emptyPoint(group, task, toleranceMl);
  if (counted.length === 0) return point;
  const volumes = summarise(counted.map((trial) => trial.volumeMl));
  fillStatistics(point, volumes, nominal, counted);
  const inputs = meanInputs(task.setup, counted);
  const stepMl = resolutionG(task.instruments.balance, inputs) * inputs.perG;
  const { findings } = point;
  findings.push(...outlierFinding(counted, volumes, stepMl, task.pooled?.sdMl ?? null), ...task.pooledFindings);
  const foreseen = () => foreseenRepeatability(task, inputs, toleranceMl);
  const repeatability = chooseRepeatability(volumes.n, volumes.sd, task.pooled, foreseen, findings);
  const common = commonComponents(task, inputs, toleranceMl, findings);
  const uncertainty = meanUncertainty(common, repeatability, volumes.n, Number(task.coverageProbability));
  fillUncertainty(point, uncertainty, repeatability);
  fillVerdict(point, task, volumes.mean - nominal, uncertainty, counted);
  return point;
}

function changedVerdict(task: Task, group: PointTrials, verdict: Verdict | null): Verdict | null {
  if (group.counted.length === group.recorded.length) return null;
  const whole = measurePoint(task, group, group.recorded).verdict;
  return whole === verdict ? null : whole;
}

/** Result of one test point: statistics, budget, verdict, both verdicts where an exclusion changes it, findings. */
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
  return point;
}
