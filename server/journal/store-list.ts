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

type Named = readonly [kind: string, of: (db: Reading, ids: string[]) => Promise<{ id: string; name: string }[]>];

/** What people call each kind of thing that entries are about. */
const NAMED: readonly Named[] = [
  ['vessel', (db, ids) => db.selectFrom('vessel').select(['id', 'tag as name']).where('id', 'in', ids).execute()],
  [
    'instrument',
    (db, ids) => db.selectFrom('instrument').select(['id', 'tag as name']).where('id', 'in', ids).execute(),
  ],
  [
    'calibration',
    (db, ids) =>
      db
        .selectFrom('calibration')
        .innerJoin('vessel', 'vessel.id', 'calibration.vessel_id')
        .select(['calibration.id', 'vessel.tag as name'])
        .where('calibration.id', 'in', ids)
        .execute(),
  ],
  ['lot', (db, ids) => db.selectFrom('lot').select(['id', 'name']).where('id', 'in', ids).execute()],
  ['person', (db, ids) => db.selectFrom('person').select(['id', 'name']).where('id', 'in', ids).execute()],
  ['key', (db, ids) => db.selectFrom('program_key').select(['id', 'name']).where('id', 'in', ids).execute()],
  [
    'preparation',
    (db, ids) => db.selectFrom('preparation').select(['id', 'number as name']).where('id', 'in', ids).execute(),
  ],
];

/** Names of what entries are about: `vessel/abc` → `F-0317`. */
export const namesOf = async (db: Reading, objects: readonly string[]): Promise<Map<string, string>> => {
  const names = new Map<string, string>();
  for (const [kind, of] of NAMED) {
    const mark = `${kind}/`;
    const ids = objects.filter((object) => object.startsWith(mark)).map((object) => object.slice(mark.length));
    if (ids.length === 0) continue;
    for (const { id, name } of await of(db, ids)) names.set(mark + id, name);
  }
  return names;
};
