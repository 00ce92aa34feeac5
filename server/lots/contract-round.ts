/** A round: all vessels of a lot weighed in one go, one calibration each. */
import { z } from 'zod';
import { calibrationBody, calibration } from '../calibrations/contract.ts';
import { calibrationSummary } from '../glassware/contract.ts';
import { EMPTY_SOURCES } from '../metrology/record.ts';
import { finding, id, note, quantity } from '../wire.ts';
import { inspectionOnWire, WAYS_OF_WORKING } from './contract.ts';

export const roundBody = z.strictObject({
  wayOfWorking: z.enum(WAYS_OF_WORKING, {
    error: 'The way of working is empties first, vessel by vessel, or the dry reading reused.',
  }),
  /** Left out: every vessel of the lot that is in use and has no open calibration. */
  vesselIds: z.array(id).min(1, 'Name at least one vessel.').max(200, 'A round has at most 200 vessels.').optional(),
  /** Left out: the nominal volume. */
  points: calibrationBody.shape.points.optional(),
  basis: calibrationBody.shape.basis,
  plannedTrials: calibrationBody.shape.plannedTrials,
  performedOn: calibrationBody.shape.performedOn,
  decisionRule: calibrationBody.shape.decisionRule,
  coverageProbability: calibrationBody.shape.coverageProbability,
  /** `pooled`: over the other vessels of the lot. */
  repeatability: z
    .enum(['own', 'pooled'], { error: 'The repeatability is own or pooled over the lot.' })
    .default('own'),
  conditions: calibrationBody.shape.conditions,
  instruments: calibrationBody.shape.instruments,
  origin: calibrationBody.shape.origin,
  confirm: calibrationBody.shape.confirm,
  note: note.optional(),
});
export type RoundBody = z.infer<typeof roundBody>;

export const roundCreated = z.object({
  number: z.number().int(),
  calibrations: z.array(z.object({ vesselId: id, calibrationId: id })),
});

export const zeroCheckBody = z.strictObject({
  readingG: quantity('The reading of the empty pan'),
  /** Vessels weighed in this round by then. */
  afterVessels: z
    .number({ error: 'The number of vessels is a whole number.' })
    .int('The number of vessels is a whole number.')
    .min(0, 'The number of vessels cannot be below zero.')
    .max(100_000),
  note: note.optional(),
});
export const zeroChecked = z.object({ number: z.number().int() });

export const roundMeasuredBody = z.strictObject({
  /** Left out: every vessel whose planned trials are done. */
  vesselIds: z.array(id).min(1).max(200).optional(),
});
export const roundMoved = z.object({ calibrations: z.array(id) });

const shortTrial = z.object({
  number: z.number().int(),
  pointMl: z.string(),
  /** With slips of typing put right. */
  emptyG: z.string(),
  filledG: z.string(),
  waterTemperatureC: z.string(),
  waterTemperatureHalfWidthC: z.string().nullish(),
  waterTemperatureSource: z.enum(['carried']).nullish(),
  emptySource: z.enum(EMPTY_SOURCES).nullish(),
  volumeMl: z.number(),
  excluded: z.boolean(),
  corrected: z.boolean(),
  findings: z.array(finding),
  recordedAt: z.string(),
});
export type ShortTrial = z.infer<typeof shortTrial>;

const row = z.object({
  calibrationId: id,
  version: z.number().int(),
  state: calibration.shape.state,
  vessel: calibration.shape.vessel,
  inspection: inspectionOnWire.nullable(),
  trials: z.array(shortTrial),
  summary: calibrationSummary,
  /** Spread of the other vessels of the lot, where the round pools. */
  pool: z.object({ sdMl: z.number(), degreesOfFreedom: z.number().int() }).nullable(),
});
export type RoundRow = z.infer<typeof row>;

export const round = z.object({
  lot: z.object({ id, name: z.string() }),
  number: z.number().int(),
  wayOfWorking: z.enum(WAYS_OF_WORKING),
  plannedPoints: z.array(z.string()),
  plannedTrials: z.number().int(),
  basis: calibration.shape.basis,
  performedOn: z.string(),
  decisionRule: calibration.shape.decisionRule,
  repeatability: z.enum(['own', 'pooled']),
  conditions: calibration.shape.conditions,
  conditionReadings: calibration.shape.conditionReadings,
  instruments: calibration.shape.instruments,
  origin: calibration.shape.origin,
  instrumentFacts: calibration.shape.instrumentFacts,
  laboratory: calibration.shape.laboratory,
  zeroChecks: z.array(
    z.object({
      number: z.number().int(),
      afterVessels: z.number().int(),
      readingG: z.string(),
      note: z.string().nullable(),
      at: z.string(),
      by: z.string(),
    }),
  ),
  /** Spread of all vessels of the round together, √(Σ(n − 1)s² / Σ(n − 1)); null while no vessel has two trials. */
  pooled: z.object({ sdMl: z.number(), degreesOfFreedom: z.number().int(), vessels: z.number().int() }).nullable(),
  rows: z.array(row),
  note: z.string().nullable(),
  recordedAt: z.string(),
  recordedBy: z.string(),
});
export type Round = z.infer<typeof round>;
