/** What `evaluate` gives back. Numbers carry full precision; rounding happens once, at display or print. */

import type { Basis, CoverageProbability, DecimalText, DecisionRule, TrialFacts } from './record.ts';

export const VERDICTS = [
  'pass',
  'conditional-pass',
  'conditional-fail',
  'fail',
  'not-decidable',
  'none-stated',
] as const;
export type Verdict = (typeof VERDICTS)[number];

/** Something the data say: never an exception. `code` is one of `FINDINGS` in findings.ts. */
export interface Finding {
  code: string;
  /** One plain English sentence with the numbers in it. */
  detail: string;
  trial?: number;
}

export interface BudgetLine {
  /** Wire name of the component, for example `water-temperature`. */
  component: string;
  /** Best value of the input, null where the component has none. */
  value: number | null;
  /** Unit of `value` and `standardUncertainty`. */
  unit: string;
  standardUncertainty: number;
  distribution: 'normal' | 'rectangular' | 'triangular' | 't' | 'none';
  /** null = infinite. */
  degreesOfFreedom: number | null;
  /** mL per `unit`. */
  sensitivity: number;
  contributionMl: number;
  /** Where it came from: certificate, typed, laboratory default, assumed, in the certificate … */
  source: string;
  assumed: boolean;
}

/** Spread of a piston pipette against its random limit, mL. */
export interface RandomError {
  limitMl: number;
  verdict: 'pass' | 'fail' | 'not-decidable';
  /** What the systematic error alone gives; the point's verdict is the graver of the two. */
  systematicVerdict: Verdict;
}

export interface PointResult {
  pointMl: DecimalText;
  n: number;
  nRecorded: number;
  meanMl: number | null;
  biasMl: number | null;
  biasPercent: number | null;
  sdMl: number | null;
  cvPercent: number | null;
  smallestMl: number | null;
  largestMl: number | null;
  /** Mean of mass ÷ 1 g/mL beside the corrected mean. */
  simpleMeanMl: number | null;
  combinedUncertaintyMl: number | null;
  effectiveDegreesOfFreedom: number | null;
  coverageFactor: number | null;
  coverageProbability: CoverageProbability;
  expandedUncertaintyMl: number | null;
  /** Standard uncertainty of one single use of the vessel, √(u_c² + s²); the others are of the mean volume. */
  singleUseUncertaintyMl: number | null;
  /** Spread of single trials that counts, and where it comes from. */
  repeatability: { kind: 'own' | 'pooled' | 'predicted'; sdMl: number; degreesOfFreedom: number } | null;
  toleranceMl: number | null;
  probabilityOfConformity: number | null;
  verdict: Verdict | null;
  /** Piston pipettes with a random limit; null for other ware, absent in results of the model before. */
  randomError?: RandomError | null;
  /** Verdict with every trial counted, where an exclusion changes it; otherwise null. */
  verdictWithExcluded: Verdict | null;
  meetsClass: string | null;
  budget: BudgetLine[];
  findings: Finding[];
}

export type TrialResult = TrialFacts & {
  number: number;
  /** Values used after corrections of slips; equal to the typed text where nothing was corrected. */
  used: { emptyG: DecimalText; filledG: DecimalText; waterTemperatureC: DecimalText };
  /** Values computed with: used, plus the corrections of the instruments. */
  corrected: { emptyG: number; filledG: number; waterTemperatureC: number };
  /** Air computed with, corrections applied; `measured` is false where a usual value stands in. */
  air: {
    temperatureC: number;
    pressureHpa: number;
    relativeHumidityPercent: number;
    measured: { temperature: boolean; pressure: boolean; humidity: boolean };
  };
  /** What evaporated between filling and weighing, part of `massG`. */
  evaporationG: number;
  massG: number;
  waterDensityGPerMl: number;
  airDensityGPerMl: number;
  volumeMl: number;
  simpleVolumeMl: number;
  findings: Finding[];
};

export interface DifferenceResult {
  valueMl: number;
  expandedUncertaintyMl: number;
  verdict: Verdict;
}

/** Which formulas, tables and constants made the result; stored with it. */
export interface VersionIds {
  model: string;
  waterDensity: string;
  airDensity: string;
  tolerances: string;
}

export interface CalibrationResult {
  basis: Basis;
  decisionRule: DecisionRule;
  points: PointResult[];
  trials: TrialResult[];
  difference: DifferenceResult | null;
  verdict: Verdict | null;
  final: boolean;
  findings: Finding[];
  versions: VersionIds;
}
