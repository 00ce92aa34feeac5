import { z } from 'zod';
import { certificateListItem } from '../certificates/contract.ts';
import { instrument } from '../instruments/contract.ts';
import { id } from '../wire.ts';

const calibrationOf = { calibrationId: id, tag: z.string(), performedOn: z.string() };

/** What exists, how much of it, and where it has gaps. Lists are cut at fifty; counts are whole. */
export const audit = z.object({
  counts: z.object({
    vessels: z.number().int(),
    vesselsInUse: z.number().int(),
    neverCalibrated: z.number().int(),
    instruments: z.number().int(),
    calibrations: z.object({
      open: z.number().int(),
      measured: z.number().int(),
      checked: z.number().int(),
      issued: z.number().int(),
      abandoned: z.number().int(),
    }),
    trials: z.number().int(),
    corrections: z.number().int(),
    exclusions: z.number().int(),
    certificates: z.object({ valid: z.number().int(), replaced: z.number().int(), withdrawn: z.number().int() }),
    entries: z.number().int(),
  }),
  head: z.object({ number: z.number().int(), hash: z.string(), at: z.string().nullable() }),
  gaps: z.object({
    /** Measured and not looked at by anybody since. */
    unchecked: z.array(z.object({ ...calibrationOf, since: z.string() })),
    overdueInstruments: z.array(instrument),
    excludedTrials: z.array(
      z.object({
        ...calibrationOf,
        trial: z.number().int(),
        cause: z.string().nullable(),
        reason: z.string(),
        by: z.string(),
      }),
    ),
    correctedTrials: z.array(
      z.object({
        ...calibrationOf,
        trial: z.number().int(),
        field: z.string(),
        before: z.string().nullable(),
        after: z.string(),
        reason: z.string(),
        by: z.string(),
      }),
    ),
    abandoned: z.array(z.object({ ...calibrationOf, reason: z.string().nullable(), by: z.string() })),
    amended: z.array(certificateListItem.extend({ reason: z.string().nullable() })),
    withdrawn: z.array(certificateListItem.extend({ reason: z.string() })),
  }),
});
export type Audit = z.infer<typeof audit>;

export const sampleQuery = z.strictObject({
  size: z.coerce.number().int().min(1).max(50).default(5),
  /** The same seed draws the same sample from the same logbook. */
  seed: z.coerce.number().int().min(0).max(2_147_483_647).optional(),
});

/** From a certificate down to one reading as it was typed, and the entry of the journal that recorded it. */
export const sample = z.object({
  seed: z.number().int(),
  drawnFrom: z.number().int(),
  items: z.array(
    z.object({
      ...calibrationOf,
      /** Null: the calibration has no certificate. */
      certificate: z.string().nullable(),
      trial: z.object({
        number: z.number().int(),
        pointMl: z.string(),
        emptyG: z.string(),
        filledG: z.string(),
        waterTemperatureC: z.string(),
        recordedAt: z.string(),
        recordedBy: z.string(),
      }),
      /** Number of the entry; null where the journal knows nothing of the reading. */
      entry: z.number().int().nullable(),
    }),
  ),
});
export type Sample = z.infer<typeof sample>;
