import Database from 'better-sqlite3';
import {
  Kysely,
  SqliteAdapter,
  SqliteDialect,
  SqliteDriver,
  SqliteIntrospector,
  SqliteQueryCompiler,
  type DatabaseConnection,
  type SqliteDatabase,
} from 'kysely';
import type { Tables } from './tables.ts';

export type Handle = Database.Database;

/**
 * Each connection sets its own pragmas: a reopened WAL file would otherwise run at synchronous=NORMAL, where a power
 * cut may undo commits that were already acknowledged.
 */
const PRAGMAS = {
  journal_mode: 'wal',
  synchronous: 2,
  foreign_keys: 1,
  recursive_triggers: 1,
  trusted_schema: 0,
  busy_timeout: 5000,
} as const;

export class UnfitConnection extends Error {}

const OLDEST_SQLITE = [3, 51, 3] as const;

/** Older versions can corrupt a WAL file that several connections write and checkpoint. */
const assertVersion = (handle: Handle): void => {
  const version = handle.prepare('select sqlite_version()').pluck().get() as string;
  const parts = version.split('.').map(Number);
  for (const [index, oldest] of OLDEST_SQLITE.entries()) {
    const part = parts[index] ?? 0;
    if (part > oldest) return;
    if (part < oldest) throw new UnfitConnection(`SQLite ${version} is older than ${OLDEST_SQLITE.join('.')}.`);
  }
};

const assertPragmas = (handle: Handle): void => {
  for (const [name, wanted] of Object.entries(PRAGMAS)) {
    const found = handle.pragma(name, { simple: true });
    if (found !== wanted)
      throw new UnfitConnection(`The database connection reports ${name} = ${String(found)}, not ${wanted}.`);
  }
};

/** Opens the logbook's file. A read-only connection sees every committed row and can write nothing. */
export const connect = (file: string, options: { readOnly: boolean }): Handle => {
  const handle = new Database(file, { readonly: options.readOnly, fileMustExist: options.readOnly });
  if (!options.readOnly) handle.pragma('journal_mode = wal');
  handle.pragma('synchronous = full');
  handle.pragma('foreign_keys = on');
  handle.pragma('recursive_triggers = on');
  handle.pragma('trusted_schema = off');
  handle.pragma(`busy_timeout = ${PRAGMAS.busy_timeout}`);
  assertVersion(handle);
  assertPragmas(handle);
  return handle;
};

/** Preparing costs more than most of our statements take to run, and there are few different ones. */
const withPreparedStatements = (handle: Handle): SqliteDatabase => {
  const prepared = new Map<string, Database.Statement>();
  return {
    close: () => {
      handle.close();
    },
    prepare: (text: string) => {
      let statement = prepared.get(text);
      if (!statement) {
        statement = handle.prepare(text);
        if (prepared.size < 500) prepared.set(text, statement);
      }
      return statement;
    },
  };
};

/** SQLite can roll back schema changes; saying so makes every migration atomic. */
class AtomicDdlAdapter extends SqliteAdapter {
  override get supportsTransactionalDdl(): boolean {
    return true;
  }
}

/** A full disk ends a transaction by itself; the rollback after it would fail and hide why. */
class LogbookDriver extends SqliteDriver {
  readonly #handle: Handle;

  constructor(handle: Handle) {
    super({ database: withPreparedStatements(handle) });
    this.#handle = handle;
  }

  override async rollbackTransaction(connection: DatabaseConnection): Promise<void> {
    if (this.#handle.inTransaction) await super.rollbackTransaction(connection);
  }
}

class LogbookDialect extends SqliteDialect {
  readonly #handle: Handle;

  constructor(handle: Handle) {
    super({ database: handle });
    this.#handle = handle;
  }

  override createDriver(): SqliteDriver {
    return new LogbookDriver(this.#handle);
  }
  override createAdapter(): SqliteAdapter {
    return new AtomicDdlAdapter();
  }
  override createQueryCompiler(): SqliteQueryCompiler {
    return new SqliteQueryCompiler();
  }
  override createIntrospector(db: Kysely<unknown>): SqliteIntrospector {
    return new SqliteIntrospector(db);
  }
}

export const queryBuilder = (handle: Handle): Kysely<Tables> =>
  new Kysely<Tables>({ dialect: new LogbookDialect(handle) });
