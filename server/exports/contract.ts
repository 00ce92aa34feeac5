import { z } from 'zod';
import { isoDate, requiredText } from '../wire.ts';

const yesOrNo = z.enum(['true', 'false'], { error: 'Say true or false.' });

const narrowed = {
  /** Tag of one vessel, present or former. */
  vessel: requiredText('The tag', 60).optional(),
  /** Name of one lot. */
  lot: requiredText('The name of the lot', 80).optional(),
  from: isoDate('The first day').optional(),
  to: isoDate('The last day').optional(),
  certificates: yesOrNo.default('true'),
  /** Also one workbook (XLSX) of the tables people look into most. */
  workbook: yesOrNo.default('false'),
};
export const planQuery = z.strictObject(narrowed);

const token = z.string().regex(/^[\w-]{8,64}$/, 'A token is 8 to 64 letters and digits.');
export const exportQuery = z.strictObject({
  ...narrowed,
  /** Chosen by the caller, to ask for the progress by. */
  watch: token.optional(),
});
export const progressParams = z.object({ token });

const head = z.object({ number: z.number().int(), hash: z.string() }).nullable();

export const exportPlan = z.object({
  tables: z.array(z.object({ name: z.string(), rows: z.number().int() })),
  journalEntries: z.number().int(),
  certificateFiles: z.number().int(),
  head,
});
export type ExportPlan = z.infer<typeof exportPlan>;

export const exportProgress = z.object({
  done: z.number().int(),
  total: z.number().int(),
  /** `waiting` also where nobody began an export by this token. */
  state: z.enum(['waiting', 'running', 'finished', 'broken-off']),
  /** The last entry of the journal that the export holds. */
  head,
});
export type ExportProgress = z.infer<typeof exportProgress>;
