import { OutsideValidity } from './outside-validity.ts';
import { TAP_WATER_PER_CONDUCTIVITY, TAP_WATER_UNMEASURED } from './constants.ts';
import type { Constant } from './sources.ts';

const A1 = -3.983035;
const A2 = 301.797;
const A3 = 522528.9;
const A4 = 69.34881;
const A5 = 999.97495;

/** Air dissolved to saturation: s0 + s1·t, stated for 0 to 25 °C. */
const S0 = -4.612e-3;
const S1 = 1.06e-4;
export const DISSOLVED_AIR_PER_K = S1;

/** The coefficients by their names in the source, for whoever checks them against it. */
export const WATER_COEFFICIENTS = { a_1: A1, a_2: A2, a_3: A3, a_4: A4, a_5: A5 };
export const DISSOLVED_AIR_COEFFICIENTS = { s_0: S0, s_1: S1 };

export const WATER_RANGE_C: readonly [number, number] = [0, 40];
export const DISSOLVED_AIR_RANGE_C: readonly [number, number] = [0, 25];

export const WATER_DENSITY_FORMULA: Constant = {
  value: 1,
  unit: '1',
  standardUncertainty: 0.00045,
  source: 'tanaka-2001',
  locator: 'eq. (1); standard uncertainty of the formula in kg/m3',
};

function requireWaterTemperature(temperatureC: number): void {
  if (temperatureC >= WATER_RANGE_C[0] && temperatureC <= WATER_RANGE_C[1]) return;
  throw new OutsideValidity({
    quantity: 'Water temperature',
    value: temperatureC,
    range: WATER_RANGE_C,
    unit: '°C',
    source: 'tanaka-2001',
  });
}

/**
 * Density of pure, air-free water at 101 325 Pa in kg/m3.
 * ρ = a5·(1 − (t + a1)²·(t + a2)/(a3·(t + a4))), t in °C (ITS-90), 0 to 40 °C, u = 0.000 45 kg/m3.
 * @source tanaka-2001, eq. (1) and table 1
 * @throws OutsideValidity below 0 °C and above 40 °C
 */
export function waterDensityKgPerM3(temperatureC: number): number {
  requireWaterTemperature(temperatureC);
  return waterDensityUnchecked(temperatureC);
}

/**
 * The same formula without looking at its range, for draws around a temperature that was looked at.
 * @source tanaka-2001, eq. (1)
 */
export function waterDensityUnchecked(temperatureC: number): number {
  const shifted = temperatureC + A1;
  return A5 * (1 - (shifted * shifted * (temperatureC + A2)) / (A3 * (temperatureC + A4)));
}

/**
 * Change of the density with temperature in kg/m3 per K, closed form of the derivative; 0 to 40 °C.
 * @source tanaka-2001, eq. (1), differentiated
 * @throws OutsideValidity below 0 °C and above 40 °C
 */
export function waterDensityPerK(temperatureC: number): number {
  requireWaterTemperature(temperatureC);
  const s = temperatureC + A1;
  const w = temperatureC + A2;
  const n = temperatureC + A4;
  return ((-A5 / A3) * ((2 * s * w + s * s) * n - s * s * w)) / (n * n);
}

/**
 * What dissolved air adds to the density, kg/m3 (negative), for water saturated with air; stated for 0 to 25 °C.
 * @source tanaka-2001, eq. (2), after Bignell
 */
export function dissolvedAirKgPerM3(temperatureC: number): number {
  return S0 + S1 * temperatureC;
}

/**
 * Factor on the density of pure water for tap water; without a conductivity the usual 200 ppm.
 * @param conductivityUsPerCm conductivity in µS/cm, or null when nobody measured it
 * @source common-practice, 0.5 ppm of density per µS/cm
 */
export function tapWaterFactor(conductivityUsPerCm: number | null): number {
  return conductivityUsPerCm === null
    ? 1 + TAP_WATER_UNMEASURED.value
    : 1 + TAP_WATER_PER_CONDUCTIVITY.value * conductivityUsPerCm;
}
