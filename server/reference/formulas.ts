import { SIMPLE_WATER_DENSITY, WEIGHTS_DENSITY } from '../metrology/constants.ts';
import { VERSIONS } from '../metrology/versions.ts';
import type { Formula } from './contract.ts';
import { DENSITY_FORMULAS } from './densities.ts';
import { constant, symbols } from './symbols.ts';
import { JUDGING_FORMULAS, UNCERTAINTY_FORMULAS } from './uncertainty.ts';

const VOLUME_SOURCE = {
  source: 'iso-4787-2021',
  locator: 'equation for the volume at the reference temperature',
  version: VERSIONS.model,
} as const;

const correction: Formula = {
  id: 'instrument-correction',
  title: 'Reading and correction',
  formula: 'R_u = R + c(R)',
  meaning:
    'A certificate lists how far an instrument shows wrong at some readings. Between two of them a straight line is taken. The reading stays as it was displayed; the correction stands beside it.',
  symbols: symbols('used', 'reading', 'correction'),
  constants: [],
  range:
    'Inside the table of the certificate. Outside it the end value is taken, with a finding; without a table, zero.',
  source: 'common-practice',
  locator: 'linear interpolation in a calibration certificate',
  version: VERSIONS.model,
};

const mass: Formula = {
  id: 'mass',
  title: 'Mass of the water',
  formula: 'm = R_F − R_E',
  meaning:
    'Filled minus empty, subtracted digit by digit so that nothing is rounded on the way. A vessel to contain is weighed dry and then filled; for a vessel to deliver, empty and filled are those of the receiver.',
  symbols: symbols('mass', 'filled', 'empty'),
  constants: [],
  range: 'Filled above empty, both within the capacity of the balance.',
  ...VOLUME_SOURCE,
};

const evaporation: Formula = {
  id: 'evaporation',
  title: 'Water that evaporated',
  formula: 'm = m_0 + e · t_o / 60 000',
  meaning:
    'What leaves an open vessel before it is weighed belongs to the volume. Mostly too little to matter; below 0.2 mL it has to be known. Counted only where rate and time were recorded.',
  symbols: symbols('mass', 'massBefore', 'rate', 'openTime'),
  constants: [],
  range: 'A rate measured in the same room on the same day.',
  source: 'common-practice',
  locator: 'rate of evaporation times the time open',
  version: VERSIONS.model,
};

const factor: Formula = {
  id: 'z-factor',
  title: 'From grams to millilitres: the Z factor',
  formula: 'Z = 1000 · (1 − ρ_a / ρ_b) / (ρ_w − ρ_a)',
  meaning:
    'What one gram on the balance is worth in millilitres, at the temperature of the water: its density and the lift of the air in one number. Near 20 °C and at sea level about 1.0029 mL/g.',
  symbols: symbols('factor', 'waterDensity', 'airDensity', 'weightsDensity'),
  constants: [constant('ρ_b', WEIGHTS_DENSITY)],
  range: 'Where both densities hold, with a balance adjusted by weights of conventional mass.',
  ...VOLUME_SOURCE,
};

const volume: Formula = {
  id: 'volume',
  title: 'Volume at the reference temperature',
  formula: 'V = m · Z · (1 − γ · (t_w − t_r))',
  meaning:
    'The volume that judges the vessel. Each trial is worked out with its own temperature of the water, and with its own air where it was read again; the volumes are averaged, never the readings.',
  symbols: symbols('volume', 'mass', 'factor', 'expansion', 'water', 'reference'),
  constants: [],
  range: 'Where Z holds, the vessel as warm as the water in it.',
  ...VOLUME_SOURCE,
};

const simple: Formula = {
  id: 'simple-volume',
  title: 'What 1 g/mL costs',
  formula: 'V_s = m / ρ_1',
  meaning:
    'Many instructions divide the mass by one gram per millilitre. It is always too little: about 0.3 mL on 100 mL at 21 °C, three times the tolerance of a class A flask. Tarebook shows it beside the volume and judges nothing by it.',
  symbols: symbols('simple', 'mass'),
  constants: [constant('ρ_1', SIMPLE_WATER_DENSITY)],
  range: 'For comparison only.',
  source: 'common-practice',
  locator: 'mass divided by 1 g/mL',
  version: VERSIONS.model,
};

const inUse: Formula = {
  id: 'volume-in-use',
  title: 'Volume at another temperature',
  formula: 'V_t = V · (1 + γ · (t − t_r))',
  meaning:
    'The vessel itself grows a little as it warms: 0.005 mL for 100 mL of borosilicate glass and five kelvin, twenty to fifty times as much for plastics. The liquid in it changes far more, and that is another matter.',
  symbols: symbols('volumeInUse', 'volume', 'expansion', 'use', 'reference'),
  constants: [],
  range: 'A few ten kelvin about the reference temperature.',
  source: 'iso-4787-2021',
  locator: 'volume at a temperature other than the reference',
  version: VERSIONS.model,
};

const statistics: Formula = {
  id: 'mean-and-spread',
  title: 'Mean, bias and spread',
  formula: ['V_m = Σ V_i / n', 'b = V_m − V_0', 's = √(Σ (V_i − V_m)^2 / (n − 1))'].join('\n'),
  meaning:
    'The mean of the counted trials, how far it lies from what the mark says, and how far single trials scatter. An excluded trial leaves the mean, keeps its place in the record, and its cause is printed.',
  symbols: symbols('mean', 'single', 'count', 'bias', 'point', 'spread'),
  constants: [],
  range: 'A mean from one counted trial on, a spread from two.',
  source: 'jcgm-100-2008',
  locator: '4.2.1 and 4.2.2',
  version: VERSIONS.model,
};

const verdict: Formula = {
  id: 'verdict',
  title: 'Verdict',
  formula: [
    '|b| > T + U : fail, under any rule',
    'guarded: |b| ≤ T − U : pass; |b| ≤ T : conditional pass; else conditional fail; U ≥ T : not decidable',
    'simple: U ≤ T/3 : pass for |b| ≤ T, else fail; U > T/3 : pass for |b| ≤ T − U with U < T, else not decidable',
  ].join('\n'),
  meaning:
    'The rule is chosen before the first trial and named with every verdict. Equality is inside. One trial alone decides nothing short of a fail beyond doubt, unless its spread is a pooled one.',
  symbols: symbols('bias', 'tolerance', 'uncertainty'),
  constants: [],
  range: 'A vessel calibrated on the basis it is marked for; a vessel has the gravest verdict of its points.',
  source: 'ilac-g8-2019',
  locator: 'clause 4',
  version: VERSIONS.model,
};

const percent: Formula = {
  id: 'tolerance-in-per-cent',
  title: 'Tolerance given in per cent',
  formula: 'T = P / 100 · V_0',
  meaning:
    'Of the test point for beakers and conical flasks, of the nominal volume for everything else. A value marked on the vessel goes before the table.',
  symbols: symbols('tolerance', 'percent', 'point'),
  constants: [],
  range: 'Rows and marks in per cent.',
  source: 'common-practice',
  locator: 'per cent of the mark that is filled to',
  version: VERSIONS.tolerances,
};

/** Every formula in use, in the order a reading goes through them. */
export const FORMULAS: readonly Formula[] = [
  correction,
  mass,
  evaporation,
  ...DENSITY_FORMULAS,
  factor,
  volume,
  simple,
  inUse,
  statistics,
  ...UNCERTAINTY_FORMULAS,
  percent,
  verdict,
  ...JUDGING_FORMULAS,
];
