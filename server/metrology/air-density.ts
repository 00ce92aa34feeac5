import { OutsideValidity } from './outside-validity.ts';

const A = 1.2378847e-5;
const B = -1.9121316e-2;
const C = 33.93711047;
const D = -6.3431645e3;
const ALPHA = 1.00062;
const BETA = 3.14e-8;
const GAMMA = 5.6e-7;
const A0 = 1.58123e-6;
const A1 = -2.9331e-8;
const A2 = 1.1043e-10;
const B0 = 5.707e-6;
const B1 = -2.051e-8;
const C0 = 1.9898e-4;
const C1 = -2.376e-6;
const DZ = 1.83e-11;
const EZ = -0.765e-8;
const R = 8.314472;
/** Molar mass of dry air at 400 ppm carbon dioxide, and of water, kg/mol. */
const MA = 28.96546e-3;
const MV = 18.01528e-3;
const K = 1 - MV / MA;
const ZERO_C = 273.15;

/** The coefficients by their names in the source, for whoever checks them against it. */
export const AIR_COEFFICIENTS = {
  ...{ A, B, C, D, α: ALPHA, β: BETA, γ: GAMMA },
  ...{ a_0: A0, a_1: A1, a_2: A2, b_0: B0, b_1: B1, c_0: C0, c_1: C1, d: DZ, e: EZ, R, M_a: MA, M_v: MV },
};

export const AIR_PRESSURE_RANGE_HPA: readonly [number, number] = [600, 1100];
export const AIR_TEMPERATURE_RANGE_C: readonly [number, number] = [5, 40];
/** Where the formula is stated; between this and the wider range it is extrapolated. */
export const AIR_TEMPERATURE_STATED_C: readonly [number, number] = [15, 27];
export const HUMIDITY_RANGE_PERCENT: readonly [number, number] = [0, 100];

function requireInside(quantity: string, value: number, range: readonly [number, number], unit: string): void {
  if (value >= range[0] && value <= range[1]) return;
  throw new OutsideValidity({ quantity, value, range, unit, source: 'cipm-2007' });
}

function requireAir(temperatureC: number, pressureHpa: number, humidityPercent: number): void {
  requireInside('Air temperature', temperatureC, AIR_TEMPERATURE_RANGE_C, '°C');
  requireInside('Air pressure', pressureHpa, AIR_PRESSURE_RANGE_HPA, 'hPa');
  requireInside('Relative humidity', humidityPercent, HUMIDITY_RANGE_PERCENT, '%');
}

/** True where the temperature is computed with, but the formula was not stated for it. */
export function airFormulaExtrapolated(temperatureC: number): boolean {
  return temperatureC < AIR_TEMPERATURE_STATED_C[0] || temperatureC > AIR_TEMPERATURE_STATED_C[1];
}

/**
 * Saturation vapour pressure of water in Pa: exp(A·T² + B·T + C + D/T), T in K.
 * @source cipm-2007, appendix, eq. (A1.1)
 */
export function saturationPressurePa(temperatureC: number): number {
  const t = temperatureC + ZERO_C;
  return Math.exp(A * t * t + B * t + C + D / t);
}

/**
 * Density of moist air in kg/m3, carbon dioxide 400 ppm.
 * ρ = p·Ma/(Z·R·T)·(1 − xv·(1 − Mv/Ma)); stated for 600 to 1100 hPa and 15 to 27 °C with a relative standard
 * uncertainty of 2.2e-5, computed from 5 to 40 °C.
 * @param pressureHpa station pressure, not reduced to sea level
 * @source cipm-2007, eq. (1) and appendix
 * @throws OutsideValidity outside 5–40 °C, 600–1100 hPa, 0–100 %
 */
export function airDensityKgPerM3(temperatureC: number, pressureHpa: number, humidityPercent: number): number {
  requireAir(temperatureC, pressureHpa, humidityPercent);
  return airDensityUnchecked(temperatureC, pressureHpa, humidityPercent);
}

/**
 * The same formula without looking at its range, for draws around air that was looked at.
 * @source cipm-2007, eq. (1) and appendix
 */
export function airDensityUnchecked(temperatureC: number, pressureHpa: number, humidityPercent: number): number {
  const t = temperatureC;
  const kelvin = t + ZERO_C;
  const p = pressureHpa * 100;
  const f = ALPHA + BETA * p + GAMMA * t * t;
  const xv = ((humidityPercent / 100) * f * saturationPressurePa(t)) / p;
  const q = p / kelvin;
  const s = A0 + A1 * t + A2 * t * t + (B0 + B1 * t) * xv + (C0 + C1 * t) * xv * xv;
  const z = 1 - q * s + q * q * (DZ + EZ * xv * xv);
  return ((p * MA) / (z * R * kelvin)) * (1 - K * xv);
}

export interface AirPartials {
  densityKgPerM3: number;
  perC: number;
  perHpa: number;
  perPercent: number;
}

/**
 * Density of moist air with its partial derivatives in closed form: kg/m3 per K, per hPa, per % relative humidity.
 * @source cipm-2007, eq. (1) and appendix, differentiated
 * @throws OutsideValidity outside 5–40 °C, 600–1100 hPa, 0–100 %
 */
export function airDensityPartials(temperatureC: number, pressureHpa: number, humidityPercent: number): AirPartials {
  requireAir(temperatureC, pressureHpa, humidityPercent);
  const t = temperatureC;
  const kelvin = t + ZERO_C;
  const p = pressureHpa * 100;
  const h = humidityPercent / 100;
  const psv = saturationPressurePa(t);
  const psvPerK = psv * (2 * A * kelvin + B - D / (kelvin * kelvin));
  const f = ALPHA + BETA * p + GAMMA * t * t;
  const xv = (h * f * psv) / p;
  const xvPerK = (h / p) * (2 * GAMMA * t * psv + f * psvPerK);
  const xvPerPa = h * psv * (BETA / p - f / (p * p));
  const xvPerH = (f * psv) / p;
  const q = p / kelvin;
  const s = A0 + A1 * t + A2 * t * t + (B0 + B1 * t) * xv + (C0 + C1 * t) * xv * xv;
  const sPerK = A1 + 2 * A2 * t + B1 * xv + C1 * xv * xv;
  const sPerXv = B0 + B1 * t + 2 * (C0 + C1 * t) * xv;
  const e = DZ + EZ * xv * xv;
  const z = 1 - q * s + q * q * e;
  const zPerQ = -s + 2 * q * e;
  const zPerXv = -q * sPerXv + q * q * 2 * EZ * xv;
  const zPerK = (-q / kelvin) * zPerQ - q * sPerK + zPerXv * xvPerK;
  const zPerPa = zPerQ / kelvin + zPerXv * xvPerPa;
  const dry = 1 - K * xv;
  const density = ((p * MA) / (z * R * kelvin)) * dry;
  return {
    densityKgPerM3: density,
    perC: density * (-1 / kelvin - zPerK / z - (K * xvPerK) / dry),
    perHpa: density * (1 / p - zPerPa / z - (K * xvPerPa) / dry) * 100,
    perPercent: density * ((-zPerXv * xvPerH) / z - (K * xvPerH) / dry) * 0.01,
  };
}
