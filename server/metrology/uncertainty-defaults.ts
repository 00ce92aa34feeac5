import type { Constant } from './sources.ts';

function practice(value: number, unit: string, locator: string): Constant {
  return { value, unit, source: 'common-practice', locator };
}

/** What is taken where nothing is known; a line that uses one is marked assumed. */
export const DEFAULTS = {
  linearitySteps: practice(2, '1', 'half-width of the non-linearity in last digits'),
  calibrationAdjusted: practice(1.5e-5, '1', 'relative half-width, balance adjusted here on the day'),
  calibration: practice(1e-4, '1', 'relative half-width, balance not adjusted on the day'),
  thermometerHalfWidthC: practice(0.5, 'K', 'thermometer without certificate'),
  gradientC: practice(0.1, 'K', 'half-width of the gradient in the water'),
  airTemperatureC: practice(2, 'K', 'half-width'),
  airPressureKnownHpa: practice(20, 'hPa', 'half-width, value typed or altitude set'),
  airPressureUnknownHpa: practice(100, 'hPa', 'half-width, neither typed nor altitude set'),
  humidityPercent: practice(20, '%', 'half-width'),
  tapCorrectionShare: practice(0.3, '1', 'half-width as a share of the correction for salts'),
  weightsDensity: practice(70, 'kg/m3', 'half-width; the convention leaves almost nothing'),
  vesselMinimumK: practice(0.2, 'K', 'least half-width of the difference between glass and water'),
  vesselShare: practice(0.25, '1', 'share of the difference between air and water that reaches the glass'),
  ringMarkMm: practice(0.05, 'mm', 'half-width of setting a ring mark, common to all trials'),
  broadMarkMm: practice(1, 'mm', 'half-width of setting a printed mark of a beaker'),
  divisionShare: practice(0.1, '1', 'half-width of setting a scale, in divisions'),
  broadDivisionShare: practice(0.25, '1', 'half-width of setting a printed scale, in divisions'),
  unknownMarkShare: practice(
    0.1,
    '1',
    'half-width where neither diameter nor division is known, share of the tolerance',
  ),
  boreSmallMm: practice(4, 'mm', 'bore of a single-volume pipette up to 10 mL'),
  boreLargeMm: practice(6, 'mm', 'bore of a single-volume pipette above 10 mL'),
  evaporationShare: practice(0.5, '1', 'half-width as a share of the evaporated mass'),
  spreadRingMarkMm: practice(0.1, 'mm', 'spread of setting a ring mark'),
  spreadDivisions: practice(0.15, '1', 'spread of setting a scale, in divisions'),
  spreadBroadDivisions: practice(0.5, '1', 'spread of setting a printed scale, in divisions'),
  predictedDegreesOfFreedom: practice(8, '1', 'a spread guessed to 25 %'),
} as const satisfies Record<string, Constant>;

/** Relative standard uncertainty of the air density formula where it is stated, and where it is extrapolated. */
export const AIR_FORMULA_STATED: Constant = {
  value: 2.2e-5,
  unit: '1',
  source: 'cipm-2007',
  locator: 'relative standard uncertainty of the formula',
};

export const AIR_FORMULA_EXTRAPOLATED: Constant = practice(2e-4, '1', 'formula used outside 15 to 27 °C');
