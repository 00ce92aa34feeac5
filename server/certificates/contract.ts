import { z } from 'zod';
import { result } from '../calibrations/contract-result.ts';
import { finding, id, isoDate, note, page, reason, requiredText } from '../wire.ts';

/** The passphrase again: a signature is given by a person, not by an open session. */
const password = z.string({ error: 'The passphrase is text.' }).max(1024).optional();

export const checkBody = z.strictObject({ password, note: note.optional() });
export const issueBody = z.strictObject({
  password,
  /** Printed only when it was asked for. */
  dueOn: isoDate('The day the vessel is due again').optional(),
});
export const amendBody = z.strictObject({ password, reason });
export const withdrawBody = z.strictObject({ password, reason });

export const certificateNumber = z.string().regex(/^\d{4}-\d{5,6}$/, 'A certificate has a number like 2026-00017.');

export const CERTIFICATE_STATES = ['valid', 'replaced', 'withdrawn'] as const;

/** What lists show of a certificate. */
export const certificateListItem = z.object({
  number: z.string(),
  state: z.enum(CERTIFICATE_STATES),
  issuedAt: z.string(),
  issuedBy: z.string(),
  calibrationId: id,
  vesselId: id,
  tag: z.string(),
  kind: z.string(),
  nominalVolumeMl: z.string(),
  performedOn: z.string(),
  /** Where the readings come from, if not from the bench. */
  origin: z.enum(['sheet', 'paper']).nullable(),
  /** Null where no verdict is printed. */
  verdict: z.string().nullable(),
  replaces: z.string().nullable(),
  replacedBy: z.string().nullable(),
});
export type CertificateListItem = z.infer<typeof certificateListItem>;
export const certificatePage = page(certificateListItem);
export const certificateQuery = z.strictObject({
  search: requiredText('The search', 80).optional(),
  state: z.enum(CERTIFICATE_STATES).optional(),
  cursor: z.string().max(200).optional(),
  limit: z.coerce.number().int().min(1).max(200).default(50),
});

export const toleranceBasis = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('marked') }),
  z.object({ kind: z.literal('read-in-standard') }),
  z.object({ kind: z.literal('confirmed'), whereSeen: z.string(), by: z.string(), at: z.string() }),
  z.object({ kind: z.literal('not-checked') }),
  z.object({ kind: z.literal('none') }),
]);

export const signature = z.object({
  meaning: z.enum(['measured', 'checked', 'issued']),
  name: z.string(),
  at: z.string(),
  ownWork: z.boolean(),
});

const file = z.object({ format: z.enum(['pdf', 'xml']), sha256: z.string(), bytes: z.number().int() });

export const certificate = certificateListItem.extend({
  reason: z.string().nullable(),
  /** What changed, for the reader of the certificate it replaced. */
  replacedBecause: z.string().nullable(),
  withdrawal: z.object({ reason: z.string(), at: z.string(), by: z.string() }).nullable(),
  program: z.string(),
  demonstration: z.boolean(),
  entry: z.object({ number: z.number().int(), hash: z.string(), frozenHash: z.string() }),
  signatures: z.array(signature),
  toleranceName: z.string().nullable(),
  toleranceBasis,
  verdictPrinted: z.boolean(),
  files: z.array(file),
  result,
  /** What computing the frozen inputs again gives otherwise; empty when it gives the same. */
  differences: z.array(finding),
});
export type Certificate = z.infer<typeof certificate>;

export const issued = z.object({
  id,
  state: z.string(),
  version: z.number().int(),
  number: z.string(),
  entry: z.object({ number: z.number().int(), hash: z.string(), frozenHash: z.string() }),
});
export const withdrawn = z.object({ number: z.string(), state: z.enum(CERTIFICATE_STATES) });
export const rendered = z.object({ number: z.string(), files: z.array(file) });

const LONGEST_TERM_DAYS = 400;
const daysBetween = (from: string, to: string): number => (Date.parse(to) - Date.parse(from)) / 86_400_000;

/** Calendar days, both included. */
export const termQuery = z
  .strictObject({ from: isoDate('The first day'), to: isoDate('The last day') })
  .refine(({ from, to }) => from <= to, { path: ['to'], error: 'The last day lies before the first.' })
  .refine(({ from, to }) => !(daysBetween(from, to) > LONGEST_TERM_DAYS), {
    path: ['to'],
    error: `A summary covers at most ${LONGEST_TERM_DAYS} days.`,
  });
