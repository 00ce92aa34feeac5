/** What is seen over time: a vessel's calibrations, an instrument's checks and certificates, the errors of a maker's ware. */
import { z } from 'zod';
import { INTERVAL_REASONS } from '../metrology/over-time/interval.ts';
import { BASES, VESSEL_KINDS } from '../metrology/record.ts';
import { VERDICTS } from '../metrology/result.ts';
import { id, isoDate, optionalText, page, positive } from '../wire.ts';

const verdict = z.enum(VERDICTS).nullable();

/** Against the calibration before, with the components alone that the two do not share. */
const change = z.object({
  fromId: id,
  changeMl: z.number(),
  standardUncertaintyMl: z.number(),
  /** E_Δ; null where nothing independent is uncertain. */
  normalisedChange: z.number().nullable(),
});

const occasion = z.object({
  id,
  performedOn: z.string(),
  state: z.string(),
  n: z.number().int(),
  meanMl: z.number(),
  biasMl: z.number(),
  expandedUncertaintyMl: z.number(),
  toleranceMl: z.number().nullable(),
  verdict,
  change: change.nullable(),
});

const trend = z.object({
  slopeMlPerYear: z.number(),
  /** Half-width of the 95 % interval of the slope. */
  slopeHalfWidthMlPerYear: z.number(),
  significant: z.boolean(),
  /** The line with its 95 % band. */
  band: z.array(z.object({ day: z.string(), lineMl: z.number(), lowMl: z.number(), highMl: z.number() })),
  /** Early edge of the band at the tolerance; null unless the slope is significant and it lies within 20 years. */
  leavesOn: z.string().nullable(),
});

const vesselPoint = z.object({
  pointMl: z.string(),
  basis: z.enum(BASES),
  toleranceMl: z.number().nullable(),
  /** Oldest first. */
  calibrations: z.array(occasion),
  /** Null below five calibrations: no trend is sought. */
  trend: trend.nullable(),
});

export const vesselOverTime = z.object({
  vesselId: id,
  points: z.array(vesselPoint),
  /** Calibrations left out because basis or reference temperature was another one. */
  leftOut: z.number().int(),
  interval: z.object({
    months: z.number().int(),
    reason: z.enum(INTERVAL_REASONS),
    goodInARow: z.number().int(),
    /** Counted from the last calibration; null without one. */
    nextOn: z.string().nullable(),
  }),
});
export type VesselOverTime = z.infer<typeof vesselOverTime>;
export type VesselPointOverTime = z.infer<typeof vesselPoint>;

const limits = z.object({
  centre: z.number(),
  low: z.number(),
  high: z.number(),
  meanMovingRange: z.number(),
  movingRangeHigh: z.number(),
  /** How many of the oldest checks of the stretch the limits come from. */
  base: z.number().int(),
  /** Fewer than ten: a first guess. */
  isFirstGuess: z.boolean(),
});

const chart = z.object({
  referenceValue: z.string(),
  unit: z.string(),
  /** Oldest first: a certificate begins centre and limits anew with the checks from its day on. */
  stretches: z.array(
    z.object({
      /** The certificate it begins with; null for the oldest. */
      certificate: z.object({ number: z.string().nullable(), on: z.string() }).nullable(),
      /** Place of its first check in `checks`; their number for a stretch without any. */
      first: z.number().int(),
      count: z.number().int(),
      /** Null below two checks. */
      limits: limits.nullable(),
    }),
  ),
  checks: z.array(
    z.object({
      number: z.number().int(),
      performedOn: z.string(),
      difference: z.number(),
      /** Null for the first check of a stretch. */
      movingRange: z.number().nullable(),
      outside: z.boolean(),
      rangeOutside: z.boolean(),
    }),
  ),
});
export type CheckChart = z.infer<typeof chart>;

const certificate = z.object({
  version: z.number().int(),
  number: z.string().nullable(),
  on: z.string().nullable(),
  dueOn: z.string().nullable(),
  /** As typed, in the instrument's own unit; null where the certificate states none. */
  expandedUncertainty: z.string().nullable(),
  /** Corrections of this certificate beside those of the one before at the same reading. */
  drift: z.array(
    z.object({ at: z.number(), correction: z.number(), before: z.number().nullable(), change: z.number().nullable() }),
  ),
});

export const instrumentOverTime = z.object({
  instrumentId: id,
  unit: z.string(),
  /** One for each known value that was weighed or read twice at least, the newest first. */
  charts: z.array(chart),
  /** Newest first. */
  certificates: z.array(certificate),
});
export type InstrumentOverTime = z.infer<typeof instrumentOverTime>;

export const dependentsQuery = z.strictObject({
  from: isoDate('The first day').optional(),
  to: isoDate('The last day').optional(),
  cursor: z.string().max(200).optional(),
  limit: z.coerce.number().int().min(1).max(200).default(50),
});

/** A calibration that an instrument was used for. */
const dependent = z.object({
  calibrationId: id,
  vesselId: id,
  tag: z.string(),
  kind: z.enum(VESSEL_KINDS),
  nominalVolumeMl: z.string(),
  performedOn: z.string(),
  state: z.string(),
  verdict,
  roles: z.array(z.enum(['balance', 'thermometer', 'barometer', 'hygrometer', 'airThermometer'])),
  /** Revision of the instrument it was computed with. */
  instrumentVersion: z.number().int(),
  /** Certificates that are valid. */
  certificates: z.array(z.string()),
});
export type Dependent = z.infer<typeof dependent>;
export const dependentPage = page(dependent).extend({ total: z.number().int() });

/** Ware of a kind and size, of one maker or of all, or a lot. An empty maker: of no known one. */
export const distributionQuery = z
  .strictObject({
    kind: z.enum(VESSEL_KINDS).optional(),
    nominalVolumeMl: positive('The nominal volume').optional(),
    maker: optionalText('The maker', 80).optional(),
    lotId: id.optional(),
  })
  .superRefine(({ kind, nominalVolumeMl, lotId }, context) => {
    const missing = (name: string, what: string) =>
      context.addIssue({ code: 'custom', path: [name], message: `Name ${what}, or a lot.` });
    if (lotId === undefined && kind === undefined) missing('kind', 'a kind of glassware');
    if (lotId === undefined && nominalVolumeMl === undefined) missing('nominalVolumeMl', 'a nominal volume');
  });
export type DistributionQuery = z.infer<typeof distributionQuery>;

const share = z.object({
  count: z.number().int(),
  of: z.number().int(),
  share: z.number(),
  low: z.number(),
  high: z.number(),
});

export const distribution = z.object({
  kind: z.enum(VESSEL_KINDS),
  nominalVolumeMl: z.string(),
  maker: z.string().nullable(),
  lotId: id.nullable(),
  /** Vessels that fit, calibrated or not. */
  vessels: z.number().int(),
  /** The newest are looked at where there are very many. */
  lookedAt: z.number().int(),
  /** Standard whose classes are counted, `ISO 1042:1998`; null where no vessel names one. */
  standard: z.string().nullable(),
  /** In the order of their tags. */
  pieces: z.array(
    z.object({
      vesselId: id,
      tag: z.string(),
      performedOn: z.string(),
      biasMl: z.number(),
      expandedUncertaintyMl: z.number(),
      verdict,
    }),
  ),
  summary: z
    .object({
      n: z.number().int(),
      meanBiasMl: z.number(),
      sdMl: z.number().nullable(),
      smallestMl: z.number(),
      largestMl: z.number(),
      classes: z.array(
        z.object({ class: z.string(), toleranceMl: z.number(), within: share, beyond: z.number().int() }),
      ),
    })
    .nullable(),
});
export type DistributionOnWire = z.infer<typeof distribution>;

/** Ware that is in the register at least twice: something to see a distribution of. */
export const makerList = z.object({
  items: z.array(
    z.object({
      maker: z.string().nullable(),
      kind: z.enum(VESSEL_KINDS),
      nominalVolumeMl: z.string(),
      vessels: z.number().int(),
    }),
  ),
});
export type MakerList = z.infer<typeof makerList>;
