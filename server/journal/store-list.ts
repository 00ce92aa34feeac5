import { sql } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import { FIRST_PREVIOUS_HASH, type JournalEntry } from './chain.ts';
import { entryOf } from './store.ts';

export interface JournalSearch {
  object?: string | undefined;
  act?: string | undefined;
  actor?: string | undefined;
  /** ISO instants, UTC: from is inside, before outside. */
  from?: string | undefined;
  before?: string | undefined;
  search?: string | undefined;
  belowNumber?: number | undefined;
  limit: number;
}

const escapeLike = (text: string): string => text.replaceAll(/[\\%_]/g, (sign) => `\\${sign}`);

/** Newest first. */
export const listEntries = async (db: Reading, search: JournalSearch): Promise<JournalEntry[]> => {
  let query = db.selectFrom('journal_entry').selectAll();
  if (search.object !== undefined) query = query.where('object', '=', search.object);
  if (search.act !== undefined) query = query.where('act', '=', search.act);
  if (search.actor !== undefined) query = query.where('actor', '=', search.actor);
  if (search.from !== undefined) query = query.where('at', '>=', search.from);
  if (search.before !== undefined) query = query.where('at', '<', search.before);
  if (search.belowNumber !== undefined) query = query.where('number', '<', search.belowNumber);
  for (const word of (search.search ?? '').split(/\s+/).filter(Boolean)) {
    const like = `%${escapeLike(word)}%`;
    query = query.where(
      sql<boolean>`(object like ${like} escape '\\' or act like ${like} escape '\\' or actor like ${like} escape '\\'
        or before like ${like} escape '\\' or after like ${like} escape '\\' or request_id = ${word}
        or hash like ${`${escapeLike(word.toLowerCase())}%`} escape '\\')`,
    );
  }
  const rows = await query.orderBy('number', 'desc').limit(search.limit).execute();
  return rows.map(entryOf);
};

export const headOf = async (db: Reading): Promise<{ number: number; hash: string; at: string | null }> => {
  const row = await db
    .selectFrom('journal_entry')
    .select(['number', 'hash', 'at'])
    .orderBy('number', 'desc')
    .limit(1)
    .executeTakeFirst();
  return row ?? { number: 0, hash: FIRST_PREVIOUS_HASH, at: null };
};

/** Which acts and actors occur, for the filters of the page. */
export const wordsIn = async (db: Reading): Promise<{ acts: string[]; actors: string[] }> => {
  const acts = await db.selectFrom('journal_entry').select('act').distinct().orderBy('act').execute();
  const actors = await db.selectFrom('journal_entry').select('actor').distinct().orderBy('actor').execute();
  return { acts: acts.map((row) => row.act), actors: actors.map((row) => row.actor) };
};

/** Tags of the vessels, instruments and calibrations that entries name: `vessel/abc` → `F-0317`. */
export const namesOf = async (db: Reading, objects: readonly string[]): Promise<Map<string, string>> => {
  const ids = (kind: string): string[] =>
    objects.filter((object) => object.startsWith(`${kind}/`)).map((object) => object.slice(kind.length + 1));
  const names = new Map<string, string>();
  const [vessels, instruments, calibrations] = [ids('vessel'), ids('instrument'), ids('calibration')];
  if (vessels.length > 0)
    for (const row of await db.selectFrom('vessel').select(['id', 'tag']).where('id', 'in', vessels).execute())
      names.set(`vessel/${row.id}`, row.tag);
  if (instruments.length > 0)
    for (const row of await db.selectFrom('instrument').select(['id', 'tag']).where('id', 'in', instruments).execute())
      names.set(`instrument/${row.id}`, row.tag);
  if (calibrations.length === 0) return names;
  const rows = await db
    .selectFrom('calibration')
    .innerJoin('vessel', 'vessel.id', 'calibration.vessel_id')
    .select(['calibration.id', 'vessel.tag'])
    .where('calibration.id', 'in', calibrations)
    .execute();
  for (const row of rows) names.set(`calibration/${row.id}`, row.tag);
  return names;
};
