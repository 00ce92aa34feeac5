import { airDensityPartials } from './air-density.ts';
import type { AirPartials } from './air-density.ts';
import { numberOf, numberOrNull, stepOf } from './decimal.ts';
import type { ConditionFacts } from './record.ts';
import type { TrialResult } from './result.ts';
import type { Setup } from './setup.ts';
import { conditionsAt } from './conditions.ts';
import { usedFacts } from './slips.ts';
import { waterInUse } from './water-in-use.ts';
import { expansionFactor, massToVolumeFactor } from './volume.ts';

/** The inputs of a point, averaged over the trials that count, and what the model makes of them. */
export interface MeanInputs {
  massG: number;
  waterC: number;
  /** Half-width of an assumed water temperature, null when it was read. */
  waterHalfWidthC: number | null;
  airC: number;
  pressureHpa: number;
  humidityPercent: number;
  measured: { temperature: boolean; pressure: boolean; humidity: boolean };
  evaporationG: number;
  /** Coarsest last digit of the filled readings, g, and of the water temperatures, K. */
  massStepG: number;
  waterStepC: number;
  conditions: ConditionFacts;
  waterKgPerM3: number;
  waterPerK: number;
  air: AirPartials;
  /** Volume of one gram, mL/g. */
  perG: number;
  expansionPerK: number;
  referenceC: number;
  volumeMl: number;
}

/** What the model makes of measured or foreseen inputs. */
export type RawInputs = Omit<MeanInputs, 'waterKgPerM3' | 'waterPerK' | 'air' | 'perG' | 'volumeMl'>;

export function completeInputs(raw: RawInputs): MeanInputs {
  const { density, perK } = waterInUse(raw.conditions, raw.waterC);
  const air = airDensityPartials(raw.airC, raw.pressureHpa, raw.humidityPercent);
  const perG =
    massToVolumeFactor(density, air.densityKgPerM3) * expansionFactor(raw.expansionPerK, raw.waterC, raw.referenceC);
  // written out: adding to a spread copy is fifty times slower
  return {
    massG: raw.massG,
    waterC: raw.waterC,
    waterHalfWidthC: raw.waterHalfWidthC,
    airC: raw.airC,
    pressureHpa: raw.pressureHpa,
    humidityPercent: raw.humidityPercent,
    measured: raw.measured,
    evaporationG: raw.evaporationG,
    massStepG: raw.massStepG,
    waterStepC: raw.waterStepC,
    conditions: raw.conditions,
    expansionPerK: raw.expansionPerK,
    referenceC: raw.referenceC,
    waterKgPerM3: density,
    waterPerK: perK,
    air,
    perG,
    volumeMl: raw.massG * perG,
  };
}

/** Averages the inputs of at least one counted trial. */
export function meanInputs(setup: Setup, counted: readonly TrialResult[]): MeanInputs {
  const n = counted.length;
  const last = counted[n - 1];
  if (last === undefined) throw new RangeError('meanInputs needs at least one trial');
  let [massG, waterC, airC, pressureHpa, humidityPercent, evaporationG, massStepG, waterStepC] = [
    0, 0, 0, 0, 0, 0, 0, 0,
  ];
  let waterHalfWidthC: number | null = null;
  const measured = { temperature: true, pressure: true, humidity: true };
  for (const trial of counted) {
    massG += trial.massG / n;
    waterC += trial.corrected.waterTemperatureC / n;
    airC += trial.air.temperatureC / n;
    pressureHpa += trial.air.pressureHpa / n;
    humidityPercent += trial.air.relativeHumidityPercent / n;
    evaporationG += trial.evaporationG / n;
    massStepG = Math.max(massStepG, stepOf(trial.used.filledG));
    waterStepC = Math.max(waterStepC, stepOf(trial.used.waterTemperatureC));
    measured.temperature &&= trial.air.measured.temperature;
    measured.pressure &&= trial.air.measured.pressure;
    measured.humidity &&= trial.air.measured.humidity;
    const assumed = numberOrNull(usedFacts(trial).waterTemperatureHalfWidthC);
    if (assumed !== null) waterHalfWidthC = Math.max(waterHalfWidthC ?? 0, assumed);
  }
  return completeInputs({
    massG,
    waterC,
    waterHalfWidthC,
    airC,
    pressureHpa,
    humidityPercent,
    measured,
    evaporationG,
    massStepG,
    waterStepC,
    conditions: conditionsAt(setup.stages, last.number),
    expansionPerK: setup.expansion.value,
    referenceC: setup.referenceC,
  });
}

/** Half-width typed in the conditions, null where none. */
export function typedHalfWidth(
  conditions: ConditionFacts,
  key: 'airTemperatureHalfWidthC' | 'airPressureHalfWidthHpa' | 'relativeHumidityHalfWidthPercent',
): number | null {
  const text = conditions[key];
  return text == null ? null : numberOf(text);
}
