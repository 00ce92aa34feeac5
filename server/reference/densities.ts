import {
  AIR_COEFFICIENTS,
  AIR_PRESSURE_RANGE_HPA,
  AIR_TEMPERATURE_RANGE_C,
  AIR_TEMPERATURE_STATED_C,
  HUMIDITY_RANGE_PERCENT,
} from '../metrology/air-density.ts';
import { ATMOSPHERE_COEFFICIENTS } from '../metrology/atmosphere.ts';
import {
  ASSUMED_AIR_TEMPERATURE,
  ASSUMED_HUMIDITY,
  STANDARD_PRESSURE,
  TAP_WATER_PER_CONDUCTIVITY,
  TAP_WATER_UNMEASURED,
} from '../metrology/constants.ts';
import { VERSIONS } from '../metrology/versions.ts';
import {
  DISSOLVED_AIR_COEFFICIENTS,
  DISSOLVED_AIR_RANGE_C,
  WATER_COEFFICIENTS,
  WATER_DENSITY_FORMULA,
  WATER_RANGE_C,
} from '../metrology/water-density.ts';
import type { Formula } from './contract.ts';
import { coefficients, constant, symbols } from './symbols.ts';

export const between = ([low, high]: readonly [number, number], unit: string): string => `${low} to ${high} ${unit}`;

const water: Formula = {
  id: 'water-density',
  title: 'Density of water',
  formula: 'ρ_w = a_5 · (1 − (t_w + a_1)^2 · (t_w + a_2) / (a_3 · (t_w + a_4)))',
  meaning:
    'Pure, air-free water at the pressure of one atmosphere. One degree near 20 °C changes the density, and with it the volume worked out, by about 0.02 %; a thermometer in the water matters more than any other reading beside the balance.',
  symbols: symbols('waterDensity', 'water'),
  constants: coefficients(
    WATER_COEFFICIENTS,
    { a_1: '°C', a_2: '°C', a_3: '°C²', a_4: '°C', a_5: 'kg/m³' },
    'tanaka-2001',
    'table 1',
  ),
  range: `${between(WATER_RANGE_C, '°C')}; outside it nothing is computed. Standard uncertainty of the formula ${WATER_DENSITY_FORMULA.standardUncertainty} kg/m³.`,
  source: 'tanaka-2001',
  locator: 'eq. (1) and table 1',
  version: VERSIONS.waterDensity,
};

const dissolvedAir: Formula = {
  id: 'dissolved-air',
  title: 'Water saturated with air',
  formula: 'ρ_w = ρ_p + s_0 + s_1 · t_w',
  meaning:
    'Water that has stood open takes up air and becomes lighter by two to five parts in a million. Used only where the calibration says so.',
  symbols: symbols('waterDensity', 'pureDensity', 'water'),
  constants: coefficients(
    DISSOLVED_AIR_COEFFICIENTS,
    { s_0: 'kg/m³', s_1: 'kg/(m³·°C)' },
    'tanaka-2001',
    'eq. (2), after Bignell',
  ),
  range: `Stated for ${between(DISSOLVED_AIR_RANGE_C, '°C')}; above, it is used with a finding.`,
  source: 'tanaka-2001',
  locator: 'eq. (2), after Bignell',
  version: VERSIONS.waterDensity,
};

const tapWater: Formula = {
  id: 'tap-water',
  title: 'Tap water',
  formula: 'ρ_w = ρ_p · (1 + a_κ · κ)\nρ_w = ρ_p · (1 + a_0) when the conductivity was not measured',
  meaning:
    'Dissolved salts make water heavier. Half a part in a million for each µS/cm is a usual value for drinking water, not a property of yours; pure water needs no such guess.',
  symbols: symbols('waterDensity', 'pureDensity', 'conductivity'),
  constants: [constant('a_κ', TAP_WATER_PER_CONDUCTIVITY), constant('a_0', TAP_WATER_UNMEASURED)],
  range: 'Drinking water; not for salt water or solutions.',
  source: 'common-practice',
  locator: '0.5 ppm of density per µS/cm',
  version: VERSIONS.model,
};

const AIR_UNITS = {
  ...{ A: '1/K²', B: '1/K', D: 'K', β: '1/Pa', γ: '1/K²' },
  ...{ a_0: 'K/Pa', a_1: '1/Pa', a_2: '1/(K·Pa)', b_0: 'K/Pa', b_1: '1/Pa', c_0: 'K/Pa', c_1: '1/Pa' },
  ...{ d: 'K²/Pa²', e: 'K²/Pa²', R: 'J/(mol·K)', M_a: 'kg/mol', M_v: 'kg/mol' },
};

const air: Formula = {
  id: 'air-density',
  title: 'Density of moist air',
  formula: [
    'ρ_a = p · M_a / (Z_a · R · T) · (1 − x_v · (1 − M_v / M_a))',
    'x_v = h · (α + β · p + γ · t_a^2) · p_s / p',
    'p_s = exp(A · T^2 + B · T + C + D / T)',
    'Z_a = 1 − p/T · (a_0 + a_1 · t_a + a_2 · t_a^2 + (b_0 + b_1 · t_a) · x_v + (c_0 + c_1 · t_a) · x_v^2) + p^2/T^2 · (d + e · x_v^2)',
  ].join('\n'),
  meaning:
    'Air carries a little of what it surrounds. Water is eight times less dense than the weights, so the balance shows about 1 mg too little for each gram. The pressure is the one at the balance: the figure of a weather report is reduced to sea level and misleads in high places.',
  symbols: symbols(
    'airDensity',
    'pressure',
    'air',
    'airKelvin',
    'humidity',
    'vapourShare',
    'vapour',
    'compressibility',
  ),
  constants: coefficients(AIR_COEFFICIENTS, AIR_UNITS, 'cipm-2007', 'appendix'),
  range: [
    `Stated for ${between(AIR_TEMPERATURE_STATED_C, '°C')} and ${between(AIR_PRESSURE_RANGE_HPA, 'hPa')}, at 400 ppm carbon dioxide.`,
    `From ${between(AIR_TEMPERATURE_RANGE_C, '°C')} it is used with a finding; humidity ${between(HUMIDITY_RANGE_PERCENT, '%')}. Beyond that nothing is computed.`,
  ].join(' '),
  source: 'cipm-2007',
  locator: 'eq. (1) and appendix',
  version: VERSIONS.airDensity,
};

const atmosphere: Formula = {
  id: 'standard-atmosphere',
  title: 'Pressure that nobody measured',
  formula: 'p_H = p_0 · (1 − L · H / T_0)^n',
  meaning: `Without a barometer the standard atmosphere at the laboratory’s height stands in, ${ASSUMED_AIR_TEMPERATURE.value} °C for the temperature of the air and ${ASSUMED_HUMIDITY.value} % for its humidity. The result then carries a finding. Weather moves the true pressure by some 20 hPa about it.`,
  symbols: symbols('stationPressure', 'altitude'),
  constants: [
    constant('p_0', STANDARD_PRESSURE),
    ...coefficients(
      ATMOSPHERE_COEFFICIENTS,
      { T_0: 'K', L: 'K/m', n: '1' },
      'iso-2533-1975',
      'pressure in the troposphere',
    ),
  ],
  range: 'Below 11 000 m; Tarebook takes heights from −430 to 5000 m.',
  source: 'iso-2533-1975',
  locator: 'pressure in the troposphere',
  version: VERSIONS.model,
};

const dewPoint: Formula = {
  id: 'dew-point',
  title: 'Dew point',
  formula: 'p_s(t_d) = h · p_s(t_a)',
  meaning:
    'Below this temperature moisture settles on a vessel and is weighed as water. Tarebook warns when the water is colder than the dew point plus one kelvin.',
  symbols: symbols('dewPoint', 'air', 'humidity', 'vapour'),
  constants: [],
  range: 'Where the saturation pressure of moist air is computed; perfectly dry air has none.',
  source: 'cipm-2007',
  locator: 'appendix, eq. (A1.1), inverted by Newton’s method',
  version: VERSIONS.model,
};

export const DENSITY_FORMULAS: readonly Formula[] = [water, dissolvedAir, tapWater, air, atmosphere, dewPoint];
