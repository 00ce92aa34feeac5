import type { Transaction } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { Tables } from '../db/tables.ts';

export interface StoredFeed {
  id: string;
  tokenHash: string;
  label: string;
  personId: string;
  recordedAt: string;
  recordedBy: string;
  endedAt: string | null;
}

export const listFeeds = async (db: Reading): Promise<StoredFeed[]> => {
  const rows = await db.selectFrom('calendar_feed').selectAll().orderBy('recorded_at').orderBy('id').execute();
  return rows.map((row) => ({
    id: row.id,
    tokenHash: row.token_hash,
    label: row.label,
    personId: row.person_id ?? '',
    recordedAt: row.recorded_at,
    recordedBy: row.recorded_by,
    endedAt: row.ended_at,
  }));
};

export const insertFeed = async (trx: Transaction<Tables>, feed: StoredFeed): Promise<void> => {
  await trx
    .insertInto('calendar_feed')
    .values({
      id: feed.id,
      token_hash: feed.tokenHash,
      label: feed.label,
      person_id: feed.personId,
      recorded_at: feed.recordedAt,
      recorded_by: feed.recordedBy,
      ended_at: null,
    })
    .execute();
};

export const endFeed = async (trx: Transaction<Tables>, id: string, at: string): Promise<void> => {
  await trx.updateTable('calendar_feed').set({ ended_at: at }).where('id', '=', id).execute();
};
