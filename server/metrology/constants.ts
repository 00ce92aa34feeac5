import type { Constant } from './sources.ts';

/** Density of the reference weights the balance is adjusted with, by convention. */
export const WEIGHTS_DENSITY: Constant = {
  value: 8000,
  unit: 'kg/m3',
  source: 'oiml-d-28-2004',
  locator: 'conventional density of the weights',
};

/** Conductivity per unit: dissolved salts raise the density of tap water. */
export const TAP_WATER_PER_CONDUCTIVITY: Constant = {
  value: 0.5e-6,
  unit: 'cm/µS',
  source: 'common-practice',
  locator: 'relative change of density per µS/cm',
};

/** Relative excess density of tap water whose conductivity nobody measured. */
export const TAP_WATER_UNMEASURED: Constant = {
  value: 200e-6,
  unit: '1',
  source: 'common-practice',
  locator: 'about 400 µS/cm',
};

/** Air that nobody measured. */
export const ASSUMED_AIR_TEMPERATURE: Constant = {
  value: 20,
  unit: '°C',
  source: 'common-practice',
  locator: 'a heated room',
};

export const ASSUMED_HUMIDITY: Constant = {
  value: 50,
  unit: '%',
  source: 'common-practice',
  locator: 'middle of the possible range',
};

export const STANDARD_PRESSURE: Constant = {
  value: 1013.25,
  unit: 'hPa',
  source: 'iso-2533-1975',
  locator: 'pressure at mean sea level',
};

/** Mass of a millilitre of water in simple division. */
export const SIMPLE_WATER_DENSITY: Constant = {
  value: 1,
  unit: 'g/mL',
  source: 'common-practice',
  locator: 'one gram of water taken as one millilitre',
};
