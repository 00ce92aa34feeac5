import { conditionsAt } from './conditions.ts';
import { correctionAt } from './corrections.ts';
import type { CorrectionTable } from './corrections.ts';
import { SIMPLE_WATER_DENSITY, WEIGHTS_DENSITY } from './constants.ts';
import { numberOf } from './decimal.ts';
import { MATERIAL_FACTS } from './materials.ts';
import type { CalibrationRecord, ConditionFacts, DecimalText, TrialFacts } from './record.ts';
import type { TrialResult } from './result.ts';
import { prepareSetup } from './setup.ts';
import type { Setup } from './setup.ts';
import { usedFacts } from './slips.ts';
import type { Constant, SourceKey } from './sources.ts';
import { expansionFactor, massToVolumeFactor } from './volume.ts';

/** A number with the way to it: a formula over its parts, down to typed digits and constants with their source. */
export interface Explanation {
  symbol: string;
  label: string;
  /** How `parts` make `value`; null at a leaf. */
  formula: string | null;
  value: number | null;
  unit: string;
  /** A leaf as somebody typed it, digits included. */
  typed?: string;
  /** A leaf nobody measured or typed. */
  assumed?: boolean;
  source?: SourceKey;
  locator?: string;
  parts: Explanation[];
}

export function leaf(
  symbol: string,
  label: string,
  value: number | null,
  unit: string,
  origin: Pick<Explanation, 'typed' | 'assumed' | 'source' | 'locator'>,
): Explanation {
  return { symbol, label, formula: null, value, unit, parts: [], ...origin };
}

function constantLeaf(symbol: string, label: string, constant: Constant): Explanation {
  const { value, unit, source, locator } = constant;
  return leaf(symbol, label, value, unit, { source, locator });
}

/** A reading with the correction of its instrument, or the typed digits alone where there is none. */
function reading(
  symbol: string,
  label: string,
  text: DecimalText,
  unit: string,
  table: CorrectionTable | null,
): Explanation {
  const typed = leaf(symbol, label, numberOf(text), unit, { typed: text });
  const correction = correctionAt(table, numberOf(text));
  if (!correction.known) return typed;
  const added = leaf(`c(${symbol})`, 'correction of the instrument', correction.value, unit, {
    source: 'common-practice',
    locator: 'certificate, straight line between its points',
  });
  const value = numberOf(text) + correction.value;
  return { symbol, label, formula: 'reading + correction', value, unit, parts: [typed, added] };
}

function massOf(setup: Setup, trial: TrialFacts, result: TrialResult, conditions: ConditionFacts): Explanation {
  const { balance } = setup.tables;
  const parts = [
    reading('filled', 'filled reading', trial.filledG, 'g', balance),
    reading('empty', 'empty reading', trial.emptyG, 'g', balance),
  ];
  const rate = conditions.evaporationMgPerMin;
  const open = trial.openTimeS;
  const evaporated = rate != null && open != null;
  if (evaporated) {
    parts.push({
      symbol: 'e·t',
      label: 'evaporated while open',
      formula: 'e·t/60 000',
      value: result.evaporationG,
      unit: 'g',
      parts: [
        leaf('e', 'rate of evaporation', numberOf(rate), 'mg/min', { typed: rate }),
        leaf('t', 'open time', numberOf(open), 's', { typed: open }),
      ],
    });
  }
  const formula = evaporated ? 'filled − empty + e·t' : 'filled − empty';
  return { symbol: 'm', label: 'mass of water, as weighed in air', formula, value: result.massG, unit: 'g', parts };
}

function waterTemperature(setup: Setup, trial: TrialFacts): Explanation {
  const table = trial.waterTemperatureHalfWidthC == null ? setup.tables.thermometer : null;
  return reading('tw', 'water temperature', trial.waterTemperatureC, '°C', table);
}

function waterOf(setup: Setup, trial: TrialFacts, result: TrialResult, conditions: ConditionFacts): Explanation {
  const parts = [waterTemperature(setup, trial)];
  const { waterGrade, conductivityUsPerCm, dissolvedAir } = conditions;
  let formula = 'a5·(1 − (tw + a1)²·(tw + a2)/(a3·(tw + a4)))';
  if (dissolvedAir === true) formula = `(${formula} + s0 + s1·tw)`;
  if (waterGrade === 'tap' && conductivityUsPerCm != null) {
    parts.push(leaf('κ', 'conductivity', numberOf(conductivityUsPerCm), 'µS/cm', { typed: conductivityUsPerCm }));
    formula = `${formula}·(1 + 0.5e-6·κ)`;
  } else if (waterGrade === 'tap') {
    formula = `${formula}·(1 + 200e-6)`;
  }
  return {
    symbol: 'ρw',
    label: 'density of the water',
    formula,
    value: result.waterDensityGPerMl * 1000,
    unit: 'kg/m3',
    source: 'tanaka-2001',
    locator: 'eq. (1)',
    parts,
  };
}

function airOf(setup: Setup, trial: TrialFacts, result: TrialResult, conditions: ConditionFacts): Explanation {
  const { airThermometer, barometer, hygrometer } = setup.tables;
  const { air } = result;
  const own = (
    symbol: string,
    label: string,
    text: DecimalText | null | undefined,
    value: number,
    unit: string,
    table: CorrectionTable | null,
  ) => (text == null ? leaf(symbol, label, value, unit, { assumed: true }) : reading(symbol, label, text, unit, table));
  const temperature = trial.airTemperatureC ?? conditions.airTemperatureC;
  const pressure = trial.airPressureHpa ?? conditions.airPressureHpa;
  const humidity = trial.relativeHumidityPercent ?? conditions.relativeHumidityPercent;
  return {
    symbol: 'ρa',
    label: 'density of the air',
    formula: 'p·Ma/(Z·R·T)·(1 − xv·(1 − Mv/Ma))',
    value: result.airDensityGPerMl * 1000,
    unit: 'kg/m3',
    source: 'cipm-2007',
    locator: 'eq. (1), carbon dioxide 400 ppm',
    parts: [
      own('ta', 'air temperature', temperature, air.temperatureC, '°C', airThermometer),
      own('p', 'air pressure', pressure, air.pressureHpa, 'hPa', barometer),
      own('h', 'relative humidity', humidity, air.relativeHumidityPercent, '%', hygrometer),
    ],
  };
}

function expansionOf(setup: Setup): Explanation {
  const { vessel } = setup.record;
  const { value, origin } = setup.expansion;
  const label = 'cubic expansion coefficient';
  if (vessel.expansionPerK != null) return leaf('γ', label, value, '1/K', { typed: vessel.expansionPerK });
  const constant = MATERIAL_FACTS[vessel.material].expansion;
  if (origin === 'unknown' || constant === null) return leaf('γ', label, value, '1/K', { assumed: true });
  return constantLeaf('γ', `${label}, ${vessel.material}`, constant);
}

/**
 * The volume of one trial, unfolded down to typed digits and sources: V = m·Z·C.
 * @source iso-4787-2021, equation for the volume at the reference temperature
 */
export function explainTrial(record: CalibrationRecord, result: TrialResult): Explanation {
  const setup = prepareSetup(record, null);
  const trial = usedFacts(result);
  const conditions = conditionsAt(setup.stages, result.number);
  const water = result.waterDensityGPerMl * 1000;
  const air = result.airDensityGPerMl * 1000;
  const referenceText = record.vessel.referenceTemperatureC;
  const waterC = result.corrected.waterTemperatureC;
  const factor: Explanation = {
    symbol: 'Z',
    label: 'volume of one gram of this water, weighed in this air',
    formula: '1000·(1 − ρa/ρb)/(ρw − ρa)',
    value: massToVolumeFactor(water, air),
    unit: 'mL/g',
    parts: [
      waterOf(setup, trial, result, conditions),
      airOf(setup, trial, result, conditions),
      constantLeaf('ρb', 'density of the reference weights', WEIGHTS_DENSITY),
    ],
  };
  const expansion: Explanation = {
    symbol: 'C',
    label: 'to the reference temperature',
    formula: '1 − γ·(tw − tref)',
    value: expansionFactor(setup.expansion.value, waterC, setup.referenceC),
    unit: '1',
    parts: [
      expansionOf(setup),
      waterTemperature(setup, trial),
      leaf('tref', 'reference temperature', setup.referenceC, '°C', { typed: referenceText }),
    ],
  };
  return {
    symbol: 'V',
    label: `volume of trial ${result.number} at ${referenceText} °C`,
    formula: 'm·Z·C',
    value: result.volumeMl,
    unit: 'mL',
    source: 'iso-4787-2021',
    locator: 'equation for the volume at the reference temperature',
    parts: [massOf(setup, trial, result, conditions), factor, expansion],
  };
}

/**
 * The simple volume of one trial, unfolded.
 * @source common-practice, mass divided by 1 g/mL
 */
export function explainSimpleVolume(record: CalibrationRecord, result: TrialResult): Explanation {
  const setup = prepareSetup(record, null);
  const conditions = conditionsAt(setup.stages, result.number);
  return {
    symbol: 'Vs',
    label: `simple volume of trial ${result.number}`,
    formula: 'm/ρ',
    value: result.simpleVolumeMl,
    unit: 'mL',
    parts: [
      massOf(setup, usedFacts(result), result, conditions),
      constantLeaf('ρ', 'one gram a millilitre', SIMPLE_WATER_DENSITY),
    ],
  };
}
