import { Migrator, sql, type Kysely } from 'kysely';
import { existsSync } from 'node:fs';
import { migrations } from '../../migrations/index.ts';
import type { Handle } from './connection.ts';
import type { Tables } from './tables.ts';

export class NewerLogbook extends Error {}

const appliedNames = async (db: Kysely<Tables>): Promise<string[]> => {
  const present = await sql<{ name: string }>`select name from sqlite_master where name = 'kysely_migration'`.execute(
    db,
  );
  if (present.rows.length === 0) return [];
  const applied = await sql<{ name: string }>`select name from kysely_migration order by name`.execute(db);
  return applied.rows.map((row) => row.name);
};

/** Refuses a file written by a newer Tarebook; true where this version still has steps to make. */
export const needsMigration = async (db: Kysely<Tables>): Promise<boolean> => {
  const applied = await appliedNames(db);
  const unknown = applied.filter((name) => !(name in migrations));
  if (unknown.length > 0)
    throw new NewerLogbook(
      `This logbook was written by a newer Tarebook (it knows ${unknown.join(', ')}). Start that version.`,
    );
  return applied.length < Object.keys(migrations).length;
};

/**
 * Brings the file to this version's schema, each migration in its own transaction, after a copy of the file as it was.
 * @returns the path of that copy, or null where nothing had been there.
 */
export const migrateToLatest = async (db: Kysely<Tables>, handle: Handle, file: string): Promise<string | null> => {
  if (!(await needsMigration(db))) return null;
  const applied = await appliedNames(db);
  const last = applied.at(-1);
  const copy = last === undefined ? null : `${file}.before-${Object.keys(migrations).length}-after-${last}`;
  if (copy !== null && !existsSync(copy)) handle.prepare('vacuum into ?').run(copy);
  const migrator = new Migrator({ db, provider: { getMigrations: () => Promise.resolve(migrations) } });
  const { error } = await migrator.migrateToLatest();
  if (error) throw error instanceof Error ? error : new Error('A migration failed.');
  return copy;
};
