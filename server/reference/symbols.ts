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
  airKelvin: { symbol: 'T', meaning: 'temperature of the air, t_a + 273.15', unit: 'K' },
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
