/** Taking away what a class left behind: names and words alone, or everything. */
import { sql, type Transaction } from 'kysely';
import type { Tables } from '../db/tables.ts';
import { groupsOf } from './store-groups.ts';

/**
 * Erased rows are overwritten in the file, not only forgotten, and pages that become free are too; that costs more
 * writing, so the connection goes back to its own way afterwards.
 */
const overwriting = async (trx: Transaction<Tables>, work: () => Promise<void>): Promise<void> => {
  await sql`pragma secure_delete = on`.execute(trx);
  try {
    await work();
  } finally {
    await sql`pragma secure_delete = fast`.execute(trx);
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
  overwriting(trx, async () => {
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
  overwriting(trx, async () => {
    const ids = (await groupsOf(trx, experimentId)).map(({ id }) => id);
    await forgetAnswers(trx, keyPrefix);
    if (ids.length > 0)
      for (const table of OF_GROUPS) await trx.deleteFrom(table).where('group_id', 'in', ids).execute();
    await trx.deleteFrom('class_group').where('experiment_id', '=', experimentId).execute();
    await trx.deleteFrom('class_experiment_secret').where('experiment_id', '=', experimentId).execute();
    await trx.deleteFrom('class_experiment').where('id', '=', experimentId).execute();
  });
