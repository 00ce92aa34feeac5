import { z } from 'zod';
import { reason } from '../wire.ts';

const head = z.object({ number: z.number().int(), hash: z.string() }).nullable();

const backup = z.object({
  /** Name in the folder of the backups. */
  file: z.string(),
  at: z.string(),
  bytes: z.number().int(),
  /** Last entry of the journal it holds; null where the note beside the file is gone. */
  head,
});
export type Backup = z.infer<typeof backup>;

export const backupMade = backup.extend({ sha256: z.string() });
export type BackupMade = z.infer<typeof backupMade>;

export const backupList = z.object({
  folder: z.string(),
  /** When the server opened this logbook: another time tells that it was opened again. */
  openedAt: z.string(),
  /** Newest first. */
  items: z.array(backup),
  lastFailure: z.object({ at: z.string(), detail: z.string() }).nullable(),
});
export type BackupList = z.infer<typeof backupList>;

export const asideBody = z.strictObject({ reason: reason.optional() });

export const restoreBody = z.strictObject({
  file: z.string({ error: 'Name the backup to put back.' }).max(200, 'The name is longer than 200 characters.'),
  reason,
});

/** The server closes now and answers again soon after. */
export const restarting = z.object({
  restarting: z.literal(true),
  /** When the present opening was, to tell it from the next. */
  openedAt: z.string(),
});
export type Restarting = z.infer<typeof restarting>;
