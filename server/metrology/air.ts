import { airDensityKgPerM3, airFormulaExtrapolated, saturationPressurePa } from './air-density.ts';
import { standardAtmosphereHpa } from './atmosphere.ts';
import { ASSUMED_AIR_TEMPERATURE, ASSUMED_HUMIDITY, STANDARD_PRESSURE } from './constants.ts';
import { correctionAt } from './corrections.ts';
import type { CorrectionTable } from './corrections.ts';
import { numberOf } from './decimal.ts';
import { finding } from './findings.ts';
import type { Air, AirQuantity, OwnAir } from './air-facts.ts';
import type { ConditionFacts, DecimalText } from './record.ts';
import type { Finding } from './result.ts';
import type { Setup } from './setup.ts';

export type { Air, OwnAir };

/** Pressure nobody measured, in hPa: the standard atmosphere at the laboratory's altitude, else at sea level. */
export function assumedPressureHpa(altitudeM: number | null): number {
  return altitudeM === null ? STANDARD_PRESSURE.value : standardAtmosphereHpa(altitudeM);
}

/** Pressure within which nothing is asked: 40 hPa about the altitude's, else what laboratories on land see. */
export function usualPressureHpa(altitudeM: number | null): readonly [number, number] {
  if (altitudeM === null) return [850, 1100];
  const expected = standardAtmosphereHpa(altitudeM);
  return [expected - 40, expected + 40];
}

function quantity(
  own: DecimalText | null | undefined,
  table: CorrectionTable | null,
  assumed: number,
  name: string,
  findings: Finding[],
): AirQuantity {
  if (own == null) return { value: assumed, measured: false, correction: 0 };
  const reading = numberOf(own);
  const correction = correctionAt(table, reading);
  if (correction.extrapolated) {
    findings.push(finding('correction-extrapolated', `${name} ${own} lies outside the table of corrections.`));
  }
  return { value: reading + correction.value, measured: true, correction: correction.value };
}

type Quantities = Pick<Air, 'temperatureC' | 'pressureHpa' | 'humidityPercent'>;

/** One sentence for all instruments of a reading that have no table of corrections. */
function unknownCorrections(setup: Setup, air: Quantities, waterRead: boolean): Finding | null {
  const { tables } = setup;
  const without: string[] = [];
  if (tables.balance === null) without.push('balance');
  if (waterRead && tables.thermometer === null) without.push('thermometer');
  if (air.temperatureC.measured && tables.airThermometer === null) without.push('air thermometer');
  if (air.pressureHpa.measured && tables.barometer === null) without.push('barometer');
  if (air.humidityPercent.measured && tables.hygrometer === null) without.push('hygrometer');
  if (without.length === 0) return null;
  return finding('no-correction-known', `Read as displayed, no corrections known: ${without.join(', ')}.`);
}

function assumedFindings(air: Quantities): Finding[] {
  const assumed: string[] = [];
  if (!air.temperatureC.measured) assumed.push(`${air.temperatureC.value} °C`);
  if (!air.pressureHpa.measured) assumed.push(`${air.pressureHpa.value.toFixed(2)} hPa`);
  if (!air.humidityPercent.measured) assumed.push(`${air.humidityPercent.value} %`);
  if (assumed.length === 0) return [];
  return [finding('air-assumed', `Not measured, so taken as usual: ${assumed.join(', ')}.`)];
}

function workOut(setup: Setup, facts: OwnAir): Air {
  const findings: Finding[] = [];
  const { airThermometer, barometer, hygrometer } = setup.tables;
  const temperatureC = quantity(
    facts.airTemperatureC,
    airThermometer,
    ASSUMED_AIR_TEMPERATURE.value,
    'Air temperature',
    findings,
  );
  const assumedPressure = assumedPressureHpa(setup.altitudeM);
  const pressureHpa = quantity(facts.airPressureHpa, barometer, assumedPressure, 'Air pressure', findings);
  const humidityPercent = quantity(
    facts.relativeHumidityPercent,
    hygrometer,
    ASSUMED_HUMIDITY.value,
    'Relative humidity',
    findings,
  );
  const densityKgPerM3 = airDensityKgPerM3(temperatureC.value, pressureHpa.value, humidityPercent.value);
  const air: Quantities = { temperatureC, pressureHpa, humidityPercent };
  findings.push(...assumedFindings(air));
  if (airFormulaExtrapolated(temperatureC.value)) {
    const warm = `Air at ${temperatureC.value} °C: the formula is stated for 15 to 27 °C.`;
    findings.push(finding('air-formula-extrapolated', warm));
  }
  const [low, high] = usualPressureHpa(setup.altitudeM);
  if (pressureHpa.measured && (pressureHpa.value < low || pressureHpa.value > high)) {
    const range = `${low.toFixed(0)} to ${high.toFixed(0)} hPa`;
    findings.push(finding('air-pressure-unusual', `${pressureHpa.value} hPa; usual here is ${range}.`));
  }
  const known = temperatureC.measured && humidityPercent.measured;
  return {
    temperatureC,
    pressureHpa,
    humidityPercent,
    densityKgPerM3,
    vapourPressurePa: known ? (humidityPercent.value / 100) * saturationPressurePa(temperatureC.value) : null,
    findings,
    uncorrected: unknownCorrections(setup, air, true),
    uncorrectedWithoutWater: unknownCorrections(setup, air, false),
    used: {
      temperatureC: temperatureC.value,
      pressureHpa: pressureHpa.value,
      relativeHumidityPercent: humidityPercent.value,
      measured: {
        temperature: temperatureC.measured,
        pressure: pressureHpa.measured,
        humidity: humidityPercent.measured,
      },
    },
  };
}

/**
 * Air of one trial: its own readings, else those in force, else the usual values; corrections of the instruments
 * applied. Conditions shared by several trials are worked out once.
 * @throws OutsideValidity outside the ranges of the air formula
 */
export function airOf(setup: Setup, conditions: ConditionFacts, own: OwnAir): Air {
  if (own.airTemperatureC != null || own.airPressureHpa != null || own.relativeHumidityPercent != null) {
    return workOut(setup, {
      airTemperatureC: own.airTemperatureC ?? conditions.airTemperatureC,
      airPressureHpa: own.airPressureHpa ?? conditions.airPressureHpa,
      relativeHumidityPercent: own.relativeHumidityPercent ?? conditions.relativeHumidityPercent,
    });
  }
  const known = setup.airOf.get(conditions);
  if (known !== undefined) return known;
  const air = workOut(setup, conditions);
  setup.airOf.set(conditions, air);
  return air;
}
