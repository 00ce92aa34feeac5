/** Logbooks for the tests of the database layer: in a folder of their own, removed afterwards. */
import Database from 'better-sqlite3';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Logbook } from '../../server/db/logbook.ts';
import type { Writing } from '../../server/db/write.ts';
import { findFault, type ChainFault } from '../../server/journal/chain.ts';
import { allEntries } from '../../server/journal/store.ts';

export const temporaryFolder = (): string => mkdtempSync(path.join(tmpdir(), 'tarebook-db-'));
export const removeFolder = (folder: string): void => rmSync(folder, { recursive: true, force: true });

export const looking = <T>(file: string, look: (handle: Database.Database) => T): T => {
  const handle = new Database(file, { readonly: true });
  try {
    return look(handle);
  } finally {
    handle.close();
  }
};

export const marksIn = (file: string): string[] =>
  looking(file, (handle) => handle.prepare<[], string>('select mark from logbook_mark order by mark').pluck().all());

export const entriesIn = (file: string): number =>
  looking(file, (handle) => Number(handle.prepare('select count(*) from journal_entry').pluck().get()));

export const faultIn = (file: string): ChainFault | null => looking(file, (handle) => findFault(allEntries(handle)));

export const REQUEST = { actor: 'tester', requestId: 'request-1' };

/** The smallest row that is evidence. */
export const insertMark = ({ trx, at, actor }: Writing, mark: string): Promise<unknown> =>
  trx.insertInto('logbook_mark').values({ mark, recorded_at: at, recorded_by: actor }).execute();

export const tell = ({ journal }: Writing, mark: string): void => {
  journal({ act: 'marked', object: `mark/${mark}`, before: null, after: { mark } });
};

export const writeMark = (logbook: Logbook, mark: string, key?: { value: string; fingerprint: string }) =>
  logbook.write({ ...REQUEST, ...(key ? { key } : {}) }, async (writing) => {
    await insertMark(writing, mark);
    tell(writing, mark);
    return { status: 201, body: { mark } };
  });
