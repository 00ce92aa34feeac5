import { saturationPressurePa } from './air-density.ts';
import { STANDARD_PRESSURE } from './constants.ts';

/** Sea-level temperature in K, lapse rate in K/m, and g·M/(R·lapse rate). */
const SEA_LEVEL_K = 288.15;
const LAPSE_K_PER_M = 0.0065;
const EXPONENT = 5.255877;

/** The numbers in the formula by their names, for whoever checks them against the source. */
export const ATMOSPHERE_COEFFICIENTS = { T_0: SEA_LEVEL_K, L: LAPSE_K_PER_M, n: EXPONENT };

/**
 * Pressure of the standard atmosphere in hPa at a geopotential altitude in m, below 11 000 m.
 * p = 1013.25·(1 − 0.0065·H/288.15)^5.255877
 * @source iso-2533-1975, pressure in the troposphere
 */
export function standardAtmosphereHpa(altitudeM: number): number {
  return STANDARD_PRESSURE.value * (1 - (LAPSE_K_PER_M * altitudeM) / SEA_LEVEL_K) ** EXPONENT;
}

/**
 * Temperature in °C at which this air would be saturated, with the vapour pressure formula of moist air; the
 * enhancement factor, a few parts in ten thousand, cancels. Null for perfectly dry air.
 * @source cipm-2007, appendix, eq. (A1.1), inverted by Newton's method
 */
export function dewPointC(airTemperatureC: number, humidityPercent: number): number | null {
  if (humidityPercent <= 0) return null;
  const target = Math.log((humidityPercent / 100) * saturationPressurePa(airTemperatureC));
  let t = airTemperatureC;
  for (let step = 0; step < 20; step += 1) {
    const here = Math.log(saturationPressurePa(t));
    const slope = Math.log(saturationPressurePa(t + 0.5)) - Math.log(saturationPressurePa(t - 0.5));
    const next = t + (target - here) / slope;
    if (Math.abs(next - t) < 1e-9) return next;
    t = next;
  }
  return t;
}
