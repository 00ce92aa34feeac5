import { z } from 'zod';
import { BASES, MATERIALS, VESSEL_KINDS } from '../metrology/record.ts';
import {
  confirmNames,
  id,
  isoDate,
  months,
  note,
  notNegative,
  optionalText,
  page,
  positive,
  quantity,
  reason,
  requiredText,
  searchWords,
} from '../wire.ts';
import { vesselDecision } from './contract-decisions.ts';

export const toleranceBody = z
  .strictObject({
    standard: requiredText('The standard', 60).optional(),
    edition: requiredText('The edition', 60).optional(),
    class: requiredText('The class', 20).optional(),
    markedMl: positive('The tolerance marked in mL').optional(),
    markedPercent: positive('The tolerance marked in per cent').optional(),
  })
  .superRefine((tolerance, context) => {
    const named = [tolerance.standard, tolerance.edition, tolerance.class].filter((part) => part !== undefined).length;
    if (named !== 0 && named !== 3)
      context.addIssue({
        code: 'custom',
        path: [],
        message: 'Name standard, edition and class together, or none of them.',
      });
    if (tolerance.markedMl !== undefined && tolerance.markedPercent !== undefined)
      context.addIssue({
        code: 'custom',
        path: ['markedPercent'],
        message: 'Give the marked tolerance once: in mL or in per cent.',
      });
    if (named === 0 && tolerance.markedMl === undefined && tolerance.markedPercent === undefined)
      context.addIssue({
        code: 'custom',
        path: [],
        message: 'Name a class of a standard, or the tolerance marked on the vessel.',
      });
  });

/** What makes a vessel, without the laboratory's own mark; also the inline vessel of an evaluation. */
export const vesselFacts = {
  kind: z.enum(VESSEL_KINDS, { error: 'Choose a kind of glassware from the list.' }),
  nominalVolumeMl: positive('The nominal volume'),
  basis: z.enum(BASES, { error: 'Choose contain (In) or deliver (Ex), as marked on the vessel.' }),
  tolerance: toleranceBody.optional(),
  material: z.enum(MATERIALS, { error: 'Choose a material from the list.' }),
  expansionPerK: notNegative('The expansion coefficient')
    .refine(
      (text) => Number(text) <= 0.01,
      'The expansion coefficient is per kelvin, as 0.0000099; no vessel grows by a hundredth for each.',
    )
    .optional(),
  referenceTemperatureC: quantity('The reference temperature').refine(
    (text) => Number(text) === 20 || Number(text) === 27,
    'The reference temperature is 20 °C or 27 °C, as marked on the vessel.',
  ),
  divisionMl: positive('The division').optional(),
  marks: z.array(positive('A mark')).min(1).max(100).optional(),
  neckDiameterMm: positive('The neck diameter').optional(),
  expectedSpreadMl: notNegative('The expected spread').optional(),
  waitingTimeS: notNegative('The waiting time').optional(),
};

const manyChannels = 'The number of channels is a whole number from 1 to 384.';
/** How a vessel that delivers is used; computes nothing. */
const delivering = {
  /** Of a piston pipette. */
  channels: z.number({ error: manyChannels }).int(manyChannels).min(1, manyChannels).max(384, manyChannels).optional(),
  /** The last drop is blown out, as a ring or a band on the pipette asks for. */
  blowOut: z.boolean({ error: 'Say true or false.' }).optional(),
};

/** Which piece of its kind it is; computes nothing. */
export const vesselIdentity = {
  serial: optionalText('The serial number', 80).optional(),
  maker: optionalText('The maker', 80).optional(),
  location: optionalText('The place', 80).optional(),
  acquiredOn: isoDate('The date of acquisition').optional(),
};

/** How long a calibration lasts, and why so; left out, the laboratory's interval counts. */
const interval = {
  intervalMonths: months('The interval').optional(),
  intervalReason: optionalText('The reason of the interval', 200).optional(),
};

export const vesselBody = z.strictObject({
  tag: requiredText('The tag', 40),
  ...vesselFacts,
  ...vesselIdentity,
  ...delivering,
  ...interval,
  confirm: confirmNames.optional(),
  note: note.optional(),
});
export type VesselBody = z.infer<typeof vesselBody>;

/** A mistyped identity put right: the fields that change, and why. `null` empties an optional field. */
export const vesselChange = z.strictObject({
  tag: requiredText('The tag', 40).optional(),
  kind: vesselFacts.kind.optional(),
  nominalVolumeMl: vesselFacts.nominalVolumeMl.optional(),
  basis: vesselFacts.basis.optional(),
  tolerance: toleranceBody.nullable().optional(),
  material: vesselFacts.material.optional(),
  expansionPerK: vesselFacts.expansionPerK.nullable(),
  referenceTemperatureC: vesselFacts.referenceTemperatureC.optional(),
  divisionMl: vesselFacts.divisionMl.nullable(),
  marks: vesselFacts.marks.nullable(),
  neckDiameterMm: vesselFacts.neckDiameterMm.nullable(),
  expectedSpreadMl: vesselFacts.expectedSpreadMl.nullable(),
  waitingTimeS: vesselFacts.waitingTimeS.nullable(),
  serial: vesselIdentity.serial.nullable(),
  maker: vesselIdentity.maker.nullable(),
  location: vesselIdentity.location.nullable(),
  acquiredOn: vesselIdentity.acquiredOn.nullable(),
  channels: delivering.channels.nullable(),
  blowOut: delivering.blowOut.nullable(),
  intervalMonths: interval.intervalMonths.nullable(),
  intervalReason: interval.intervalReason.nullable(),
  inUse: z.boolean().optional(),
  reason,
  confirm: confirmNames.optional(),
  note: note.optional(),
});
export type VesselChange = z.infer<typeof vesselChange>;

/** Where a tolerance comes from: the mark on the vessel, a table row with its verification, or nowhere. */
export const toleranceSource = z.object({
  from: z.enum(['marked', 'table', 'none']),
  standard: z.string().nullable(),
  edition: z.string().nullable(),
  class: z.string().nullable(),
  /** The table's own value beside a marked one. */
  tableToleranceMl: z.number().nullable(),
  verification: z.string().nullable(),
  readInStandard: z.boolean().nullable(),
});
export type ToleranceSource = z.infer<typeof toleranceSource>;

export const toleranceOnWire = z.object({
  standard: z.string().optional(),
  edition: z.string().optional(),
  class: z.string().optional(),
  markedMl: z.string().optional(),
  markedPercent: z.string().optional(),
});

export const vessel = z.object({
  id,
  version: z.number().int(),
  tag: z.string(),
  formerTags: z.array(z.string()),
  kind: z.enum(VESSEL_KINDS),
  nominalVolumeMl: z.string(),
  basis: z.enum(BASES),
  tolerance: toleranceOnWire.nullable(),
  material: z.enum(MATERIALS),
  expansionPerK: z.string().nullable(),
  referenceTemperatureC: z.string(),
  divisionMl: z.string().nullable(),
  marks: z.array(z.string()).nullable(),
  neckDiameterMm: z.string().nullable(),
  expectedSpreadMl: z.string().nullable(),
  waitingTimeS: z.string().nullable(),
  serial: z.string().nullable(),
  maker: z.string().nullable(),
  location: z.string().nullable(),
  acquiredOn: z.string().nullable(),
  note: z.string().nullable(),
  inUse: z.boolean(),
  lotId: id.nullable(),
  channels: z.number().int().nullable(),
  blowOut: z.boolean().nullable(),
  intervalMonths: z.number().int().nullable(),
  intervalReason: z.string().nullable(),
  toleranceMl: z.number().nullable(),
  toleranceSource,
  recordedAt: z.string(),
  recordedBy: z.string(),
});
export type Vessel = z.infer<typeof vessel>;

/** One strip of a list or a history: the result of one point of one calibration, without its trials' readings. */
export const calibrationSummary = z.object({
  id,
  state: z.enum(['open', 'measured', 'checked', 'issued', 'abandoned']),
  performedOn: z.string(),
  /** Where the readings come from, if not from the bench. */
  origin: z.enum(['sheet', 'paper']).nullable(),
  recordedAt: z.string(),
  plannedTrials: z.number().int(),
  verdict: z.string().nullable(),
  final: z.boolean(),
  points: z.array(
    z.object({
      pointMl: z.string(),
      n: z.number().int(),
      nRecorded: z.number().int(),
      meanMl: z.number().nullable(),
      biasMl: z.number().nullable(),
      sdMl: z.number().nullable(),
      expandedUncertaintyMl: z.number().nullable(),
      coverageFactor: z.number().nullable(),
      simpleMeanMl: z.number().nullable(),
      toleranceMl: z.number().nullable(),
      verdict: z.string().nullable(),
      volumesMl: z.array(z.number()),
      excludedVolumesMl: z.array(z.number()),
    }),
  ),
});
export type CalibrationSummary = z.infer<typeof calibrationSummary>;

export const vesselListItem = vessel.extend({
  latest: calibrationSummary.nullable(),
  /** Null where no interval is set, or nothing was measured yet. */
  dueOn: z.string().nullable(),
});
export type VesselListItem = z.infer<typeof vesselListItem>;
export const vesselPage = page(vesselListItem);

export const vesselRevision = z.object({
  version: z.number().int(),
  at: z.string(),
  by: z.string(),
  reason: z.string().nullable(),
  changed: z.array(z.object({ field: z.string(), before: z.string().nullable(), after: z.string().nullable() })),
});

export const vesselWithHistory = vessel.extend({
  dueOn: z.string().nullable(),
  calibrations: z.array(calibrationSummary),
  decisions: z.array(vesselDecision),
  revisions: z.array(vesselRevision),
});
export type VesselWithHistory = z.infer<typeof vesselWithHistory>;

export const vesselQuery = z.strictObject({
  search: searchWords.optional(),
  kind: z.enum(VESSEL_KINDS).optional(),
  inUse: z.enum(['true', 'false']).optional(),
  dueBy: isoDate('The day').optional(),
  cursor: z.string().max(200).optional(),
  limit: z.coerce.number().int().min(1).max(200).default(50),
});
