/** What the small calculators of the formulas take and show. All arithmetic is the computation's own. */
import { airDensityKgPerM3 } from '../../../server/metrology/air-density.ts';
import { dewPointC, standardAtmosphereHpa } from '../../../server/metrology/atmosphere.ts';
import { correctionAt, correctionTable } from '../../../server/metrology/corrections.ts';
import { decimalsOf, subtractDecimals } from '../../../server/metrology/decimal.ts';
import { neckMlPerMm } from '../../../server/metrology/reading-mark.ts';
import { toleranceMlAt } from '../../../server/metrology/tolerance.ts';
import { DEFAULTS } from '../../../server/metrology/uncertainty-defaults.ts';
import { massToVolumeFactor, simpleVolumeMl, volumeAtReference, volumeMlAt } from '../../../server/metrology/volume.ts';
import {
  dissolvedAirKgPerM3,
  tapWaterFactor,
  waterDensityKgPerM3,
  waterDensityPerK,
} from '../../../server/metrology/water-density.ts';
import { referenceText } from '../../messages/en-reference.ts';
import { fixed, signed } from '../../parts/rounding.ts';
import { simpleErrorMl } from '../../plots/reference-curves.ts';

export type QuantityName = keyof typeof referenceText.quantities;

interface Input {
  name: QuantityName;
  unit: string;
  /** Stands in the field at first: a likely value. */
  start: string;
  /** May lie below zero. */
  signed?: boolean;
  /** Must lie above zero. */
  positive?: boolean;
  /** Must not lie below zero. */
  atLeastZero?: boolean;
  /** Counts: no fraction. */
  whole?: boolean;
  /** Lowest and highest value there is, both inside. */
  within?: readonly [number, number];
}

export interface CalculatedResult {
  label: string;
  value: string;
  unit: string;
  /** One short line below. */
  sub?: string;
}

/** Typed values as numbers, by name. Every name of the inputs is there. */
export type Numbers = Readonly<Record<string, number>>;
export type Typed = Readonly<Record<string, string>>;

export interface Calculation {
  inputs: readonly Input[];
  /** @throws OutsideValidity for values the formula was never stated for */
  compute: (values: Numbers, typed: Typed) => CalculatedResult[];
}

const words = referenceText.results;

const WATER: Input = { name: 'water', unit: '°C', start: '21.3' };
const AIR: readonly Input[] = [
  { name: 'air', unit: '°C', start: '21.8' },
  { name: 'pressure', unit: 'hPa', start: '992.5' },
  { name: 'humidity', unit: '%', start: '48' },
];
const EXPANSION: Input = { name: 'expansion', unit: '10⁻⁶ /K', start: '9.9' };
const REFERENCE: Input = { name: 'reference', unit: '°C', start: '20' };

/** A value that is there because the inputs name it. */
export const at = (values: Numbers, name: QuantityName): number => values[name] ?? NaN;
export const airOf = (values: Numbers): number =>
  airDensityKgPerM3(at(values, 'air'), at(values, 'pressure'), at(values, 'humidity'));

const density = (value: number): CalculatedResult => ({
  label: words.waterDensity,
  value: fixed(value, 4),
  unit: 'kg/m³',
});
const milli = (label: string, value: number, decimals = 4): CalculatedResult => ({
  label,
  value: fixed(value, decimals),
  unit: 'mL',
});
const difference = (label: string, value: number, decimals = 4): CalculatedResult => ({
  label,
  value: signed(value, decimals),
  unit: 'mL',
});

const densities: Record<string, Calculation> = {
  'water-density': {
    inputs: [WATER],
    compute: (values) => [
      density(waterDensityKgPerM3(at(values, 'water'))),
      { label: words.perKelvin, value: fixed(waterDensityPerK(at(values, 'water')), 4), unit: 'kg/m³' },
    ],
  },
  'dissolved-air': {
    inputs: [WATER],
    compute: (values) => {
      const pure = waterDensityKgPerM3(at(values, 'water'));
      const change = dissolvedAirKgPerM3(at(values, 'water'));
      return [density(pure + change), { label: words.change, value: signed(change, 5), unit: 'kg/m³' }];
    },
  },
  'tap-water': {
    inputs: [WATER, { name: 'conductivity', unit: 'µS/cm', start: '400' }],
    compute: (values) => {
      const pure = waterDensityKgPerM3(at(values, 'water'));
      const tap = pure * tapWaterFactor(at(values, 'conductivity'));
      return [density(tap), { label: words.change, value: signed(tap - pure, 4), unit: 'kg/m³' }];
    },
  },
  'air-density': {
    inputs: AIR,
    compute: (values) => [{ label: words.airDensity, value: fixed(airOf(values), 5), unit: 'kg/m³' }],
  },
  'standard-atmosphere': {
    inputs: [{ name: 'altitude', unit: 'm', start: '180', signed: true }],
    compute: (values) => [
      { label: words.pressure, value: fixed(standardAtmosphereHpa(at(values, 'altitude')), 1), unit: 'hPa' },
    ],
  },
  'dew-point': {
    inputs: [AIR[0]!, AIR[2]!],
    compute: (values) => {
      const dew = dewPointC(at(values, 'air'), at(values, 'humidity'));
      return [
        dew === null
          ? { label: words.dewPoint, value: words.dry, unit: '' }
          : { label: words.dewPoint, value: fixed(dew, 1), unit: '°C' },
      ];
    },
  },
};

const volumes: Record<string, Calculation> = {
  'z-factor': {
    inputs: [WATER, ...AIR],
    compute: (values) => {
      const factor = massToVolumeFactor(waterDensityKgPerM3(at(values, 'water')), airOf(values));
      return [{ label: words.factor, value: fixed(factor, 6), unit: 'mL/g' }];
    },
  },
  volume: {
    inputs: [{ name: 'mass', unit: 'g', start: '99.6337', positive: true }, WATER, ...AIR, EXPANSION, REFERENCE],
    compute: (values) => {
      const massG = at(values, 'mass');
      const volumeMl = volumeAtReference({
        massG,
        waterTemperatureC: at(values, 'water'),
        airTemperatureC: at(values, 'air'),
        airPressureHpa: at(values, 'pressure'),
        relativeHumidityPercent: at(values, 'humidity'),
        expansionPerK: at(values, 'expansion') * 1e-6,
        referenceTemperatureC: at(values, 'reference'),
      });
      const simpleMl = simpleVolumeMl(massG);
      return [
        milli(words.volume, volumeMl),
        milli(words.simple, simpleMl),
        difference(words.simpleError, simpleMl - volumeMl),
      ];
    },
  },
  'simple-volume': {
    inputs: [{ name: 'nominal', unit: 'mL', start: '100', positive: true }, WATER, ...AIR, EXPANSION],
    compute: (values) => [difference(words.simpleError, simpleErrorMl(simpleCost(values), at(values, 'water')))],
  },
  'volume-in-use': {
    inputs: [
      { name: 'volume', unit: 'mL', start: '99.941', positive: true },
      EXPANSION,
      { name: 'use', unit: '°C', start: '25' },
      REFERENCE,
    ],
    compute: (values) => {
      const volumeMl = at(values, 'volume');
      const inUse = volumeMlAt(volumeMl, at(values, 'expansion') * 1e-6, at(values, 'use'), at(values, 'reference'));
      return [milli(words.inUse, inUse), difference(words.change, inUse - volumeMl)];
    },
  },
};

/** What simple division costs with these values, at any water temperature. */
export const simpleCost = (values: Numbers) => ({
  volumeMl: at(values, 'nominal'),
  airKgPerM3: airOf(values),
  expansionPerK: at(values, 'expansion') * 1e-6,
  referenceC: 20,
});

const MARKED = { kind: 'beaker', basis: 'contain' } as const;

const readings: Record<string, Calculation> = {
  'instrument-correction': {
    inputs: [
      { name: 'reading', unit: '', start: '21.3', signed: true },
      { name: 'at1', unit: '', start: '20.0', signed: true },
      { name: 'correction1', unit: '', start: '-0.04', signed: true },
      { name: 'at2', unit: '', start: '25.0', signed: true },
      { name: 'correction2', unit: '', start: '0.06', signed: true },
    ],
    compute: (values, typed) => {
      const row = (place: 'at1' | 'at2', correction: 'correction1' | 'correction2') => ({
        at: typed[place] ?? '',
        correction: typed[correction] ?? '',
      });
      const table = correctionTable([row('at1', 'correction1'), row('at2', 'correction2')]);
      const correction = correctionAt(table, at(values, 'reading'));
      const decimals = Math.max(...Object.values(typed).map(decimalsOf)) + 1;
      return [
        { label: words.correction, value: signed(correction.value, decimals), unit: '' },
        { label: words.used, value: fixed(at(values, 'reading') + correction.value, decimals), unit: '' },
        ...(correction.extrapolated ? [{ label: words.outsideTable, value: '', unit: '' }] : []),
      ];
    },
  },
  mass: {
    inputs: [
      { name: 'filled', unit: 'g', start: '160.8371', signed: true },
      { name: 'empty', unit: 'g', start: '61.2034', signed: true },
    ],
    compute: (_, typed) => [
      { label: words.mass, value: subtractDecimals(typed.filled ?? '', typed.empty ?? '').text, unit: 'g' },
    ],
  },
  'tolerance-in-per-cent': {
    inputs: [
      { name: 'percent', unit: '%', start: '5', positive: true },
      { name: 'point', unit: 'mL', start: '150', positive: true },
      { name: 'nominalVolume', unit: 'mL', start: '250', positive: true },
    ],
    compute: (values, typed) => {
      const tolerance = { markedPercent: typed.percent ?? '' };
      const vessel = { ...MARKED, nominalVolumeMl: typed.nominalVolume ?? '', tolerance };
      const point = at(values, 'point');
      return [
        milli(words.ofPoint, toleranceMlAt(vessel, null, point) ?? NaN, 3),
        milli(words.ofNominal, toleranceMlAt({ ...vessel, kind: 'measuring-cylinder' }, null, point) ?? NaN, 3),
      ];
    },
  },
};

const uncertainties: Record<string, Calculation> = {
  'meniscus-setting': {
    inputs: [{ name: 'diameter', unit: 'mm', start: '12', positive: true }],
    compute: (values) => {
      const perMm = neckMlPerMm(at(values, 'diameter'));
      return [milli(words.eachMillimetre, perMm), milli(words.halfWidth, perMm * DEFAULTS.ringMarkMm.value, 5)];
    },
  },
};

/** By the id of the formula; a formula that is missing here has no calculator, or one of its own. */
export const CALCULATIONS: Readonly<Record<string, Calculation>> = {
  ...readings,
  ...densities,
  ...volumes,
  ...uncertainties,
};
