/** A solution that was made: what is kept of it, how it ends, and what is decided about it later. */
import { z } from 'zod';
import { finding, id, isoDate, note, optionalText, page, reason, requiredText, searchWords } from '../wire.ts';
import { solutionBody, solutionResult, WAYS } from './contract.ts';

export const preparationBody = z.strictObject({
  title: requiredText('The title', 120),
  /** Left out: today. */
  madeOn: isoDate('The day it was made').optional(),
  expiresOn: isoDate('The day it expires').optional(),
  /** By local rules; the label has a line to write on where it is left out. */
  hazardLine: optionalText('The hazard line', 200).optional(),
  water: optionalText('The water', 80).optional(),
  /** Lots of what was used beside the substance. */
  lots: optionalText('The lots', 200).optional(),
  note: note.optional(),
  solution: solutionBody,
});
export type PreparationBody = z.infer<typeof preparationBody>;

export const ENDINGS = ['used-up', 'discarded'] as const;
export const endBody = z.strictObject({
  ending: z.enum(ENDINGS, { error: 'It was used up, or discarded.' }),
  reason,
});
export type EndBody = z.infer<typeof endBody>;

export const DECISIONS = ['stands', 'repeat', 'standardise-again', 'discard'] as const;
export const decisionBody = z
  .strictObject({
    /** What was found wrong. */
    vesselId: id.optional(),
    instrumentId: id.optional(),
    decision: z.enum(DECISIONS, { error: 'It stands, is repeated, standardised again, or discarded.' }),
    reason,
  })
  .refine(({ vesselId, instrumentId }) => (vesselId === undefined) !== (instrumentId === undefined), {
    path: ['vesselId'],
    error: 'Name the vessel or the instrument the decision is about, one of them.',
  });
export type DecisionBody = z.infer<typeof decisionBody>;
export const decisionSaved = z.object({ number: z.number().int() });

const end = z.object({ ending: z.enum(ENDINGS), reason: z.string(), at: z.string(), by: z.string() });
const decision = z.object({
  number: z.number().int(),
  vesselId: z.string().nullable(),
  calibrationId: z.string().nullable(),
  instrumentId: z.string().nullable(),
  instrumentVersion: z.number().int().nullable(),
  decision: z.enum(DECISIONS),
  reason: z.string(),
  at: z.string(),
  by: z.string(),
});

const shown = {
  id,
  number: z.string(),
  way: z.enum(WAYS),
  title: z.string(),
  madeOn: z.string(),
  expiresOn: z.string().nullable(),
  expired: z.boolean(),
  value: z.number(),
  unit: z.string(),
  expandedUncertainty: z.number(),
  coverageFactor: z.number(),
  significantDigits: z.number().int(),
  quotedAtC: z.number().nullable(),
  approximate: z.boolean(),
  end: end.nullable(),
  recordedAt: z.string(),
  recordedBy: z.string(),
};

export const preparationListItem = z.object(shown);
export type PreparationListItem = z.infer<typeof preparationListItem>;
export const preparationPage = page(preparationListItem);
export const preparationQuery = z.strictObject({
  /** `on`: neither used up nor discarded. */
  shelf: z.enum(['on', 'all'], { error: 'The shelf is on or all.' }).default('on'),
  search: searchWords.optional(),
  cursor: z.string().max(200).optional(),
  limit: z.coerce.number().int().min(1).max(200).default(50),
});

export const preparation = z.object({
  ...shown,
  hazardLine: z.string().nullable(),
  water: z.string().nullable(),
  lots: z.string().nullable(),
  note: z.string().nullable(),
  accuracyPercent: z.string().nullable(),
  /** As typed; sent again it is evaluated with the vessels of today. */
  solution: z.looseObject({ way: z.enum(WAYS) }),
  /** As it was computed then. */
  result: solutionResult,
  versions: z.record(z.string(), z.string()),
  instruments: z.array(
    z.object({
      instrumentId: z.string(),
      tag: z.string(),
      version: z.number().int(),
      use: z.enum(['balance', 'in-stock']),
    }),
  ),
  /** Vessels of the stock and of what that was made from. */
  vesselsInStock: z.array(z.object({ vesselId: z.string(), tag: z.string(), calibrationId: z.string().nullable() })),
  decisions: z.array(decision),
});
export type Preparation = z.infer<typeof preparation>;

export const preparationCreated = z.object({ id, number: z.string(), result: solutionResult });

/** What a solution could be, had the vessel held or the balance shown then what it does now. */
const shift = z.object({
  value: z.number(),
  percent: z.number(),
  /** More than a third of the accuracy stated then; null where none was stated. */
  matters: z.boolean().nullable(),
});

const touched = z.object({ ...shown, shift: shift.nullable(), decision: decision.nullable() });
export type TouchedPreparation = z.infer<typeof touched>;

export const touchedList = z.object({
  /** Day of the last good calibration before the newest one; null: all that was ever made with it. */
  since: z.string().nullable(),
  /** Day of what the shift is reckoned with: the newest calibration of a vessel, the newest check of a balance. */
  against: z.string().nullable(),
  items: z.array(touched),
  /** What was found of the vessel or the instrument itself. */
  findings: z.array(finding),
});
export type TouchedList = z.infer<typeof touchedList>;
