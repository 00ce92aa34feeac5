import { airDensityUnchecked } from './air-density.ts';
import type { Component, ComponentName } from './component.ts';
import { WEIGHTS_DENSITY } from './constants.ts';
import { numberOrNull } from './decimal.ts';
import { meanInputs } from './mean-inputs.ts';
import type { MeanInputs } from './mean-inputs.ts';
import type { DrawnModel, DrawnPart } from './monte-carlo.ts';
import { groupByPoint } from './points.ts';
import type { CalibrationRecord } from './record.ts';
import { chooseRepeatability } from './repeatability.ts';
import type { Repeatability } from './repeatability.ts';
import { summarise } from './statistics.ts';
import { prepareTask } from './task.ts';
import { toleranceMlAt } from './tolerance.ts';
import type { ToleranceRow } from './tolerance.ts';
import { computeTrial } from './trial.ts';
import { commonComponents, foreseenRepeatability, meanUncertainty } from './uncertainty.ts';
import { dissolvedAirKgPerM3, tapWaterFactor, waterDensityUnchecked } from './water-density.ts';

/** Columns of the model. */
const MASS = 0;
const WATER_C = 1;
const WATER_DENSITY = 2;
const PURITY = 3;
const AIR_C = 4;
const PRESSURE = 5;
const HUMIDITY = 6;
const AIR_FORMULA = 7;
const WEIGHTS = 8;
const EXPANSION = 9;
const VESSEL_K = 10;
const VOLUME = 11;
const INPUTS = 12;

/** Where each component enters the model; a volume enters through its sensitivity. */
const COLUMN: Record<ComponentName, number> = {
  repeatability: VOLUME,
  'balance-resolution': MASS,
  'balance-linearity': MASS,
  'balance-calibration': MASS,
  'balance-drift': MASS,
  'water-temperature': WATER_C,
  'water-density': WATER_DENSITY,
  'water-purity': PURITY,
  'air-temperature': AIR_C,
  'air-pressure': PRESSURE,
  'air-humidity': HUMIDITY,
  'air-density-formula': AIR_FORMULA,
  'weights-density': WEIGHTS,
  expansion: EXPANSION,
  'vessel-temperature': VESSEL_K,
  meniscus: VOLUME,
  evaporation: MASS,
};

function partsOf(component: Component): DrawnPart[] {
  const input = COLUMN[component.component];
  const scale = input === VOLUME ? Math.abs(component.sensitivity) : 1;
  return component.parts
    .filter((part) => part.spread > 0)
    .map(({ shape, spread }) => ({ shape, spread: spread * scale, input }));
}

/** The whole volume equation at drawn inputs, moved so that it is the mean volume where nothing deviates. */
function volumeModel(inputs: MeanInputs, meanMl: number): DrawnModel['evaluate'] {
  const { massG, waterC, airC, pressureHpa, humidityPercent, expansionPerK, referenceC, conditions } = inputs;
  const offset = meanMl - inputs.volumeMl;
  const tap = conditions.waterGrade === 'tap' ? tapWaterFactor(numberOrNull(conditions.conductivityUsPerCm)) : 1;
  const saturated = conditions.dissolvedAir === true;
  return (columns, values) => {
    const column = (index: number) => columns[index] as Float64Array;
    const [mass, tw, rw, purity] = [column(MASS), column(WATER_C), column(WATER_DENSITY), column(PURITY)];
    const [ta, p, h, formula] = [column(AIR_C), column(PRESSURE), column(HUMIDITY), column(AIR_FORMULA)];
    const [weights, expansion, vessel] = [column(WEIGHTS), column(EXPANSION), column(VESSEL_K)];
    const volume = column(VOLUME);
    for (let i = 0; i < values.length; i += 1) {
      const t = waterC + (tw[i] as number);
      let water = waterDensityUnchecked(t);
      if (saturated) water += dissolvedAirKgPerM3(t);
      water = water * tap * (1 + (purity[i] as number)) + (rw[i] as number);
      const air =
        airDensityUnchecked(
          airC + (ta[i] as number),
          pressureHpa + (p[i] as number),
          humidityPercent + (h[i] as number),
        ) + (formula[i] as number);
      const z = (1000 * (1 - air / (WEIGHTS_DENSITY.value + (weights[i] as number)))) / (water - air);
      const warm = t + (vessel[i] as number) - referenceC;
      const shrink = 1 - (expansionPerK + (expansion[i] as number)) * warm;
      values[i] = (massG + (mass[i] as number)) * z * shrink + (volume[i] as number) + offset;
    }
  };
}

/** A point ready to be drawn: the model, and what the budget says of it. */
export interface RefereePoint {
  meanMl: number;
  n: number;
  combinedUncertaintyMl: number;
  repeatability: Repeatability;
  probability: number;
  model: DrawnModel;
  /** The same with t-distributed repeatability; null below four trials. */
  studentModel: DrawnModel | null;
}

/**
 * Makes the model of one test point ready for drawing; null where no trial counts.
 * @param index of the point in the result of `evaluate`
 * @source jcgm-101-2008, 6, distributions of the inputs
 */
export function refereePoint(
  record: CalibrationRecord,
  rows: readonly ToleranceRow[],
  index: number,
): RefereePoint | null {
  const task = prepareTask(record, rows);
  const trials = record.trials.map((trial, at) => computeTrial(task.setup, trial, trial.number ?? at + 1));
  const group = groupByPoint(record, trials)[index];
  if (group === undefined || group.counted.length === 0) return null;
  const volumes = summarise(group.counted.map((trial) => trial.volumeMl));
  const inputs = meanInputs(task.setup, group.counted);
  const toleranceMl = toleranceMlAt(record.vessel, task.setup.row, Number(group.pointMl));
  const common = commonComponents(task, inputs, toleranceMl, []);
  const foreseen = () => foreseenRepeatability(task, inputs, toleranceMl);
  const repeatability = chooseRepeatability(volumes.n, volumes.sd, task.pooled, foreseen, []);
  const probability = Number(task.coverageProbability);
  const spread = repeatability.sdMl / Math.sqrt(volumes.n);
  const others = common.flatMap(partsOf);
  const evaluate = volumeModel(inputs, volumes.mean);
  const gaussian: DrawnPart[] = spread > 0 ? [{ shape: 'normal', spread, input: VOLUME }] : [];
  const student: DrawnPart[] =
    spread > 0 ? [{ shape: 'student', spread, degreesOfFreedom: repeatability.degreesOfFreedom, input: VOLUME }] : [];
  return {
    meanMl: volumes.mean,
    n: volumes.n,
    combinedUncertaintyMl: meanUncertainty(common, repeatability, volumes.n, probability).combinedMl,
    repeatability,
    probability,
    model: { inputs: INPUTS, parts: [...gaussian, ...others], evaluate },
    studentModel: volumes.n >= 4 ? { inputs: INPUTS, parts: [...student, ...others], evaluate } : null,
  };
}
