/** Groups of a class, and the codes and words by which they come in. */
import type { Transaction } from 'kysely';
import type { ClassExperimentSecretTable, ClassGroupTable } from '../db/class-tables.ts';
import type { Reading } from '../db/logbook.ts';
import { prebuilt } from '../db/prebuilt.ts';
import type { Tables } from '../db/tables.ts';

export interface StoredGroup {
  id: string;
  experimentId: string;
  number: number;
  /** Null once names were removed. */
  name: string | null;
  /** Left out of the board; its data stay. */
  hidden: boolean;
  madeBy: 'phone' | 'staff';
  recordedAt: string;
}

const groupOf = (row: ClassGroupTable): StoredGroup => ({
  id: row.id,
  experimentId: row.experiment_id,
  number: row.number,
  name: row.name,
  hidden: row.hidden === 1,
  madeBy: row.made_by as StoredGroup['madeBy'],
  recordedAt: row.recorded_at,
});

/** In the order of their numbers. */
export const groupsOf = async (db: Reading, experimentId: string): Promise<StoredGroup[]> => {
  const rows = await db
    .selectFrom('class_group')
    .selectAll()
    .where('experiment_id', '=', experimentId)
    .orderBy('number')
    .execute();
  return rows.map(groupOf);
};

const groupRow = prebuilt((db, experimentId: string, id: string) =>
  db.selectFrom('class_group').selectAll().where('experiment_id', '=', experimentId).where('id', '=', id),
);

export const findGroup = async (db: Reading, experimentId: string, id: string): Promise<StoredGroup | null> => {
  const [row] = await groupRow(db, experimentId, id);
  return row ? groupOf(row) : null;
};

export const insertGroup = async (
  trx: Transaction<Tables>,
  group: StoredGroup & { name: string },
  word: string,
): Promise<void> => {
  await trx
    .insertInto('class_group')
    .values({
      id: group.id,
      experiment_id: group.experimentId,
      number: group.number,
      name: group.name,
      hidden: group.hidden ? 1 : 0,
      made_by: group.madeBy,
      recorded_at: group.recordedAt,
    })
    .execute();
  await trx.insertInto('class_group_secret').values({ group_id: group.id, word }).execute();
};

export const changeGroup = async (
  trx: Transaction<Tables>,
  id: string,
  { name, hidden }: { name?: string | undefined; hidden?: boolean | undefined },
): Promise<void> => {
  const columns = {
    ...(name === undefined ? {} : { name }),
    ...(hidden === undefined ? {} : { hidden: hidden ? 1 : 0 }),
  };
  if (Object.keys(columns).length > 0) await trx.updateTable('class_group').set(columns).where('id', '=', id).execute();
};

export const changeWord = async (trx: Transaction<Tables>, groupId: string, word: string): Promise<void> => {
  await trx.deleteFrom('class_group_secret').where('group_id', '=', groupId).execute();
  await trx.insertInto('class_group_secret').values({ group_id: groupId, word }).execute();
};

/** Words of the groups of one experiment, by the id of the group. */
export const wordsOf = async (db: Reading, experimentId: string): Promise<Map<string, string>> => {
  const rows = await db
    .selectFrom('class_group_secret')
    .innerJoin('class_group', 'class_group.id', 'class_group_secret.group_id')
    .select(['class_group_secret.group_id', 'class_group_secret.word'])
    .where('class_group.experiment_id', '=', experimentId)
    .execute();
  return new Map(rows.map((row) => [row.group_id, row.word]));
};

export type CodeKind = 'join_code' | 'board_code' | 'assistant_code';
export type Codes = Pick<ClassExperimentSecretTable, CodeKind>;

export const codesOf = async (db: Reading, experimentId: string): Promise<Codes> =>
  (await db
    .selectFrom('class_experiment_secret')
    .select(['join_code', 'board_code', 'assistant_code'])
    .where('experiment_id', '=', experimentId)
    .executeTakeFirst()) ?? { join_code: null, board_code: null, assistant_code: null };

export const changeCodes = async (
  trx: Transaction<Tables>,
  experimentId: string,
  codes: Partial<Codes>,
): Promise<void> => {
  await trx.updateTable('class_experiment_secret').set(codes).where('experiment_id', '=', experimentId).execute();
};

/** The experiment that a code opens at this moment; null for a wrong code as for one that has ended. */
export const experimentByCode = async (
  db: Reading,
  kind: CodeKind,
  code: string,
  at: string,
): Promise<{ id: string; joiningOpen: boolean; endsAt: string } | null> => {
  const row = await db
    .selectFrom('class_experiment_secret')
    .innerJoin('class_experiment', 'class_experiment.id', 'class_experiment_secret.experiment_id')
    .select(['class_experiment.id', 'class_experiment.joining_open', 'class_experiment.ends_at'])
    .where(`class_experiment_secret.${kind}`, '=', code)
    .where('class_experiment.state', '=', 'open')
    .where('class_experiment.ends_at', '>', at)
    .executeTakeFirst();
  return row?.ends_at ? { id: row.id, joiningOpen: row.joining_open === 1, endsAt: row.ends_at } : null;
};
