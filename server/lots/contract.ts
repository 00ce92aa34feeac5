import { z } from 'zod';
import { vesselFacts, vesselIdentity, calibrationSummary } from '../glassware/contract.ts';
import { DECISIONS } from '../glassware/contract-decisions.ts';
import { confirmNames, id, isoDate, months, note, optionalText, page, reason, requiredText } from '../wire.ts';
import { lotDecision } from './contract-decision.ts';

const MOST_VESSELS = 500;
const wholeNumber = (what: string, least: number, most: number) =>
  z
    .number({ error: `${what} is a whole number.` })
    .int(`${what} is a whole number.`)
    .min(least, `${what} is at least ${least}.`)
    .max(most, `${what} is at most ${most}.`);

/** What every piece of the delivery is. */
const ware = z.strictObject({
  ...vesselFacts,
  location: vesselIdentity.location,
  intervalMonths: months('The interval').optional(),
});

const about = {
  name: requiredText('The name of the lot', 80),
  receivedOn: isoDate('The day of arrival'),
  supplier: optionalText('The supplier', 80),
  maker: optionalText('The maker', 80),
};

export const lotBody = z
  .strictObject({
    ...about,
    supplier: about.supplier.optional(),
    maker: about.maker.optional(),
    ware,
    /** Tags made from a pattern: `F100-###`. Without `count` there are as many as the list has lines. */
    numbering: z
      .strictObject({
        pattern: requiredText('The pattern', 40),
        first: wholeNumber('The first number', 0, 999_999).default(1),
        count: wholeNumber('The number of vessels', 1, MOST_VESSELS).optional(),
      })
      .optional(),
    /** Pasted or read from a file: tags and serials, or serials alone beside a numbering. */
    list: z
      .string({ error: 'The list is text.' })
      .max(100_000, 'The list is longer than 100 000 characters.')
      .optional(),
    /** Shows what would be registered and what stands in the way; keeps nothing. */
    dryRun: z.boolean({ error: 'Say true or false.' }).default(false),
    confirm: confirmNames.optional(),
    note: note.optional(),
  })
  .superRefine(({ numbering, list }, context) => {
    if (numbering === undefined && list === undefined)
      context.addIssue({ code: 'custom', path: ['numbering'], message: 'Give a pattern for the tags, or a list.' });
    if (numbering !== undefined && numbering.count === undefined && list === undefined)
      context.addIssue({ code: 'custom', path: ['numbering', 'count'], message: 'Say how many vessels arrived.' });
  });
export type LotBody = z.infer<typeof lotBody>;

/** `null` empties an optional field. */
export const lotChange = z.strictObject({
  name: about.name.optional(),
  receivedOn: about.receivedOn.optional(),
  supplier: about.supplier.nullable().optional(),
  maker: about.maker.nullable().optional(),
  note: note.nullable().optional(),
  reason,
});
export type LotChange = z.infer<typeof lotChange>;

/** One line of the preview: what would be registered, and each thing that stands in the way. */
const previewRow = z.object({
  /** Line of the list, or place in the numbering. */
  line: z.number().int(),
  tag: z.string(),
  serial: z.string().nullable(),
  problems: z.array(z.object({ field: z.enum(['tag', 'serial']), detail: z.string() })),
});
export type PreviewRow = z.infer<typeof previewRow>;
export const lotPreview = z.object({
  dryRun: z.literal(true),
  rows: z.array(previewRow),
  toleranceMl: z.number().nullable(),
});
export type LotPreview = z.infer<typeof lotPreview>;

const wareOnWire = z.object({
  kind: z.string(),
  nominalVolumeMl: z.string(),
  basis: z.string(),
  tolerance: z.record(z.string(), z.string()).nullable(),
  material: z.string(),
  count: z.number().int(),
});

/** How many vessels stand where. `measured` has left the bench; `damaged` was found so and is out of use. */
const progress = z.object({
  vessels: z.number().int(),
  notBegun: z.number().int(),
  open: z.number().int(),
  measured: z.number().int(),
  outOfUse: z.number().int(),
});

const lotFacts = {
  id,
  version: z.number().int(),
  name: z.string(),
  receivedOn: z.string(),
  supplier: z.string().nullable(),
  maker: z.string().nullable(),
  ware: wareOnWire,
  note: z.string().nullable(),
  recordedAt: z.string(),
  recordedBy: z.string(),
};

export const lotListItem = z.object({
  ...lotFacts,
  progress,
  /** The latest first. */
  decisions: z.array(lotDecision),
});
export type LotListItem = z.infer<typeof lotListItem>;
export const lotPage = page(lotListItem);
export const lotQuery = z.strictObject({
  cursor: z.string().max(200).optional(),
  limit: z.coerce.number().int().min(1).max(200).default(50),
});

export const lotCreated = z.object({
  id,
  version: z.number().int(),
  vessels: z.array(z.object({ id, tag: z.string() })),
});

export const inspectionOnWire = z.object({
  number: z.number().int(),
  outcome: z.enum(['fit', 'damaged']),
  chips: z.boolean(),
  cracks: z.boolean(),
  cleanFilm: z.boolean(),
  dry: z.boolean(),
  note: z.string().nullable(),
  at: z.string(),
  by: z.string(),
});
export type InspectionOnWire = z.infer<typeof inspectionOnWire>;

export const VESSEL_STANDINGS = ['not-begun', 'open', 'measured', 'damaged', 'out-of-use'] as const;
const lotVessel = z.object({
  id,
  tag: z.string(),
  serial: z.string().nullable(),
  standing: z.enum(VESSEL_STANDINGS),
  dueOn: z.string().nullable(),
  latest: calibrationSummary.nullable(),
  /** What was decided on its latest calibration. */
  decision: z.enum(DECISIONS).nullable(),
  /** It is in use, does not pass, and nothing is decided about it yet. */
  asksForDecision: z.boolean(),
});
export type LotVessel = z.infer<typeof lotVessel>;

export const WAYS_OF_WORKING = ['empties-first', 'vessel-by-vessel', 'reuse-dry'] as const;
export type WayOfWorking = (typeof WAYS_OF_WORKING)[number];

export const lotWithVessels = z.object({
  ...lotListItem.shape,
  vessels: z.array(lotVessel),
  rounds: z.array(
    z.object({
      number: z.number().int(),
      wayOfWorking: z.enum(WAYS_OF_WORKING),
      vessels: z.number().int(),
      open: z.number().int(),
      recordedAt: z.string(),
      recordedBy: z.string(),
    }),
  ),
});
export type LotWithVessels = z.infer<typeof lotWithVessels>;

const yes = (what: string) => z.boolean({ error: `${what}: say true or false.` });

export const inspectionBody = z
  .strictObject({
    /** What was looked for before the first trial; `chips` and `cracks` say that some were found. */
    findings: z.strictObject({
      chips: yes('Chips'),
      cracks: yes('Cracks'),
      cleanFilm: yes('Clean film'),
      dry: yes('Dry'),
    }),
    outcome: z.enum(['fit', 'damaged'], { error: 'The outcome is fit or damaged.' }),
    calibrationId: id.optional(),
    note: note.optional(),
  })
  .refine(({ findings, outcome }) => outcome === 'damaged' || !findings.cracks, {
    path: ['outcome'],
    error: 'A cracked vessel can break in the hand. Call it damaged.',
  });
export type InspectionBody = z.infer<typeof inspectionBody>;
/** `abandoned`: calibrations that ended because the vessel is damaged. */
export const inspectionSaved = z.object({ number: z.number().int(), abandoned: z.array(id) });
