import { z } from 'zod';
import { isoDate, page, requiredText } from '../wire.ts';

/** Strings, whole numbers, true, false, null, and lists and objects of them. */
const value = z.unknown();

export const journalEntry = z.object({
  number: z.number().int(),
  at: z.string(),
  actor: z.string(),
  act: z.string(),
  object: z.string(),
  before: value,
  after: value,
  requestId: z.string(),
  previousHash: z.string(),
  hash: z.string(),
  /** The tag or number of what the act was done to, where it has one. */
  name: z.string().nullable(),
});
export type JournalEntryOnWire = z.infer<typeof journalEntry>;
export const journalPage = page(journalEntry);

export const journalQuery = z.strictObject({
  /** `calibration/abc`: the entries of one record. */
  object: requiredText('The object', 120).optional(),
  act: requiredText('The act', 60).optional(),
  actor: requiredText('The actor', 120).optional(),
  from: isoDate('The first day').optional(),
  to: isoDate('The last day').optional(),
  /** Words anywhere in the entry, or the first letters of a hash. */
  search: requiredText('The search', 80).optional(),
  cursor: z.string().max(200).optional(),
  limit: z.coerce.number().int().min(1).max(200).default(50),
});

export const journalHead = z.object({ number: z.number().int(), hash: z.string(), at: z.string().nullable() });

/** A check of the whole journal, entry by entry and against the rows of the record. */
const fault = z.object({ number: z.number().int().nullable(), fault: z.string() }).nullable();
export const journalCheck = z.discriminatedUnion('state', [
  z.object({ state: z.literal('idle') }),
  z.object({ state: z.literal('running'), done: z.number().int(), total: z.number().int() }),
  z.object({
    state: z.literal('finished'),
    at: z.string(),
    fault,
    entries: z.number().int(),
    head: z.object({ number: z.number().int(), hash: z.string() }).nullable(),
  }),
]);
export type JournalCheck = z.infer<typeof journalCheck>;
export const journalWords = z.object({ acts: z.array(z.string()), actors: z.array(z.string()) });
