import { airOf } from './air.ts';
import type { Air } from './air.ts';
import { conditionsAt } from './conditions.ts';
import { correctionAt } from './corrections.ts';
import type { CorrectionTable } from './corrections.ts';
import { differenceOf, numberOf } from './decimal.ts';
import { finding } from './findings.ts';
import type { CalibrationRecord, ConditionFacts, DecimalText, TrialFacts } from './record.ts';
import type { Finding, TrialResult } from './result.ts';
import { prepareSetup } from './setup.ts';
import type { Setup } from './setup.ts';
import { usedFacts } from './slips.ts';
import type { ToleranceRow } from './tolerance.ts';
import {
  addEmptySourceFindings,
  addTimeFindings,
  addVolumeFindings,
  addWaterFindings,
  addWeighingFindings,
} from './trial-findings.ts';
import { simpleVolumeMl, volumeMlFrom } from './volume.ts';
import { waterInUseKgPerM3 } from './water-in-use.ts';

function correct(table: CorrectionTable | null, text: DecimalText, name: string, findings: Finding[]): number {
  if (table === null) return 0;
  const correction = correctionAt(table, numberOf(text));
  if (correction.extrapolated) {
    findings.push(finding('correction-extrapolated', `${name} ${text} lies outside the table of corrections.`));
  }
  return correction.value;
}

/** Mass in g that evaporated while the vessel stood open; 0 where rate or time is not known. */
function evaporatedG(conditions: ConditionFacts, trial: TrialFacts): number {
  if (conditions.evaporationMgPerMin == null || trial.openTimeS == null) return 0;
  return (numberOf(conditions.evaporationMgPerMin) * numberOf(trial.openTimeS)) / 60_000;
}

function addFindings(setup: Setup, trial: TrialFacts, conditions: ConditionFacts, air: Air, result: Computed): void {
  const { findings, corrected } = result;
  const assumed = trial.waterTemperatureHalfWidthC != null;
  const uncorrected = assumed ? air.uncorrectedWithoutWater : air.uncorrected;
  if (uncorrected !== null) findings.push(uncorrected);
  if (assumed) {
    const detail = `${trial.waterTemperatureC} °C ± ${trial.waterTemperatureHalfWidthC} °C assumed, not read.`;
    findings.push(finding('water-temperature-assumed', detail));
  }
  addWaterFindings(findings, conditions, corrected.waterTemperatureC);
  for (const one of air.findings) findings.push(one);
  addWeighingFindings(findings, setup, air, corrected.waterTemperatureC, corrected.filledG);
  addTimeFindings(findings, setup, trial);
  addEmptySourceFindings(findings, setup, trial);
  const rateKnown = conditions.evaporationMgPerMin != null && trial.openTimeS != null;
  addVolumeFindings(findings, setup, trial.pointMl, result.volumeMl, rateKnown);
  if (setup.expansion.origin === 'unknown') {
    findings.push(finding('expansion-not-known', 'Type the expansion coefficient of this material; it counts as 0.'));
  }
}

/** What is worked out of a trial, beside what was typed. */
type Computed = Omit<TrialResult, Exclude<keyof TrialFacts, 'number'>>;

/** One trial in a calibration that is already prepared. */
export function computeTrial(setup: Setup, typed: TrialFacts, number: number): TrialResult {
  const trial = usedFacts(typed);
  const { emptyG, filledG, waterTemperatureC } = trial;
  const conditions = conditionsAt(setup.stages, number);
  const { balance, thermometer } = setup.tables;
  const findings: Finding[] = [];
  const filled = numberOf(filledG);
  const empty = numberOf(emptyG);
  const emptyCorrection = correct(balance, emptyG, 'Empty reading', findings);
  const filledCorrection = correct(balance, filledG, 'Filled reading', findings);
  const scale = trial.waterTemperatureHalfWidthC == null ? thermometer : null;
  const waterC = numberOf(waterTemperatureC) + correct(scale, waterTemperatureC, 'Water temperature', findings);
  const air = airOf(setup, conditions, trial);
  const evaporationG = evaporatedG(conditions, trial);
  const massG = differenceOf(filledG, emptyG, filled, empty) + (filledCorrection - emptyCorrection) + evaporationG;
  const water = waterInUseKgPerM3(conditions, waterC);
  const result: Computed = {
    number,
    used: { emptyG, filledG, waterTemperatureC },
    corrected: {
      emptyG: empty + emptyCorrection,
      filledG: filled + filledCorrection,
      waterTemperatureC: waterC,
    },
    air: air.used,
    evaporationG,
    massG,
    waterDensityGPerMl: water / 1000,
    airDensityGPerMl: air.densityKgPerM3 / 1000,
    volumeMl: volumeMlFrom(massG, water, air.densityKgPerM3, setup.expansion.value, waterC, setup.referenceC),
    simpleVolumeMl: simpleVolumeMl(massG),
    findings,
  };
  addFindings(setup, trial, conditions, air, result);
  // what was typed goes on last: adding to a spread copy is fifty times slower
  const whole = Object.assign(result, typed);
  whole.number = number;
  return whole;
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
