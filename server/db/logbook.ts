import { AsyncLocalStorage } from 'node:async_hooks';
import { accessSync, constants, mkdirSync } from 'node:fs';
import path from 'node:path';
import type { Kysely, Transaction } from 'kysely';
import { connect, queryBuilder } from './connection.ts';
import { takeLogbook } from './lock.ts';
import { migrateToLatest } from './migrate.ts';
import type { Tables } from './tables.ts';
import { Writer, type Answer, type WriteRequest, type Writing } from './write.ts';

export type Reading = Kysely<Tables>;

/** The open logbook: what routes get. `read` sees committed rows only; `write` is the one way to change anything. */
export interface Logbook {
  readonly file: string;
  /** Where migration put a copy of the file as it was before; null when nothing had to change. */
  readonly copyBeforeMigration: string | null;
  read<T>(work: (db: Reading) => Promise<T>): Promise<T>;
  write<T>(request: WriteRequest, work: (writing: Writing) => Promise<Answer<T>>): Promise<Answer<T>>;
  close(): Promise<void>;
}

export class UnwritableFolder extends Error {}

const unwritable = (folder: string): UnwritableFolder =>
  new UnwritableFolder(
    `The data folder ${folder} cannot be written. Give its path in TAREBOOK_DATA or change its rights.`,
  );

const prepareFolder = (folder: string): void => {
  try {
    mkdirSync(folder, { recursive: true });
    accessSync(folder, constants.W_OK);
  } catch {
    throw unwritable(folder);
  }
};

/** A folder can be writable while a file in it is not. */
const isUnwritable = (error: unknown): boolean =>
  error instanceof Error && 'code' in error && /^SQLITE_(?:CANTOPEN|READONLY)/.test(String(error.code));

/** A transaction inside another one would wait for it for ever. */
const forbidNesting = (inside: AsyncLocalStorage<'read' | 'write'>, what: string): void => {
  const outer = inside.getStore();
  if (outer) throw new Error(`${what} was called inside a ${outer}; use the transaction it was given.`);
};

/**
 * Opens, locks and migrates the logbook of a folder.
 * @throws UnwritableFolder, LogbookInUse, NewerLogbook, UnfitConnection
 */
export const openLogbook = async (folder: string, clock: () => Date = () => new Date()): Promise<Logbook> => {
  prepareFolder(folder);
  const undo: (() => void)[] = [];
  try {
    const release = takeLogbook(path.join(folder, 'tarebook.lock'));
    undo.unshift(release);
    const file = path.join(folder, 'tarebook.db');
    const handle = connect(file, { readOnly: false });
    undo.unshift(() => handle.close());
    const db = queryBuilder(handle);
    const copyBeforeMigration = await migrateToLatest(db, handle, file);
    const readHandle = connect(file, { readOnly: true });
    undo.unshift(() => readHandle.close());
    const readDb = queryBuilder(readHandle);
    const writer = new Writer(db, handle, clock);
    const inside = new AsyncLocalStorage<'read' | 'write'>();
    return {
      file,
      copyBeforeMigration,
      read: (work) => {
        forbidNesting(inside, 'read');
        return inside.run('read', () => readDb.transaction().execute((trx: Transaction<Tables>) => work(trx)));
      },
      write: (request, work) => {
        forbidNesting(inside, 'write');
        return writer.submit(request, (writing) => inside.run('write', () => work(writing)));
      },
      close: async () => {
        await writer.settled();
        // A builder that was never asked anything does not close its connection.
        await readDb.destroy();
        readHandle.close();
        handle.pragma('wal_checkpoint(truncate)');
        await db.destroy();
        release();
      },
    };
  } catch (error) {
    for (const step of undo) step();
    throw isUnwritable(error) ? unwritable(folder) : error;
  }
};
