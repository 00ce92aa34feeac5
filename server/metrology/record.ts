/**
 * What the computation needs to know, in the words and units of the wire. Quantities are decimal text exactly as
 * typed; a key that is absent or null means "not known", and then the laboratory default applies and is marked so.
 */

export const VESSEL_KINDS = [
  'volumetric-flask',
  'single-volume-pipette',
  'graduated-pipette',
  'burette',
  'measuring-cylinder',
  'beaker',
  'conical-flask',
  'pycnometer',
  'piston-pipette',
  'other',
] as const;
export type VesselKind = (typeof VESSEL_KINDS)[number];

export const BASES = ['contain', 'deliver'] as const;
export type Basis = (typeof BASES)[number];

export const MATERIALS = [
  'borosilicate-3.3',
  'borosilicate-5.0',
  'soda-lime',
  'glass',
  'fused-silica',
  'stainless-steel',
  'polypropylene',
  'polymethylpentene',
  'polycarbonate',
  'polystyrene',
  'polyethylene',
  'other',
] as const;
export type Material = (typeof MATERIALS)[number];

export const DECISION_RULES = ['guarded', 'simple'] as const;
export type DecisionRule = (typeof DECISION_RULES)[number];

export const COVERAGE_PROBABILITIES = ['0.95', '0.9545', '0.99'] as const;
export type CoverageProbability = (typeof COVERAGE_PROBABILITIES)[number];

export const WATER_GRADES = ['grade-1', 'grade-2', 'grade-3', 'distilled', 'deionised', 'tap', 'not-stated'] as const;
export type WaterGrade = (typeof WATER_GRADES)[number];

export const EMPTY_SOURCES = ['own', 'reused', 'carried', 'tared'] as const;
export type EmptySource = (typeof EMPTY_SOURCES)[number];

export const EMPTY_STATES = ['dry', 'drained'] as const;
export type EmptyState = (typeof EMPTY_STATES)[number];

export const MENISCUS_RULES = ['upper-edge', 'centre'] as const;
export type MeniscusRule = (typeof MENISCUS_RULES)[number];

export const EXCLUSION_CAUSES = ['spill', 'drop-left', 'wrong-mark', 'door-open', 'typing', 'other'] as const;
export type ExclusionCause = (typeof EXCLUSION_CAUSES)[number];

/** Decimal text: optional sign, digits, at most one point; no exponent, no grouping. */
export type DecimalText = string;
type Maybe<T> = T | null | undefined;

/** Tolerance as it judges: found in a table, or marked on the vessel (then the mark wins). */
export interface ToleranceFacts {
  /** Named standard, edition and class, where declared. */
  standard?: Maybe<string>;
  edition?: Maybe<string>;
  class?: Maybe<string>;
  markedMl?: Maybe<DecimalText>;
  markedPercent?: Maybe<DecimalText>;
}

export interface VesselFacts {
  kind: VesselKind;
  nominalVolumeMl: DecimalText;
  basis: Basis;
  /** Absent only for pycnometers and other ware. */
  tolerance?: Maybe<ToleranceFacts>;
  material: Material;
  /** Cubic expansion coefficient, typed; wins over the material's, 0 allowed. */
  expansionPerK?: Maybe<DecimalText>;
  referenceTemperatureC: DecimalText;
  divisionMl?: Maybe<DecimalText>;
  marks?: Maybe<readonly DecimalText[]>;
  neckDiameterMm?: Maybe<DecimalText>;
  expectedSpreadMl?: Maybe<DecimalText>;
  waitingTimeS?: Maybe<DecimalText>;
}

export interface CorrectionPoint {
  at: DecimalText;
  correction: DecimalText;
}

export interface BalanceFacts {
  resolutionG?: Maybe<DecimalText>;
  repeatabilityG?: Maybe<DecimalText>;
  linearityG?: Maybe<DecimalText>;
  capacityG?: Maybe<DecimalText>;
  driftRelative?: Maybe<DecimalText>;
  expandedUncertaintyG?: Maybe<DecimalText>;
  expandedUncertaintyRelative?: Maybe<DecimalText>;
  coverageFactor?: Maybe<DecimalText>;
  certificateCovers?: Maybe<readonly ('resolution' | 'linearity' | 'repeatability')[]>;
  corrections?: Maybe<readonly CorrectionPoint[]>;
  degreesOfFreedom?: Maybe<number>;
  /** Registered instruments only: ISO date after which the certificate is overdue. */
  dueOn?: Maybe<string>;
}

export interface ThermometerFacts {
  resolutionC?: Maybe<DecimalText>;
  expandedUncertaintyC?: Maybe<DecimalText>;
  coverageFactor?: Maybe<DecimalText>;
  /** Half-width of the gradient in the water. */
  gradientC?: Maybe<DecimalText>;
  corrections?: Maybe<readonly CorrectionPoint[]>;
  degreesOfFreedom?: Maybe<number>;
  dueOn?: Maybe<string>;
}

export interface BarometerFacts {
  expandedUncertaintyHpa?: Maybe<DecimalText>;
  coverageFactor?: Maybe<DecimalText>;
  corrections?: Maybe<readonly CorrectionPoint[]>;
  degreesOfFreedom?: Maybe<number>;
  dueOn?: Maybe<string>;
}

export interface HygrometerFacts {
  expandedUncertaintyPercent?: Maybe<DecimalText>;
  coverageFactor?: Maybe<DecimalText>;
  corrections?: Maybe<readonly CorrectionPoint[]>;
  degreesOfFreedom?: Maybe<number>;
  dueOn?: Maybe<string>;
}

export interface InstrumentFacts {
  balance?: Maybe<BalanceFacts>;
  thermometer?: Maybe<ThermometerFacts>;
  barometer?: Maybe<BarometerFacts>;
  hygrometer?: Maybe<HygrometerFacts>;
  /** Measures the air; `thermometer` measures the water and never stands for the air. */
  airThermometer?: Maybe<ThermometerFacts>;
}

export interface ConditionFacts {
  airTemperatureC?: Maybe<DecimalText>;
  airPressureHpa?: Maybe<DecimalText>;
  relativeHumidityPercent?: Maybe<DecimalText>;
  airTemperatureHalfWidthC?: Maybe<DecimalText>;
  airPressureHalfWidthHpa?: Maybe<DecimalText>;
  relativeHumidityHalfWidthPercent?: Maybe<DecimalText>;
  waterGrade?: Maybe<WaterGrade>;
  conductivityUsPerCm?: Maybe<DecimalText>;
  dissolvedAir?: Maybe<boolean>;
  evaporationMgPerMin?: Maybe<DecimalText>;
  acclimatisedH?: Maybe<DecimalText>;
  adjustedToday?: Maybe<boolean>;
  dried?: Maybe<boolean>;
  cleaned?: Maybe<boolean>;
  inspected?: Maybe<boolean>;
  meniscusRule?: Maybe<MeniscusRule>;
}

/** Air read again during a calibration; it holds for the trials that follow it. */
export interface ConditionReading extends ConditionFacts {
  /** Number of the last trial before it was read; 0 for the first reading. */
  afterTrial: number;
  /** Server time, ISO 8601 UTC. */
  recordedAt?: Maybe<string>;
}

export interface TrialCorrection {
  field: string;
  value: string;
  reason: string;
  recordedAt?: Maybe<string>;
  recordedBy?: Maybe<string>;
}

export interface TrialExclusion {
  cause: ExclusionCause;
  reason: string;
  recordedAt?: Maybe<string>;
  recordedBy?: Maybe<string>;
}

export interface TrialFacts {
  /** Counts from 1; absent in evaluate requests, where the order gives it. */
  number?: Maybe<number>;
  pointMl: DecimalText;
  emptyG: DecimalText;
  filledG: DecimalText;
  waterTemperatureC: DecimalText;
  /** Given when the temperature was assumed, not read. */
  waterTemperatureHalfWidthC?: Maybe<DecimalText>;
  /** `carried`: the one temperature read for a round of vessels, not for this trial. */
  waterTemperatureSource?: Maybe<'carried'>;
  emptySource?: Maybe<EmptySource>;
  /** Number of the trial whose reading is reused or carried. */
  emptyOf?: Maybe<number>;
  emptyState?: Maybe<EmptyState>;
  airTemperatureC?: Maybe<DecimalText>;
  airPressureHpa?: Maybe<DecimalText>;
  relativeHumidityPercent?: Maybe<DecimalText>;
  deliveryTimeS?: Maybe<DecimalText>;
  waitingTimeS?: Maybe<DecimalText>;
  openTimeS?: Maybe<DecimalText>;
  /** Which tip a piston pipette bore, and through which of its channels it delivered, counted from 1. */
  tip?: Maybe<string>;
  channel?: Maybe<number>;
  /** How the jet was held while the vessel drained. */
  drainPosition?: Maybe<string>;
  note?: Maybe<string>;
  corrections?: Maybe<readonly TrialCorrection[]>;
  exclusion?: Maybe<TrialExclusion>;
  recordedAt?: Maybe<string>;
  recordedBy?: Maybe<string>;
}

export type RepeatabilityChoice =
  { use: 'own' } | { use: 'pooled'; over?: Maybe<'lot'>; sdMl?: Maybe<DecimalText>; degreesOfFreedom?: Maybe<number> };

/** Laboratory defaults in force; a calibration stores those it used. */
export interface LaboratoryFacts {
  /** Height above sea level; gives the standard atmosphere when pressure was not measured. */
  altitudeM?: Maybe<DecimalText>;
}

export interface CalibrationRecord {
  vessel: VesselFacts;
  /** Basis of this calibration; default the vessel's. */
  basis?: Maybe<Basis>;
  /** Test points; default the points that occur in the trials, in their order. */
  points?: Maybe<readonly DecimalText[]>;
  /** Trials planned per point; absent in evaluate requests, which are always final. */
  plannedTrials?: Maybe<number>;
  /** ISO date. */
  performedOn?: Maybe<string>;
  /** ISO date the first trial was recorded; a later recording than `performedOn` is a finding. */
  enteredOn?: Maybe<string>;
  decisionRule?: Maybe<DecisionRule>;
  coverageProbability?: Maybe<CoverageProbability>;
  repeatability?: Maybe<RepeatabilityChoice>;
  conditions?: Maybe<ConditionFacts>;
  conditionReadings?: Maybe<readonly ConditionReading[]>;
  instruments?: Maybe<InstrumentFacts>;
  laboratory?: Maybe<LaboratoryFacts>;
  /** Entered from a recording sheet of ours, or taken over from a paper of before; absent where it was typed at the bench. */
  origin?: Maybe<'sheet' | 'paper'>;
  trials: readonly TrialFacts[];
}
