/** Which vessel to take for a job, and a series of dilutions with the ware at hand. */
import { z } from 'zod';
import { VESSEL_KINDS } from '../metrology/record.ts';
import { CHOICE_REASONS, SOLUTION_JOBS } from '../metrology/solutions/choose.ts';
import { id, notNegative, positive, within } from '../wire.ts';
import { stockBody } from './contract-body.ts';

export const choiceQuery = z.strictObject({
  job: z.enum(SOLUTION_JOBS, { error: 'Choose what the volume is wanted for.' }),
  volumeMl: positive('The volume'),
  accuracyPercent: positive('The accuracy wanted').optional(),
  /** The solution will be standardised: its volume decides nothing. */
  standardised: z.enum(['true', 'false'], { error: 'Standardised anyway: true or false.' }).default('false'),
});
export type ChoiceQuery = z.infer<typeof choiceQuery>;

const reason = z.enum(CHOICE_REASONS);
const named = z.object({ id, tag: z.string() });

export const choiceReply = z.object({
  /** Wanted accuracy, mL; null where none is asked for. */
  wantedMl: z.number().nullable(),
  /** From the cheapest on; those that are not for the job with the reason. */
  kinds: z.array(
    z.object({
      kind: z.enum(VESSEL_KINDS),
      against: reason.nullable(),
      /** What the standards allow at the smallest size that will do. */
      classes: z.array(
        z.object({
          standard: z.string(),
          edition: z.string(),
          class: z.string(),
          nominalMl: z.number(),
          toleranceMl: z.number(),
          /** Good enough without a calibration; null where no accuracy is asked for. */
          adequate: z.boolean().nullable(),
        }),
      ),
    }),
  ),
  /** In the order to take them. */
  vessels: z.array(
    z.object({
      ...named.shape,
      kind: z.enum(VESSEL_KINDS),
      nominalVolumeMl: z.string(),
      location: z.string().nullable(),
      toleranceMl: z.number().nullable(),
      calibratedOn: z.string().nullable(),
      /** What it holds or delivers at the volume wanted; null where it was not calibrated. */
      measuredMl: z.number().nullable(),
      /** Standard uncertainty of one use, mL. */
      oneUseMl: z.number().nullable(),
      adequate: z.boolean(),
      against: z.array(reason),
    }),
  ),
  /** More vessels fit than are listed. */
  more: z.boolean(),
  /** Two deliveries that make the volume, where one-mark ware has to. */
  pairs: z.array(
    z.object({
      first: named,
      second: named,
      uncertaintyMl: z.number(),
      adequate: z.boolean().nullable(),
    }),
  ),
});
export type ChoiceReply = z.infer<typeof choiceReply>;

const ids = (what: string) =>
  z.array(id).min(1, `Name at least one ${what}.`).max(40, `At most 40 of them.`).optional();

export const seriesBody = z.strictObject({
  stock: stockBody,
  /** In the unit of the stock. */
  targets: z
    .array(positive('A concentration'))
    .min(1, 'A series needs a concentration.')
    .max(12, 'A series has at most 12 concentrations.'),
  aim: z.enum(['fewest-transfers', 'least-uncertainty'], {
    error: 'Choose the fewest transfers or the least uncertainty.',
  }),
  /** Ware to plan with; left out, all one-mark ware in service and in date. */
  pipetteIds: ids('pipette'),
  flaskIds: ids('flask'),
  temperatureC: within('The temperature of the solution', 0, 40, '°C').default('20'),
  temperatureHalfWidthC: notNegative('The half-width of the temperature').default('2'),
});
export type SeriesBody = z.infer<typeof seriesBody>;

const atMark = z.object({ vesselId: id, tag: z.string(), pointMl: z.string() });

export const seriesReply = z.object({
  stock: z.object({ name: z.string(), value: z.number(), unit: z.string() }),
  solutions: z.array(
    z.object({
      target: z.string(),
      /** From the stock on; empty where the ware does not make it. */
      steps: z.array(z.object({ deliveries: z.array(atMark), madeUpIn: atMark })),
      /** Place in the series of the solution the last steps start from; null for the stock. */
      from: z.number().int().nullable(),
      transfers: z.number().int(),
      value: z.number().nullable(),
      combinedUncertainty: z.number().nullable(),
      relativePercent: z.number().nullable(),
    }),
  ),
  pipettes: z.number().int(),
  flasks: z.number().int(),
});
export type SeriesReply = z.infer<typeof seriesReply>;
