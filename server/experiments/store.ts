import { sql, type Transaction } from 'kysely';
import type { ClassExperimentTable } from '../db/class-tables.ts';
import type { Reading } from '../db/logbook.ts';
import { prebuilt } from '../db/prebuilt.ts';
import type { Tables } from '../db/tables.ts';
import type { ClassCounts, ExperimentPlan, ExperimentState, TemplateName } from './contract.ts';
import { planOf } from './kept-plans.ts';

export interface StoredExperiment {
  id: string;
  version: number;
  change: number;
  state: ExperimentState;
  madeUp: boolean;
  template: TemplateName;
  plan: ExperimentPlan;
  joiningOpen: boolean;
  namesHidden: boolean;
  predictionsShown: boolean;
  openedAt: string | null;
  endsAt: string | null;
  closedAt: string | null;
  closingHash: string | null;
  namesRemovedAt: string | null;
  recordedAt: string;
  recordedBy: string;
}

const experimentOf = (row: ClassExperimentTable): StoredExperiment => ({
  id: row.id,
  version: row.version,
  change: row.change,
  state: row.state as ExperimentState,
  madeUp: row.made_up === 1,
  template: row.template as TemplateName,
  plan: planOf(row.plan),
  joiningOpen: row.joining_open === 1,
  namesHidden: row.names_hidden === 1,
  predictionsShown: row.predictions_shown === 1,
  openedAt: row.opened_at,
  endsAt: row.ends_at,
  closedAt: row.closed_at,
  closingHash: row.closing_hash,
  namesRemovedAt: row.names_removed_at,
  recordedAt: row.recorded_at,
  recordedBy: row.recorded_by,
});

const experimentRow = prebuilt((db, id: string) => db.selectFrom('class_experiment').selectAll().where('id', '=', id));

export const findExperiment = async (db: Reading, id: string): Promise<StoredExperiment | null> => {
  const [row] = await experimentRow(db, id);
  return row ? experimentOf(row) : null;
};

export interface ExperimentSearch {
  state?: ExperimentState | undefined;
  template?: TemplateName | undefined;
  /** The last one of the page before. */
  after?: { recordedAt: string; id: string } | undefined;
  limit: number;
}

/** Newest first. */
export const listExperiments = async (db: Reading, search: ExperimentSearch): Promise<StoredExperiment[]> => {
  let query = db.selectFrom('class_experiment').selectAll();
  if (search.state !== undefined) query = query.where('state', '=', search.state);
  if (search.template !== undefined) query = query.where('template', '=', search.template);
  if (search.after !== undefined)
    query = query.where(sql<boolean>`(recorded_at, id) < (${search.after.recordedAt}, ${search.after.id})`);
  const rows = await query.orderBy('recorded_at', 'desc').orderBy('id', 'desc').limit(search.limit).execute();
  return rows.map(experimentOf);
};

export const insertExperiment = async (
  trx: Transaction<Tables>,
  facts: {
    id: string;
    template: TemplateName;
    plan: ExperimentPlan;
    madeUp: boolean;
    salt: string;
    at: string;
    actor: string;
  },
): Promise<void> => {
  await trx
    .insertInto('class_experiment')
    .values({
      id: facts.id,
      version: 1,
      change: 1,
      state: 'planned',
      made_up: facts.madeUp ? 1 : 0,
      template: facts.template,
      plan: JSON.stringify(facts.plan),
      joining_open: 0,
      names_hidden: 0,
      predictions_shown: 0,
      opened_at: null,
      ends_at: null,
      closed_at: null,
      closing_hash: null,
      names_removed_at: null,
      recorded_at: facts.at,
      recorded_by: facts.actor,
    })
    .execute();
  const codes = { join_code: null, board_code: null, assistant_code: null };
  await trx
    .insertInto('class_experiment_secret')
    .values({ experiment_id: facts.id, salt: facts.salt, ...codes })
    .execute();
};

type Changes = Partial<
  Pick<
    StoredExperiment,
    | 'version'
    | 'state'
    | 'plan'
    | 'joiningOpen'
    | 'namesHidden'
    | 'predictionsShown'
    | 'openedAt'
    | 'endsAt'
    | 'closedAt'
    | 'closingHash'
    | 'namesRemovedAt'
  >
>;

const flag = (value: boolean | undefined): number | undefined => (value === undefined ? undefined : value ? 1 : 0);

const columnsOf = (changes: Changes) => ({
  version: changes.version,
  state: changes.state,
  plan: changes.plan === undefined ? undefined : JSON.stringify(changes.plan),
  joining_open: flag(changes.joiningOpen),
  names_hidden: flag(changes.namesHidden),
  predictions_shown: flag(changes.predictionsShown),
  opened_at: changes.openedAt,
  ends_at: changes.endsAt,
  closed_at: changes.closedAt,
  closing_hash: changes.closingHash,
  names_removed_at: changes.namesRemovedAt,
});

/** Every change of an experiment or of its data counts one further. */
/** Something of the experiment was written; its facts stay as they are. */
export const countChange = prebuilt((db, id: string) =>
  db
    .updateTable('class_experiment')
    .set((expression) => ({ change: expression('change', '+', sql.lit(1)) }))
    .where('id', '=', id),
);

export const changeExperiment = async (trx: Transaction<Tables>, id: string, changes: Changes): Promise<void> => {
  const columns = Object.entries(columnsOf(changes)).filter(([, value]) => value !== undefined);
  await trx
    .updateTable('class_experiment')
    .set((expression) => ({
      ...(Object.fromEntries(columns) as Partial<ClassExperimentTable>),
      change: expression('change', '+', 1),
    }))
    .where('id', '=', id)
    .execute();
};

export const noCounts = (): ClassCounts => ({ groups: 0, predictions: 0, trials: 0 });

const countQuery = (db: Reading, ids: readonly string[]) =>
  db
    .selectFrom('class_group')
    .select(['class_group.experiment_id'])
    .select((expression) => [
      expression.fn.countAll<number>().as('groups'),
      sql<number>`sum((select count(*) from class_prediction where group_id = class_group.id))`.as('predictions'),
      sql<number>`sum((select count(*) from class_trial where group_id = class_group.id))`.as('trials'),
    ])
    .where('experiment_id', 'in', ids)
    .groupBy('experiment_id');
const countOne = prebuilt((db, id: string) => countQuery(db, [id]));

export const countsOfOne = async (db: Reading, id: string): Promise<ClassCounts> => {
  const [row] = await countOne(db, id);
  if (!row) return noCounts();
  const { experiment_id: _id, ...counts } = row;
  return counts;
};

export const countsOf = async (db: Reading, ids: readonly string[]): Promise<Map<string, ClassCounts>> => {
  const counts = new Map(ids.map((id) => [id, noCounts()]));
  if (ids.length === 0) return counts;
  for (const { experiment_id: id, ...count } of await countQuery(db, ids).execute()) counts.set(id, count);
  return counts;
};

export const saltOf = async (db: Reading, id: string): Promise<string> =>
  (await db.selectFrom('class_experiment_secret').select('salt').where('experiment_id', '=', id).executeTakeFirst())
    ?.salt ?? '';
