import { airOf } from './air.ts';
import type { Component, ComponentName } from './component.ts';
import { conditionsAt } from './conditions.ts';
import { numberOf, stepOf } from './decimal.ts';
import { instrumentNumbers } from './instrument-numbers.ts';
import { completeInputs } from './mean-inputs.ts';
import type { MeanInputs } from './mean-inputs.ts';
import { balanceFindings } from './piston-balance.ts';
import { groupByPoint } from './points.ts';
import type { BalanceFacts, CalibrationRecord, DecimalText } from './record.ts';
import { randomLimitMl } from './random-error.ts';
import type { Repeatability } from './repeatability.ts';
import type { BudgetLine, Finding } from './result.ts';
import { prepareTask } from './task.ts';
import type { Task } from './task.ts';
import { toleranceMlAt } from './tolerance.ts';
import type { ToleranceRow } from './tolerance.ts';
import { commonComponents, foreseenRepeatability, meanUncertainty } from './uncertainty.ts';
import type { Uncertainty } from './uncertainty.ts';
import { waterInUseKgPerM3 } from './water-in-use.ts';
import { massGFrom } from './volume.ts';

/** What one test point can be decided to, before anything is weighed. */
export interface PointCapability {
  pointMl: DecimalText;
  plannedTrials: number;
  toleranceMl: number | null;
  /** Random limit of a piston pipette; null for other ware. */
  randomLimitMl: number | null;
  repeatability: Repeatability;
  combinedUncertaintyMl: number;
  effectiveDegreesOfFreedom: number | null;
  coverageFactor: number;
  expandedUncertaintyMl: number;
  /** U over T; null without a tolerance. */
  ratio: number | null;
  /** Whether a vessel without any error could pass; null without a tolerance. */
  decidableAtZeroError: boolean | null;
  /** Largest bias that could still pass, T − U; null where none could. */
  passPossibleWithinMl: number | null;
  largestComponent: ComponentName;
  /** Its share of u_c², 0 to 1. */
  largestShare: number;
  /** Fewest trials (2 to 20) with U at most a third of T, and with U below T; null for none. */
  trialsForThird: number | null;
  trialsForDecision: number | null;
  balances: BalanceCapability[];
  budget: BudgetLine[];
  findings: Finding[];
}

export interface BalanceCapability {
  id: string;
  expandedUncertaintyMl: number;
  /** It carries the water, and the point could be decided with it. */
  does: boolean;
}

export interface Capability {
  points: PointCapability[];
  /** Whether every point could be decided for a vessel without error; null where no point has a tolerance. */
  decidable: boolean | null;
}

/** A balance of the laboratory to try in place of the one chosen. */
export interface CandidateBalance {
  id: string;
  facts: BalanceFacts;
}

const USUAL_TRIALS = 10;
const MOST_TRIALS = 20;
const USUAL_WATER_STEP_C = 0.1;

/**
 * Last digit in g of the balance that is usual for a volume in mL, where none is named.
 * @source common-practice, 0.1 mg to 10 mL, 1 mg to 1 L, 10 mg to 2 L, 0.1 g above
 */
export function usualStepG(volumeMl: number): number {
  if (volumeMl <= 10) return 0.0001;
  if (volumeMl <= 1000) return 0.001;
  return volumeMl <= 2000 ? 0.01 : 0.1;
}

/** Inputs as they will be when the vessel holds its nominal volume: water as warm as the air. */
function foreseenInputs(task: Task, pointMl: DecimalText): MeanInputs {
  const { setup } = task;
  const nominal = numberOf(pointMl);
  const conditions = conditionsAt(setup.stages, Number.POSITIVE_INFINITY);
  const air = airOf(setup, conditions, {});
  const waterC = air.temperatureC.value;
  const { value: expansion } = setup.expansion;
  const water = waterInUseKgPerM3(conditions, waterC);
  const weighed = setup.record.trials[0]?.filledG;
  return completeInputs({
    massG: massGFrom(nominal, water, air.densityKgPerM3, expansion, waterC, setup.referenceC),
    waterC,
    waterHalfWidthC: null,
    airC: air.temperatureC.value,
    pressureHpa: air.pressureHpa.value,
    humidityPercent: air.humidityPercent.value,
    measured: air.used.measured,
    evaporationG: 0,
    massStepG: weighed === undefined ? usualStepG(nominal) : stepOf(weighed),
    waterStepC: USUAL_WATER_STEP_C,
    conditions,
    expansionPerK: expansion,
    referenceC: setup.referenceC,
  });
}

/** Spread foreseen for n trials: pooled as chosen, else predicted with n − 1 degrees of freedom. */
function foreseenFor(n: number, pooled: Repeatability | null, predicted: Repeatability): Repeatability {
  if (pooled !== null) return pooled;
  return n === 1 ? predicted : { ...predicted, degreesOfFreedom: n - 1 };
}

interface Foreseen {
  common: readonly Component[];
  pooled: Repeatability | null;
  predicted: Repeatability;
  probability: number;
}

function uncertaintyFor(n: number, foreseen: Foreseen): Uncertainty {
  const repeatability = foreseenFor(n, foreseen.pooled, foreseen.predicted);
  return meanUncertainty(foreseen.common, repeatability, n, foreseen.probability);
}

function fewestTrials(foreseen: Foreseen, enough: (expandedMl: number) => boolean): number | null {
  for (let n = 2; n <= MOST_TRIALS; n += 1) {
    if (enough(uncertaintyFor(n, foreseen).expandedMl)) return n;
  }
  return null;
}

function foresee(task: Task, pointMl: DecimalText, toleranceMl: number | null, findings: Finding[]): Foreseen {
  const inputs = foreseenInputs(task, pointMl);
  return {
    common: commonComponents(task, inputs, toleranceMl, findings),
    pooled: task.pooled,
    predicted: foreseenRepeatability(task, inputs, toleranceMl),
    probability: Number(task.coverageProbability),
  };
}

function largestOf(uncertainty: Uncertainty): { name: ComponentName; share: number } {
  const [first, ...others] = uncertainty.lines;
  if (first === undefined) throw new RangeError('a budget has lines');
  const largest = others.reduce((best, line) => (line.contributionMl > best.contributionMl ? line : best), first);
  return {
    name: largest.component as ComponentName,
    share: (largest.contributionMl / uncertainty.combinedMl) ** 2,
  };
}

function tryBalance(task: Task, candidate: CandidateBalance, point: PointCapability): BalanceCapability {
  const { balance } = instrumentNumbers({ balance: candidate.facts });
  const other: Task = { ...task, instruments: { ...task.instruments, balance } };
  const foreseen = foresee(other, point.pointMl, point.toleranceMl, []);
  const { expandedMl } = uncertaintyFor(point.plannedTrials, foreseen);
  const carries = candidate.facts.capacityG == null || numberOf(candidate.facts.capacityG) > numberOf(point.pointMl);
  const decides = point.toleranceMl === null || decidesZeroError(task, point, expandedMl, foreseen.predicted.sdMl);
  return { id: candidate.id, expandedUncertaintyMl: expandedMl, does: carries && decides };
}

/**
 * Whether an error of zero could be judged: U below T, and more than one trial unless a pooled spread was chosen. Of a
 * piston pipette with a random limit, only where the weighing itself spreads less than that.
 */
function decidesZeroError(
  task: Task,
  point: Pick<PointCapability, 'toleranceMl' | 'plannedTrials' | 'randomLimitMl'>,
  expandedMl: number,
  spreadMl: number,
): boolean {
  if (point.randomLimitMl !== null && (point.plannedTrials === 1 || spreadMl > point.randomLimitMl)) return false;
  const enough = point.plannedTrials > 1 || task.pooled !== null;
  return point.toleranceMl !== null && enough && expandedMl < point.toleranceMl * (1 - 1e-9);
}

function pointCapability(task: Task, pointMl: DecimalText, balances: readonly CandidateBalance[]): PointCapability {
  const { record, row } = task.setup;
  const toleranceMl = toleranceMlAt(record.vessel, row, numberOf(pointMl));
  const findings: Finding[] = [...balanceFindings(record.vessel, task.instruments.balance), ...task.pooledFindings];
  const foreseen = foresee(task, pointMl, toleranceMl, findings);
  const plannedTrials = record.plannedTrials ?? USUAL_TRIALS;
  const uncertainty = uncertaintyFor(plannedTrials, foreseen);
  const { expandedMl } = uncertainty;
  const largest = largestOf(uncertainty);
  const known = { toleranceMl, randomLimitMl: randomLimitMl(record.vessel, row), plannedTrials };
  const decidable = toleranceMl === null ? null : decidesZeroError(task, known, expandedMl, foreseen.predicted.sdMl);
  const point: PointCapability = {
    pointMl,
    ...known,
    repeatability: foreseenFor(plannedTrials, foreseen.pooled, foreseen.predicted),
    combinedUncertaintyMl: uncertainty.combinedMl,
    effectiveDegreesOfFreedom: uncertainty.degreesOfFreedom,
    coverageFactor: uncertainty.coverageFactor,
    expandedUncertaintyMl: expandedMl,
    ratio: toleranceMl === null ? null : expandedMl / toleranceMl,
    decidableAtZeroError: decidable,
    passPossibleWithinMl: toleranceMl !== null && decidable === true ? toleranceMl - expandedMl : null,
    largestComponent: largest.name,
    largestShare: largest.share,
    trialsForThird: toleranceMl === null ? null : fewestTrials(foreseen, (u) => u <= toleranceMl / 3),
    trialsForDecision: toleranceMl === null ? null : fewestTrials(foreseen, (u) => u < toleranceMl),
    balances: [],
    budget: uncertainty.lines,
    findings,
  };
  point.balances = balances.map((candidate) => tryBalance(task, candidate, point));
  return point;
}

/**
 * What a set-up can decide before the first weighing: predicted U for the planned number of trials at each point, and
 * what would make it better. The record needs no trials.
 * @param balances of the laboratory, each tried in place of the chosen one
 * @source jcgm-106-2012, 8.3, guarded acceptance; the uncertainty is that of the budget with a predicted spread
 * @throws OutsideValidity where the conditions lie outside the range of the air formula
 */
export function capability(
  record: CalibrationRecord,
  rows: readonly ToleranceRow[],
  balances: readonly CandidateBalance[] = [],
): Capability {
  const task = prepareTask(record, rows);
  const points = groupByPoint(record, []).map((group) => pointCapability(task, group.pointMl, balances));
  const judged = points.filter((point) => point.decidableAtZeroError !== null);
  return {
    points,
    decidable: judged.length === 0 ? null : judged.every((point) => point.decidableAtZeroError === true),
  };
}
