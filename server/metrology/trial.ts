import { airOf } from './air.ts';
import { conditionsAt } from './conditions.ts';
import { correctionAt } from './corrections.ts';
import type { CorrectionTable } from './corrections.ts';
import { differenceOf, numberOf, numberOrNull } from './decimal.ts';
import { finding } from './findings.ts';
import type { CalibrationRecord, ConditionFacts, DecimalText, TrialFacts } from './record.ts';
import type { Finding, TrialResult } from './result.ts';
import { prepareSetup } from './setup.ts';
import type { Setup } from './setup.ts';
import { usedFacts } from './slips.ts';
import type { ToleranceRow } from './tolerance.ts';
import {
  correctionsUnknown,
  emptySourceFindings,
  timeFindings,
  volumeFindings,
  waterFindings,
  weighingFindings,
} from './trial-findings.ts';
import { simpleVolumeMl, volumeMlFrom } from './volume.ts';
import { dissolvedAirKgPerM3, tapWaterFactor, waterDensityKgPerM3 } from './water-density.ts';

function correct(table: CorrectionTable | null, text: DecimalText, name: string, findings: Finding[]): number {
  const correction = correctionAt(table, numberOf(text));
  if (correction.extrapolated) {
    findings.push(finding('correction-extrapolated', `${name} ${text} lies outside the table of corrections.`));
  }
  return correction.value;
}

/**
 * Density of the water as it was used, kg/m3: pure, then dissolved air where set, then what tap water adds.
 * @source tanaka-2001, eq. (1) and (2)
 * @throws OutsideValidity below 0 °C and above 40 °C
 */
export function waterInUseKgPerM3(conditions: ConditionFacts, temperatureC: number): number {
  let density = waterDensityKgPerM3(temperatureC);
  if (conditions.dissolvedAir === true) density += dissolvedAirKgPerM3(temperatureC);
  if (conditions.waterGrade === 'tap') density *= tapWaterFactor(numberOrNull(conditions.conductivityUsPerCm));
  return density;
}

/** Mass in g that evaporated while the vessel stood open; 0 where rate or time is not known. */
function evaporatedG(conditions: ConditionFacts, trial: TrialFacts): number {
  if (conditions.evaporationMgPerMin == null || trial.openTimeS == null) return 0;
  return (numberOf(conditions.evaporationMgPerMin) * numberOf(trial.openTimeS)) / 60_000;
}

/** One trial in a calibration that is already prepared. */
export function computeTrial(setup: Setup, typed: TrialFacts, number: number): TrialResult {
  const trial = usedFacts(typed);
  const conditions = conditionsAt(setup.stages, number);
  const { balance, thermometer } = setup.tables;
  const findings: Finding[] = [];
  const emptyCorrection = correct(balance, trial.emptyG, 'Empty reading', findings);
  const filledCorrection = correct(balance, trial.filledG, 'Filled reading', findings);
  const waterRead = trial.waterTemperatureHalfWidthC == null;
  const waterCorrection = waterRead ? correct(thermometer, trial.waterTemperatureC, 'Water temperature', findings) : 0;
  const waterC = numberOf(trial.waterTemperatureC) + waterCorrection;
  const air = airOf(setup, conditions, trial);
  const evaporationG = evaporatedG(conditions, trial);
  const massG = differenceOf(trial.filledG, trial.emptyG) + (filledCorrection - emptyCorrection) + evaporationG;
  const water = waterInUseKgPerM3(conditions, waterC);
  const volumeMl = volumeMlFrom(massG, water, air.densityKgPerM3, setup.expansion.value, waterC, setup.referenceC);
  const corrected = {
    emptyG: numberOf(trial.emptyG) + emptyCorrection,
    filledG: numberOf(trial.filledG) + filledCorrection,
    waterTemperatureC: waterC,
  };
  findings.push(...correctionsUnknown(setup, waterRead, air));
  if (!waterRead) {
    const detail = `${trial.waterTemperatureC} °C ± ${trial.waterTemperatureHalfWidthC} °C assumed, not read.`;
    findings.push(finding('water-temperature-assumed', detail));
  }
  findings.push(
    ...waterFindings(conditions, waterC),
    ...air.findings,
    ...weighingFindings(setup, air, waterC, corrected.filledG),
    ...timeFindings(setup, trial),
    ...emptySourceFindings(setup, trial),
    ...volumeFindings(setup, trial, volumeMl, conditions.evaporationMgPerMin != null && trial.openTimeS != null),
  );
  if (setup.expansion.origin === 'unknown') {
    findings.push(finding('expansion-not-known', 'Type the expansion coefficient of this material; it counts as 0.'));
  }
  return {
    ...typed,
    number,
    used: { emptyG: trial.emptyG, filledG: trial.filledG, waterTemperatureC: trial.waterTemperatureC },
    corrected,
    air: {
      temperatureC: air.temperatureC.value,
      pressureHpa: air.pressureHpa.value,
      relativeHumidityPercent: air.humidityPercent.value,
      measured: {
        temperature: air.temperatureC.measured,
        pressure: air.pressureHpa.measured,
        humidity: air.humidityPercent.measured,
      },
    },
    evaporationG,
    massG,
    waterDensityGPerMl: water / 1000,
    airDensityGPerMl: air.densityKgPerM3 / 1000,
    volumeMl,
    simpleVolumeMl: simpleVolumeMl(massG),
    findings,
  };
}

/**
 * One trial from reading to volume: corrections of slips and of instruments, mass, evaporation, densities, volume at
 * the reference temperature, findings. Needs no quantiles, so a page may compute while somebody types.
 * @param number of the trial, from 1; the conditions read before it hold
 * @param row of the vessel's standard where known (delivery and waiting times, how far off is far)
 * @throws OutsideValidity outside the ranges of the water and air formulas
 * @throws TypeError when a reading is not decimal text
 */
export function evaluateTrial(
  record: CalibrationRecord,
  trial: TrialFacts,
  number: number,
  row: ToleranceRow | null = null,
): TrialResult {
  return computeTrial(prepareSetup(record, row), trial, number);
}
