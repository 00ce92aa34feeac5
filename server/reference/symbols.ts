import type { Constant } from '../metrology/sources.ts';
import type { Formula } from './contract.ts';

type Symbols = Formula['symbols'];
type Constants = Formula['constants'];

/** Every symbol with its meaning and unit, once for all formulas: the same letter never means two things in one of them. */
const SYMBOLS = {
  reading: { symbol: 'R', meaning: 'reading as displayed', unit: 'of the instrument' },
  used: { symbol: 'R_u', meaning: 'reading as it is computed with', unit: 'of the instrument' },
  correction: {
    symbol: 'c(R)',
    meaning: 'correction at that reading, from the certificate',
    unit: 'of the instrument',
  },
  empty: { symbol: 'R_E', meaning: 'empty reading, corrected', unit: 'g' },
  filled: { symbol: 'R_F', meaning: 'filled reading, corrected', unit: 'g' },
  mass: { symbol: 'm', meaning: 'mass of the water as the balance shows it', unit: 'g' },
  massBefore: { symbol: 'm_0', meaning: 'mass before the correction for evaporation', unit: 'g' },
  rate: { symbol: 'e', meaning: 'evaporation, measured on the open vessel', unit: 'mg/min' },
  openTime: { symbol: 't_o', meaning: 'time the vessel stood open', unit: 's' },
  water: { symbol: 't_w', meaning: 'temperature of the water', unit: '°C' },
  waterDensity: { symbol: 'ρ_w', meaning: 'density of the water', unit: 'kg/m³' },
  pureDensity: { symbol: 'ρ_p', meaning: 'density of pure, air-free water', unit: 'kg/m³' },
  conductivity: { symbol: 'κ', meaning: 'conductivity of the tap water', unit: 'µS/cm' },
  air: { symbol: 't_a', meaning: 'temperature of the air', unit: '°C' },
  airKelvin: { symbol: 'T', meaning: 'temperature of the air in kelvin', unit: 'K' },
  pressure: { symbol: 'p', meaning: 'pressure at the balance, not reduced to sea level', unit: 'Pa' },
  humidity: { symbol: 'h', meaning: 'relative humidity, as a share of 1', unit: '1' },
  vapour: { symbol: 'p_s', meaning: 'saturation pressure of water vapour', unit: 'Pa' },
  vapourShare: { symbol: 'x_v', meaning: 'share of water vapour in the air (mole fraction)', unit: '1' },
  compressibility: { symbol: 'Z_a', meaning: 'compressibility of the air', unit: '1' },
  airDensity: { symbol: 'ρ_a', meaning: 'density of the air', unit: 'kg/m³' },
  weightsDensity: { symbol: 'ρ_b', meaning: 'density of the weights, by convention', unit: 'kg/m³' },
  factor: { symbol: 'Z', meaning: 'volume that one gram on the balance stands for', unit: 'mL/g' },
  expansion: { symbol: 'γ', meaning: 'cubic expansion coefficient of the vessel', unit: '1/K' },
  reference: { symbol: 't_r', meaning: 'reference temperature, 20 or 27 °C', unit: '°C' },
  volume: { symbol: 'V', meaning: 'volume at the reference temperature', unit: 'mL' },
  volumeInUse: { symbol: 'V_t', meaning: 'volume at the temperature of use', unit: 'mL' },
  use: { symbol: 't', meaning: 'temperature of use', unit: '°C' },
  simple: { symbol: 'V_s', meaning: 'volume by simple division', unit: 'mL' },
  altitude: { symbol: 'H', meaning: 'height above sea level', unit: 'm' },
  stationPressure: { symbol: 'p_H', meaning: 'usual pressure at that height', unit: 'hPa' },
  seaLevel: { symbol: 'p_0', meaning: 'pressure at sea level', unit: 'hPa' },
  dewPoint: { symbol: 't_d', meaning: 'dew point of the air', unit: '°C' },
  single: { symbol: 'V_i', meaning: 'volume of one counted trial', unit: 'mL' },
  count: { symbol: 'n', meaning: 'number of counted trials', unit: '1' },
  mean: { symbol: 'V_m', meaning: 'mean volume', unit: 'mL' },
  point: { symbol: 'V_0', meaning: 'test point, for one-mark ware the nominal volume', unit: 'mL' },
  bias: { symbol: 'b', meaning: 'bias: mean volume minus test point', unit: 'mL' },
  spread: { symbol: 's', meaning: 'spread: standard deviation of single trials', unit: 'mL' },
  tolerance: { symbol: 'T', meaning: 'tolerance of the class, or as marked', unit: 'mL' },
  uncertainty: { symbol: 'U', meaning: 'expanded uncertainty of the mean volume', unit: 'mL' },
  perMass: { symbol: 'c_m', meaning: 'change for one gram', unit: 'mL/g' },
  perWater: { symbol: 'c_w', meaning: 'change for one kelvin of the water', unit: 'mL/K' },
  perAir: { symbol: 'c_a', meaning: 'change for one kg/m³ of the air', unit: 'mL·m³/kg' },
  perExpansion: { symbol: 'c_γ', meaning: 'change with the expansion coefficient', unit: 'mL·K' },
  waterSlope: { symbol: 'ρ′', meaning: 'change of the density of water with each kelvin', unit: 'kg/(m³·K)' },
  repeatability: { symbol: 'u_s', meaning: 'standard uncertainty of the mean by the spread', unit: 'mL' },
  setting: { symbol: 'a_M', meaning: 'half-width of setting the meniscus', unit: 'mL' },
  diameter: { symbol: 'd', meaning: 'inner diameter where the meniscus stands', unit: 'mm' },
  division: { symbol: 'D', meaning: 'division of the scale', unit: 'mL' },
  component: { symbol: 'u_i', meaning: 'standard uncertainty of one component', unit: 'its own' },
  halfWidth: { symbol: 'a_i', meaning: 'half-width within which it surely lies', unit: 'its own' },
  certified: { symbol: 'U_i', meaning: 'expanded uncertainty of a certificate', unit: 'its own' },
  certifiedFactor: { symbol: 'k_i', meaning: 'coverage factor of that certificate', unit: '1' },
  sensitivity: { symbol: 'c_i', meaning: 'change of the volume for one unit of it', unit: 'mL per unit' },
  combined: { symbol: 'u_c', meaning: 'combined standard uncertainty of the mean', unit: 'mL' },
  contribution: { symbol: 'u_i', meaning: 'contribution of one component, in millilitres', unit: 'mL' },
  ownDegrees: { symbol: 'ν_i', meaning: 'degrees of freedom of that component', unit: '1' },
  effective: { symbol: 'ν_e', meaning: 'effective degrees of freedom', unit: '1' },
  coverage: { symbol: 'k', meaning: 'coverage factor, a quantile of Student’s t', unit: '1' },
  probability: { symbol: 'p_c', meaning: 'coverage probability', unit: '1' },
  conformity: { symbol: 'P_c', meaning: 'probability of conformity', unit: '1' },
  distribution: { symbol: 'F', meaning: 'distribution function of Student’s t', unit: '1' },
  largestDifference: { symbol: 'D', meaning: 'largest difference of errors', unit: 'mL' },
  largestBias: { symbol: 'b_max', meaning: 'largest bias of a point', unit: 'mL' },
  smallestBias: { symbol: 'b_min', meaning: 'smallest bias of a point', unit: 'mL' },
  grubbs: { symbol: 'G', meaning: 'critical value', unit: '1' },
  grubbsQuantile: { symbol: 't_q', meaning: 'quantile of Student’s t at 1 − 0.05/(2n)', unit: '1' },
  percent: { symbol: 'P', meaning: 'tolerance in per cent', unit: '%' },
} as const;

export const symbols = (...names: (keyof typeof SYMBOLS)[]): Symbols => names.map((name) => ({ ...SYMBOLS[name] }));

/** A constant of the computation under the letter it has in the formula. */
export const constant = (symbol: string, known: Constant): Constants[number] => ({
  symbol,
  value: known.value,
  unit: prettyUnit(known.unit),
  standardUncertainty: known.standardUncertainty ?? null,
  source: known.source,
  locator: known.locator,
});

/** Coefficients of one published formula; units are those of the source, and its table names them. */
export const coefficients = (
  values: Readonly<Record<string, number>>,
  units: Readonly<Record<string, string>>,
  source: Constant['source'],
  locator: string,
): Constants =>
  Object.entries(values).map(([symbol, value]) => ({
    symbol,
    value,
    unit: units[symbol] ?? '1',
    standardUncertainty: null,
    source,
    locator,
  }));

const prettyUnit = (unit: string): string => unit.replace(/m3\b/, 'm³');
