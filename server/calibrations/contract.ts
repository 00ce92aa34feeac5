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
import {
  confirmNames,
  finding,
  id,
  isoDate,
  note,
  notNegative,
  optionalText,
  page,
  positive,
  quantity,
  reason,
  within,
} from '../wire.ts';
import { capability, explanations, oneMore, result } from './contract-result.ts';

export type { CapabilityOnWire, PointOnWire, TrialOnWire } from './contract-result.ts';

const waterTemperatureC = within('The water temperature', 0, 40, '°C');
const airTemperatureC = within('The air temperature', 5, 40, '°C');
const airPressureHpa = within('The air pressure at the balance', 600, 1100, 'hPa', 'Was it read in kPa or mmHg?');
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
        /** Over the other vessels of the lot in place of earlier calibrations. */
        over: z.enum(['lot'], { error: 'A spread is pooled over the lot, or this is left out.' }).optional(),
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

/** As it came to: a spread pooled from the record may rest on too few, which is a finding and no refusal. */
const repeatabilityInForce = z.discriminatedUnion('use', [
  z.object({ use: z.literal('own') }),
  z.object({
    use: z.literal('pooled'),
    over: z.enum(['lot']).optional(),
    sdMl: z.string().optional(),
    degreesOfFreedom: z.number().int().optional(),
  }),
]);

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
  /** `sheet`: weighed with a recording sheet and typed from it afterwards; left out at the bench. */
  origin: z.literal('sheet', { error: 'Readings that were not typed at the bench come from a “sheet”.' }).optional(),
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
  /** Only where the one temperature of a round was taken over. */
  waterTemperatureSource: z.enum(['carried'], { error: 'A temperature that was taken over is “carried”.' }).optional(),
  emptySource: z.enum(EMPTY_SOURCES).optional(),
  emptyOf: z.number().int().min(1).max(1000).optional(),
  emptyState: z.enum(EMPTY_STATES).optional(),
  airTemperatureC: airTemperatureC.optional(),
  airPressureHpa: airPressureHpa.optional(),
  relativeHumidityPercent: relativeHumidityPercent.optional(),
  deliveryTimeS: notNegative('The delivery time').optional(),
  waitingTimeS: notNegative('The waiting time').optional(),
  openTimeS: notNegative('The open time').optional(),
  tip: optionalText('The tip', 80).optional(),
  channel: z.number().int().min(1, 'Channels count from 1.').max(384).optional(),
  drainPosition: optionalText('The drain position', 80).optional(),
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

export const CALIBRATION_STATES = ['open', 'measured', 'checked', 'issued', 'abandoned'] as const;
export type CalibrationState = (typeof CALIBRATION_STATES)[number];

const conditions = conditionsBody.omit({ confirm: true });
/** A plan as it stood, with the verdict of that moment. */
const planBefore = z.object({
  plannedTrials: z.number().int(),
  decisionRule: z.enum(DECISION_RULES),
  coverageProbability: z.enum(COVERAGE_PROBABILITIES),
  verdict: z.string().nullable(),
});
export type PlanBefore = z.infer<typeof planBefore>;

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
    channels: z.number().int().nullable(),
    blowOut: z.boolean().nullable(),
    tolerance: toleranceOnWire.nullable(),
    inUse: z.boolean(),
  }),
  plannedPoints: z.array(z.string()),
  plannedTrials: z.number().int(),
  performedOn: z.string(),
  repeatability: repeatabilityInForce,
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
  /** Where the readings come from, if not from the bench. */
  origin: z.enum(['sheet', 'paper']).nullable(),
  recordedAt: z.string(),
  recordedBy: z.string(),
  /** Signatures that still stand, oldest first. */
  signatures: z.array(
    z.object({
      meaning: z.enum(['measured', 'checked', 'issued']),
      name: z.string(),
      at: z.string(),
      ownWork: z.boolean(),
    }),
  ),
  /** Certificates of this calibration, newest first. */
  certificates: z.array(
    z.object({
      number: z.string(),
      state: z.enum(['valid', 'replaced', 'withdrawn']),
      issuedAt: z.string(),
      issuedBy: z.string(),
      replaces: z.string().nullable(),
      replacedBy: z.string().nullable(),
    }),
  ),
  acts: z.array(
    z.object({
      act: z.string(),
      at: z.string(),
      by: z.string(),
      reason: z.string().nullable(),
      /** What a changed plan said before, and the verdict it gave; null for other acts. */
      before: planBefore.nullable(),
    }),
  ),
});
export type Calibration = z.infer<typeof calibration>;

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
  /** At all points together. */
  trialsPlanned: z.number().int(),
  verdict: z.string().nullable(),
});
export const calibrationPage = page(calibrationListItem);
export const calibrationQuery = z.strictObject({
  state: z.enum(CALIBRATION_STATES).optional(),
  cursor: z.string().max(200).optional(),
  limit: z.coerce.number().int().min(1).max(200).default(50),
});
