import { z } from 'zod';
import { toleranceOnWire, vesselFacts, vesselIdentity } from '../glassware/contract.ts';
import { inlineInstruments, instrumentsOnWire } from '../instruments/contract.ts';
import {
  BASES,
  COVERAGE_PROBABILITIES,
  DECISION_RULES,
  EMPTY_SOURCES,
  EMPTY_STATES,
  EXCLUSION_CAUSES,
  MATERIALS,
  MENISCUS_RULES,
  VESSEL_KINDS,
  WATER_GRADES,
} from '../metrology/record.ts';
import { REFEREE_OUTCOMES } from '../metrology/referee.ts';
import { VERDICTS } from '../metrology/result.ts';
import {
  confirmNames,
  finding,
  id,
  isoDate,
  note,
  notNegative,
  page,
  positive,
  quantity,
  reason,
  within,
} from '../wire.ts';

const waterTemperatureC = within('The water temperature', 0, 40, '°C');
const airTemperatureC = within('The air temperature', 5, 40, '°C');
const airPressureHpa = within('The air pressure at the balance', 600, 1100, 'hPa');
const relativeHumidityPercent = within('The relative humidity', 0, 100, '%');

export const conditionsBody = z.strictObject({
  airTemperatureC: airTemperatureC.optional(),
  airPressureHpa: airPressureHpa.optional(),
  relativeHumidityPercent: relativeHumidityPercent.optional(),
  airTemperatureHalfWidthC: notNegative('The half-width of the air temperature').optional(),
  airPressureHalfWidthHpa: notNegative('The half-width of the air pressure').optional(),
  relativeHumidityHalfWidthPercent: notNegative('The half-width of the humidity').optional(),
  waterGrade: z.enum(WATER_GRADES).optional(),
  conductivityUsPerCm: notNegative('The conductivity').optional(),
  dissolvedAir: z.boolean().optional(),
  evaporationMgPerMin: notNegative('The evaporation').optional(),
  acclimatisedH: notNegative('The time of acclimatisation').optional(),
  adjustedToday: z.boolean().optional(),
  dried: z.boolean().optional(),
  cleaned: z.boolean().optional(),
  inspected: z.boolean().optional(),
  meniscusRule: z.enum(MENISCUS_RULES).optional(),
  confirm: confirmNames.optional(),
  note: note.optional(),
});
export type ConditionsBody = z.infer<typeof conditionsBody>;

export const repeatabilityBody = z.discriminatedUnion(
  'use',
  [
    z.strictObject({ use: z.literal('own') }),
    z
      .strictObject({
        use: z.literal('pooled'),
        sdMl: notNegative('The pooled spread').optional(),
        degreesOfFreedom: z
          .number()
          .int()
          .min(10, 'A pooled spread needs at least 10 degrees of freedom.')
          .max(1_000_000)
          .optional(),
      })
      .superRefine((pooled, context) => {
        if ((pooled.sdMl === undefined) !== (pooled.degreesOfFreedom === undefined))
          context.addIssue({
            code: 'custom',
            path: [pooled.sdMl === undefined ? 'sdMl' : 'degreesOfFreedom'],
            message: 'Give the pooled spread together with its degrees of freedom.',
          });
      }),
  ],
  { error: 'Choose own or pooled.' },
);

export const calibrationBody = z.strictObject({
  points: z.array(positive('A test point')).min(1, 'Name at least one test point.').max(50),
  basis: z.enum(BASES).optional(),
  plannedTrials: z
    .number({ error: 'The planned number of trials is a whole number.' })
    .int('The planned number of trials is a whole number.')
    .min(1, 'Plan at least one trial for each point.')
    .max(1000, 'Plan at most 1000 trials for each point.'),
  performedOn: isoDate('The day of the calibration').optional(),
  /** Left out: the laboratory's defaults. */
  decisionRule: z.enum(DECISION_RULES, { error: 'The decision rule is guarded or simple.' }).optional(),
  coverageProbability: z
    .enum(COVERAGE_PROBABILITIES, { error: 'The coverage probability is 0.95, 0.9545 or 0.99, as text.' })
    .optional(),
  repeatability: repeatabilityBody.optional(),
  conditions: conditionsBody.default({}),
  instruments: z
    .strictObject({
      balanceId: id.optional(),
      thermometerId: id.optional(),
      barometerId: id.optional(),
      hygrometerId: id.optional(),
      airThermometerId: id.optional(),
    })
    .default({}),
  confirm: confirmNames.optional(),
  note: note.optional(),
});
export type CalibrationBody = z.infer<typeof calibrationBody>;

const trialReadings = {
  pointMl: positive('The test point'),
  emptyG: quantity('The empty reading'),
  filledG: quantity('The filled reading'),
  waterTemperatureC,
  waterTemperatureHalfWidthC: notNegative('The half-width of the water temperature').optional(),
  emptySource: z.enum(EMPTY_SOURCES).optional(),
  emptyOf: z.number().int().min(1).max(1000).optional(),
  emptyState: z.enum(EMPTY_STATES).optional(),
  airTemperatureC: airTemperatureC.optional(),
  airPressureHpa: airPressureHpa.optional(),
  relativeHumidityPercent: relativeHumidityPercent.optional(),
  deliveryTimeS: notNegative('The delivery time').optional(),
  waitingTimeS: notNegative('The waiting time').optional(),
  openTimeS: notNegative('The open time').optional(),
  note: note.optional(),
};

export const trialBody = z.strictObject({ ...trialReadings, confirm: confirmNames.optional() });
export type TrialBody = z.infer<typeof trialBody>;

export const exclusionBody = z.strictObject({
  cause: z.enum(EXCLUSION_CAUSES, {
    error: 'Name the cause: spill, drop left, wrong mark, door open, typing or other.',
  }),
  reason,
});
export const inclusionBody = z.strictObject({ reason });

/** Fields of a trial that a slip of typing can be corrected in. */
export const CORRECTABLE_FIELDS = [
  'emptyG',
  'filledG',
  'waterTemperatureC',
  'waterTemperatureHalfWidthC',
  'airTemperatureC',
  'airPressureHpa',
  'relativeHumidityPercent',
  'deliveryTimeS',
  'waitingTimeS',
  'openTimeS',
] as const;
const NOT_BELOW_ZERO = new Set<string>(['waterTemperatureHalfWidthC', 'deliveryTimeS', 'waitingTimeS', 'openTimeS']);
export const correctionBody = z
  .strictObject({
    field: z.enum(CORRECTABLE_FIELDS, { error: 'Name the field that was mistyped.' }),
    value: quantity('The corrected value'),
    reason,
    confirm: confirmNames.optional(),
    note: note.optional(),
  })
  .refine(({ field, value }) => !NOT_BELOW_ZERO.has(field) || Number(value) >= 0, {
    path: ['value'],
    error: 'This value cannot be below zero.',
  });

/** Acts that move a calibration on or back; why is kept with the act. */
export const reasonBody = z.strictObject({ reason });
export const measuredBody = z.strictObject({ reason: reason.optional() });

/** Changed after the first trial, the reason is printed and both verdicts are kept. */
export const planChange = z.strictObject({
  plannedTrials: calibrationBody.shape.plannedTrials.optional(),
  decisionRule: z.enum(DECISION_RULES).optional(),
  coverageProbability: z.enum(COVERAGE_PROBABILITIES).optional(),
  reason,
});

export const evaluateBody = z.strictObject({
  /** A vessel as it is registered, without its tag. */
  vessel: z.strictObject({ ...vesselFacts, ...vesselIdentity }),
  basis: z.enum(BASES).optional(),
  decisionRule: z.enum(DECISION_RULES).default('guarded'),
  coverageProbability: z.enum(COVERAGE_PROBABILITIES).default('0.9545'),
  repeatability: repeatabilityBody.default({ use: 'own' }).superRefine((choice, context) => {
    if (choice.use === 'pooled' && choice.sdMl === undefined)
      context.addIssue({ code: 'custom', path: ['sdMl'], message: 'An evaluation needs the pooled spread itself.' });
  }),
  conditions: conditionsBody.default({}),
  instruments: inlineInstruments.default({}),
  trials: z.array(trialBody).min(1, 'Send at least one trial.').max(1000),
});
export type EvaluateBody = z.infer<typeof evaluateBody>;

const budgetLine = z.object({
  component: z.string(),
  value: z.number().nullable(),
  unit: z.string(),
  standardUncertainty: z.number(),
  distribution: z.string(),
  degreesOfFreedom: z.number().nullable(),
  sensitivity: z.number(),
  contributionMl: z.number(),
  source: z.string(),
  assumed: z.boolean(),
});

const verdict = z.enum(VERDICTS).nullable();
const repeatabilityUsed = z.object({
  kind: z.enum(['own', 'pooled', 'predicted']),
  sdMl: z.number(),
  degreesOfFreedom: z.number(),
});

/** What a set-up can decide before the first weighing. */
export const capability = z.object({
  points: z.array(
    z.object({
      pointMl: z.string(),
      plannedTrials: z.number().int(),
      toleranceMl: z.number().nullable(),
      repeatability: repeatabilityUsed,
      combinedUncertaintyMl: z.number(),
      effectiveDegreesOfFreedom: z.number().nullable(),
      coverageFactor: z.number(),
      expandedUncertaintyMl: z.number(),
      ratio: z.number().nullable(),
      decidableAtZeroError: z.boolean().nullable(),
      passPossibleWithinMl: z.number().nullable(),
      largestComponent: z.string(),
      largestShare: z.number(),
      trialsForThird: z.number().int().nullable(),
      trialsForDecision: z.number().int().nullable(),
      balances: z.array(
        z.object({ id: z.string(), tag: z.string(), expandedUncertaintyMl: z.number(), does: z.boolean() }),
      ),
      budget: z.array(budgetLine),
      findings: z.array(finding),
    }),
  ),
  decidable: z.boolean().nullable(),
});
export type CapabilityOnWire = z.infer<typeof capability>;

/** Which point to draw, and the seed; left out, a seed is chosen and named in the reply. */
export const refereeBody = z.strictObject({
  pointMl: positive('The test point'),
  seed: z
    .number({ error: 'The seed is a whole number.' })
    .int('The seed is a whole number.')
    .min(0, 'The seed cannot be below zero.')
    .max(2_147_483_647)
    .optional(),
});

const drawn = z.object({
  draws: z.number().int(),
  mean: z.number(),
  standardUncertainty: z.number(),
  low: z.number(),
  high: z.number(),
  stable: z.boolean(),
  seed: z.number().int(),
});

/** The referee's word: draws of the whole model beside the budget's interval. */
export const refereeReply = z.object({
  pointMl: z.string(),
  seed: z.number().int(),
  outcome: z.enum(REFEREE_OUTCOMES),
  toleranceMl: z.number(),
  gum: z.object({ low: z.number(), high: z.number(), standardUncertainty: z.number() }),
  drawn: drawn.nullable(),
  lowDifferenceMl: z.number().nullable(),
  highDifferenceMl: z.number().nullable(),
  student: drawn.nullable(),
});
export type RefereeReply = z.infer<typeof refereeReply>;

/** What one more trial would bring, per point. */
const oneMore = z.object({
  trials: z.number().int(),
  expandedUncertaintyMl: z.number(),
  plannedTrials: z.number().int(),
  plannedUncertaintyMl: z.number(),
  verdictCouldChange: z.boolean(),
});

/** A number with the way to it; `parts` are numbers of the same kind, down to typed digits and sourced constants. */
const explanation = z.object({
  symbol: z.string(),
  label: z.string(),
  formula: z.string().nullable(),
  value: z.number().nullable(),
  unit: z.string(),
  typed: z.string().optional(),
  assumed: z.boolean().optional(),
  source: z.string().optional(),
  locator: z.string().optional(),
  get parts() {
    return z.array(explanation);
  },
});
export type ExplanationOnWire = z.infer<typeof explanation>;

const explanations = z.object({
  points: z.array(
    z.object({
      pointMl: z.string(),
      mean: explanation.nullable(),
      bias: explanation.nullable(),
      sd: explanation.nullable(),
      combinedUncertainty: explanation.nullable(),
      expandedUncertainty: explanation.nullable(),
      probabilityOfConformity: explanation.nullable(),
    }),
  ),
  trials: z.array(z.object({ number: z.number().int(), volume: explanation, simpleVolume: explanation })),
});

export const pointResult = z.object({
  pointMl: z.string(),
  n: z.number().int(),
  nRecorded: z.number().int(),
  meanMl: z.number().nullable(),
  biasMl: z.number().nullable(),
  biasPercent: z.number().nullable(),
  sdMl: z.number().nullable(),
  cvPercent: z.number().nullable(),
  smallestMl: z.number().nullable(),
  largestMl: z.number().nullable(),
  simpleMeanMl: z.number().nullable(),
  combinedUncertaintyMl: z.number().nullable(),
  effectiveDegreesOfFreedom: z.number().nullable(),
  coverageFactor: z.number().nullable(),
  coverageProbability: z.string(),
  expandedUncertaintyMl: z.number().nullable(),
  /** Standard uncertainty of one single use, which scatters by s as well; U above is of the mean volume. */
  singleUseUncertaintyMl: z.number().nullable(),
  repeatability: repeatabilityUsed.nullable(),
  toleranceMl: z.number().nullable(),
  probabilityOfConformity: z.number().nullable(),
  verdict,
  verdictWithExcluded: verdict,
  meetsClass: z.string().nullable(),
  budget: z.array(budgetLine),
  findings: z.array(finding),
});

export const trialResult = z.object({
  number: z.number().int(),
  pointMl: z.string(),
  emptyG: z.string(),
  filledG: z.string(),
  waterTemperatureC: z.string(),
  waterTemperatureHalfWidthC: z.string().nullish(),
  emptySource: z.enum(EMPTY_SOURCES).nullish(),
  emptyOf: z.number().int().nullish(),
  emptyState: z.enum(EMPTY_STATES).nullish(),
  airTemperatureC: z.string().nullish(),
  airPressureHpa: z.string().nullish(),
  relativeHumidityPercent: z.string().nullish(),
  deliveryTimeS: z.string().nullish(),
  waitingTimeS: z.string().nullish(),
  openTimeS: z.string().nullish(),
  note: z.string().nullish(),
  used: z.object({ emptyG: z.string(), filledG: z.string(), waterTemperatureC: z.string() }),
  /** Readings with the instruments' corrections applied. */
  corrected: z.object({ emptyG: z.number(), filledG: z.number(), waterTemperatureC: z.number() }),
  air: z.object({
    temperatureC: z.number(),
    pressureHpa: z.number(),
    relativeHumidityPercent: z.number(),
    measured: z.object({ temperature: z.boolean(), pressure: z.boolean(), humidity: z.boolean() }),
  }),
  evaporationG: z.number(),
  massG: z.number(),
  waterDensityGPerMl: z.number(),
  airDensityGPerMl: z.number(),
  volumeMl: z.number(),
  simpleVolumeMl: z.number(),
  findings: z.array(finding),
  recordedAt: z.string().nullish(),
  recordedBy: z.string().nullish(),
  corrections: z.array(
    z.object({
      field: z.string(),
      value: z.string(),
      reason: z.string(),
      recordedAt: z.string().nullish(),
      recordedBy: z.string().nullish(),
    }),
  ),
  exclusion: z
    .object({
      cause: z.enum(EXCLUSION_CAUSES),
      reason: z.string(),
      recordedAt: z.string().nullish(),
      recordedBy: z.string().nullish(),
    })
    .nullable(),
});

export const result = z.object({
  basis: z.enum(BASES),
  decisionRule: z.enum(DECISION_RULES),
  points: z.array(pointResult),
  trials: z.array(trialResult),
  difference: z
    .object({ valueMl: z.number(), expandedUncertaintyMl: z.number(), verdict: z.enum(VERDICTS) })
    .nullable(),
  verdict,
  final: z.boolean(),
  findings: z.array(finding),
  versions: z.object({ model: z.string(), waterDensity: z.string(), airDensity: z.string(), tolerances: z.string() }),
});

export const CALIBRATION_STATES = ['open', 'measured', 'checked', 'issued', 'abandoned'] as const;
export type CalibrationState = (typeof CALIBRATION_STATES)[number];

const conditions = conditionsBody.omit({ confirm: true });
export const calibration = result.extend({
  id,
  version: z.number().int(),
  state: z.enum(CALIBRATION_STATES),
  vessel: z.object({
    id,
    tag: z.string(),
    kind: z.enum(VESSEL_KINDS),
    nominalVolumeMl: z.string(),
    basis: z.enum(BASES),
    referenceTemperatureC: z.string(),
    material: z.enum(MATERIALS),
    expansionPerK: z.string().nullable(),
    divisionMl: z.string().nullable(),
    neckDiameterMm: z.string().nullable(),
    waitingTimeS: z.string().nullable(),
    tolerance: toleranceOnWire.nullable(),
    inUse: z.boolean(),
  }),
  plannedPoints: z.array(z.string()),
  plannedTrials: z.number().int(),
  performedOn: z.string(),
  repeatability: repeatabilityBody,
  conditions,
  conditionReadings: z.array(
    conditions.extend({ afterTrial: z.number().int(), recordedAt: z.string(), recordedBy: z.string() }),
  ),
  instruments: z.object({
    balanceId: id.optional(),
    thermometerId: id.optional(),
    barometerId: id.optional(),
    hygrometerId: id.optional(),
    airThermometerId: id.optional(),
  }),
  /** The instruments as they were when the calibration began; what a page needs to compute while somebody types. */
  instrumentFacts: instrumentsOnWire,
  laboratory: z.object({ altitudeM: z.string().nullable() }),
  /** Pooled spread taken from the record, with the calibrations it comes from. */
  pool: z.object({ sdMl: z.number(), degreesOfFreedom: z.number().int(), from: z.array(id) }).nullable(),
  /** While open: what this set-up can decide, and what one more trial would bring, in the order of the points. */
  capability: capability.nullable(),
  oneMore: z.array(oneMore.nullable()),
  /** Only where `explain=true` was asked. */
  explain: explanations.optional(),
  note: z.string().nullable(),
  recordedAt: z.string(),
  recordedBy: z.string(),
  acts: z.array(z.object({ act: z.string(), at: z.string(), by: z.string(), reason: z.string().nullable() })),
});
export type Calibration = z.infer<typeof calibration>;
export type TrialOnWire = z.infer<typeof trialResult>;
export type PointOnWire = z.infer<typeof pointResult>;

export const trialSaved = z.object({
  number: z.number().int(),
  massG: z.number(),
  waterDensityGPerMl: z.number(),
  airDensityGPerMl: z.number(),
  volumeMl: z.number(),
  simpleVolumeMl: z.number(),
  findings: z.array(finding),
});

export const calibrationCreated = z.object({ id, version: z.number().int(), capability: capability.nullable() });

export const explainQuery = z.strictObject({ explain: z.enum(['true', 'false']).default('false') });

export const calibrationListItem = z.object({
  id,
  state: z.enum(CALIBRATION_STATES),
  performedOn: z.string(),
  recordedAt: z.string(),
  vesselId: id,
  tag: z.string(),
  kind: z.string(),
  nominalVolumeMl: z.string(),
  plannedTrials: z.number().int(),
  trialsRecorded: z.number().int(),
  verdict: z.string().nullable(),
});
export const calibrationPage = page(calibrationListItem);
export const calibrationQuery = z.strictObject({
  state: z.enum(CALIBRATION_STATES).optional(),
  cursor: z.string().max(200).optional(),
  limit: z.coerce.number().int().min(1).max(200).default(50),
});
