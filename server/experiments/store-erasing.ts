/** Taking away what a class left behind: names and words alone, or everything. */
import { sql, type Transaction } from 'kysely';
import type { Tables } from '../db/tables.ts';
import { groupsOf } from './store-groups.ts';

const TABLES = [
  'class_trial_exclusion',
  'class_trial_correction',
  'class_trial',
  'class_prediction',
  'class_group_secret',
  'class_group',
  'class_experiment_secret',
  'class_experiment',
] as const;

/**
 * Writes every class table anew. A row that is deleted, even overwritten where it lay, leaves copies in the gaps of pages
 * that were split or put together before; pages of a table that is emptied are set to zero whole.
 */
const writeAnew = async (trx: Transaction<Tables>): Promise<void> => {
  for (const name of TABLES) {
    const table = sql.table(name);
    await sql`create table class_kept as select * from ${table}`.execute(trx);
    await sql`delete from ${table}`.execute(trx);
    await sql`insert into ${table} select * from class_kept`.execute(trx);
    await sql`drop table class_kept`.execute(trx);
  }
};

/** What is erased leaves the file, not only the tables; that costs more writing, so the connection goes back afterwards. */
const thoroughly = async (trx: Transaction<Tables>, work: () => Promise<void>): Promise<void> => {
  await sql`pragma secure_delete = on`.execute(trx);
  try {
    await work();
    await writeAnew(trx);
  } finally {
    await sql`pragma secure_delete = off`.execute(trx);
  }
};

const forgetAnswers = async (trx: Transaction<Tables>, keyPrefix: string): Promise<void> => {
  await trx
    .deleteFrom('idempotency_key')
    .where('request_key', '>=', keyPrefix)
    .where('request_key', '<', `${keyPrefix}\uffff`)
    .execute();
};

/** Names, returning words and reasons in free words go; readings, predictions and numbers stay. */
export const eraseNames = (trx: Transaction<Tables>, experimentId: string, keyPrefix: string): Promise<void> =>
  thoroughly(trx, async () => {
    const ids = (await groupsOf(trx, experimentId)).map(({ id }) => id);
    await forgetAnswers(trx, keyPrefix);
    await trx.updateTable('class_group').set({ name: null }).where('experiment_id', '=', experimentId).execute();
    if (ids.length === 0) return;
    await trx.deleteFrom('class_group_secret').where('group_id', 'in', ids).execute();
    await trx.updateTable('class_trial_correction').set({ reason: null }).where('group_id', 'in', ids).execute();
    await trx.updateTable('class_trial_exclusion').set({ reason: null }).where('group_id', 'in', ids).execute();
  });

const OF_GROUPS = [
  'class_trial_exclusion',
  'class_trial_correction',
  'class_trial',
  'class_prediction',
  'class_group_secret',
] as const;

/** Nothing of the experiment is left but what the journal tells: that there was one, and its counts. */
export const eraseExperiment = (trx: Transaction<Tables>, experimentId: string, keyPrefix: string): Promise<void> =>
  thoroughly(trx, async () => {
    const ids = (await groupsOf(trx, experimentId)).map(({ id }) => id);
    await forgetAnswers(trx, keyPrefix);
    if (ids.length > 0)
      for (const table of OF_GROUPS) await trx.deleteFrom(table).where('group_id', 'in', ids).execute();
    await trx.deleteFrom('class_group').where('experiment_id', '=', experimentId).execute();
    await trx.deleteFrom('class_experiment_secret').where('experiment_id', '=', experimentId).execute();
    await trx.deleteFrom('class_experiment').where('id', '=', experimentId).execute();
  });
