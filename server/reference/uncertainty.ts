import { COMPONENT_NAMES } from '../metrology/component.ts';
import { DEFAULTS } from '../metrology/uncertainty-defaults.ts';
import { VERSIONS } from '../metrology/versions.ts';
import type { Formula, ReferenceBook } from './contract.ts';
import { constant, symbols } from './symbols.ts';

const version = VERSIONS.model;

const sensitivity: Formula = {
  id: 'sensitivity',
  title: 'What a small change does to the volume',
  formula: [
    'c_m = V / m',
    'c_w = V · (−γ / C − ρ′ / (ρ_w − ρ_a))',
    'c_a = V · (1 / (ρ_w − ρ_a) − 1 / (ρ_b − ρ_a))',
    'c_γ = −V · (t_w − t_r) / C with C = 1 − γ · (t_w − t_r)',
  ].join('\n'),
  meaning:
    'How many millilitres each input moves the volume by: a gram, a kelvin of the water, a density of the air, a coefficient of the glass. Worked out exactly at the mean values of the point; each line of a budget shows its own.',
  symbols: symbols(
    'perMass',
    'perWater',
    'perAir',
    'perExpansion',
    'volume',
    'mass',
    'expansion',
    'waterDensity',
    'waterSlope',
    'airDensity',
    'weightsDensity',
    'water',
    'reference',
  ),
  constants: [],
  range: 'Where the volume itself is computed.',
  source: 'jcgm-100-2008',
  locator: '5.1.3, applied to the volume equation of ISO 4787',
  version,
};

const repeatability: Formula = {
  id: 'repeatability',
  title: 'Repeatability of the mean',
  formula: 'u_s = s / √n',
  meaning:
    'The scatter of single trials becomes smaller in their mean. The spread is that of these trials, or one pooled over earlier calibrations and chosen before the first trial; for one trial alone it is predicted from balance and mark, and the result says so.',
  symbols: symbols('repeatability', 'spread', 'count'),
  constants: [],
  range: 'Own spread from two trials, with n − 1 degrees of freedom; a pooled one from ten degrees of freedom on.',
  source: 'jcgm-100-2008',
  locator: '4.2.3',
  version,
};

const setting: Formula = {
  id: 'meniscus-setting',
  title: 'Setting the meniscus',
  formula: ['a_M = π / 4 · d^2 · a_h for a ring mark', 'a_M = a_D · D for a scale, √2 times that to deliver'].join(
    '\n',
  ),
  meaning:
    'Somebody may set a little high or low in every trial alike; no number of trials shows it. A narrow neck makes it small, which is why volumetric flasks have one.',
  symbols: symbols('setting', 'diameter', 'division'),
  constants: [constant('a_h', DEFAULTS.ringMarkMm), constant('a_D', DEFAULTS.divisionShare)],
  range: 'One-mark ware by its diameter, graduated ware by its division; pycnometers and piston pipettes have none.',
  source: 'iso-384-2015',
  locator: 'relation of the tolerance to the inner diameter at the mark',
  version,
};

const combined: Formula = {
  id: 'combined-uncertainty',
  title: 'Combined uncertainty',
  formula: ['u_i = a_i / √3 for a half-width, U_i / k_i for a certificate', 'u_c = √(Σ (c_i · u_i)^2)'].join('\n'),
  meaning: `All ${COMPONENT_NAMES.length} components are always listed, also those that come to nothing, each with how it is known and whether it was assumed. Independent ones add as squares: the largest counts nearly alone.`,
  symbols: symbols('component', 'halfWidth', 'certified', 'certifiedFactor', 'sensitivity', 'combined'),
  constants: [],
  range: 'Independent influences, small beside the volume.',
  source: 'jcgm-100-2008',
  locator: '5.1.2',
  version,
};

const degrees: Formula = {
  id: 'degrees-of-freedom',
  title: 'Effective degrees of freedom',
  formula: 'ν_e = u_c^4 / Σ (u_i^4 / ν_i)',
  meaning:
    'How well the combined uncertainty itself is known. Few trials count only as far as their spread makes up the whole; components from certificates and half-widths count as well known.',
  symbols: symbols('effective', 'combined', 'contribution', 'ownDegrees'),
  constants: [],
  range: 'Used with its fraction; above ten million as infinite.',
  source: 'jcgm-100-2008',
  locator: 'G.4.1',
  version,
};

const expanded: Formula = {
  id: 'expanded-uncertainty',
  title: 'Expanded uncertainty',
  formula: 'U = k · u_c with k = t((1 + p_c) / 2, ν_e)',
  meaning:
    'The interval in which the true mean volume lies at the stated probability. It belongs to the mean; a single filling of the vessel may lie further off.',
  symbols: symbols('uncertainty', 'combined', 'coverage', 'probability', 'effective'),
  constants: [],
  range: 'Coverage 95 %, 95.45 % or 99 %; k of the normal distribution where the degrees of freedom are infinite.',
  source: 'jcgm-100-2008',
  locator: 'G.3.2 and table G.2',
  version,
};

const conformity: Formula = {
  id: 'probability-of-conformity',
  title: 'Probability of conformity',
  formula: 'P_c = F((T − b) / u_c) − F((−T − b) / u_c)',
  meaning:
    'How probable it is that the true error lies within the tolerance, after this result. Shown beside the verdict; the verdict follows the rule, not this number.',
  symbols: symbols('conformity', 'tolerance', 'bias', 'combined', 'distribution'),
  constants: [],
  range: 'A vessel of which nothing else was known before.',
  source: 'jcgm-106-2012',
  locator: '7.2 and 7.3',
  version,
};

const difference: Formula = {
  id: 'difference-of-points',
  title: 'Between two points of a scale',
  formula: 'D = b_max − b_min',
  meaning:
    'On graduated ware people use the difference of two readings. The largest difference of the errors of any two points must keep the same tolerance; what both points share cancels in its uncertainty.',
  symbols: symbols('largestDifference', 'largestBias', 'smallestBias'),
  constants: [],
  range: 'Graduated pipettes, burettes and measuring cylinders with two points or more.',
  source: 'iso-4788-2005',
  locator: 'the limit holds for the difference of the errors of any two points',
  version,
};

const outlier: Formula = {
  id: 'suspected-outlier',
  title: 'A trial far from the others',
  formula: ['|V_i − V_m| / s > G', 'G = (n − 1) / √n · √(t_q^2 / (n − 2 + t_q^2))'].join('\n'),
  meaning:
    'From six trials on, one that lies further off than chance makes likely gets a finding, never less than three last digits off. It asks for a cause and excludes nothing by itself.',
  symbols: symbols('single', 'mean', 'spread', 'count', 'grubbs', 'grubbsQuantile'),
  constants: [],
  range: 'Six trials and more, at 5 % two-sided.',
  source: 'grubbs-1969',
  locator: 'criterion for a single outlier at either end',
  version,
};

/** From spread to expanded uncertainty, in the order of the work. */
export const UNCERTAINTY_FORMULAS: readonly Formula[] = [
  sensitivity,
  repeatability,
  setting,
  combined,
  degrees,
  expanded,
];

/** What is asked once mean and uncertainty are known. */
export const JUDGING_FORMULAS: readonly Formula[] = [conformity, difference, outlier];

/** What is taken where nothing is known. A line of a budget that uses one says that it was assumed. */
export const ASSUMPTIONS: ReferenceBook['assumptions'] = Object.entries(DEFAULTS).map(([name, known]) => ({
  name,
  value: known.value,
  unit: known.unit.replace(/m3\b/, 'm³'),
  source: known.source,
  locator: known.locator,
}));
