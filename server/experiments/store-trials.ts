/** What groups foresaw and weighed, with everything that was later said about it. */
import type { Transaction } from 'kysely';
import type { ClassPredictionTable, ClassTrialTable } from '../db/class-tables.ts';
import type { Reading } from '../db/logbook.ts';
import { prebuilt, prebuiltInsert } from '../db/prebuilt.ts';
import type { Tables } from '../db/tables.ts';
import type { ExclusionCause } from '../metrology/record.ts';
import type { ClassReadings } from './ware-facts.ts';

export const CORRECTABLE = ['emptyG', 'filledG', 'waterTemperatureC'] as const;
export type CorrectableReading = (typeof CORRECTABLE)[number];

export interface StoredCorrection {
  field: CorrectableReading;
  previousValue: string | null;
  value: string;
  reason: string | null;
  recordedAt: string;
}

export interface StoredClassTrial {
  groupId: string;
  rowKey: string;
  number: number;
  vesselId: string | null;
  /** As typed first. */
  typed: ClassReadings;
  /** As the corrections have it. */
  used: ClassReadings;
  entered: 'phone' | 'staff' | 'paper';
  corrections: StoredCorrection[];
  /** Null: it counts. */
  exclusion: { cause: ExclusionCause; reason: string | null } | null;
  recordedAt: string;
}

export interface StoredPrediction {
  groupId: string;
  rowKey: string;
  volumeMl: string;
  withinMl: string | null;
  sureness: string | null;
  recordedAt: string;
}

const readingsOf = (row: ClassTrialTable): ClassReadings => ({
  emptyG: row.empty_g,
  filledG: row.filled_g,
  waterTemperatureC: row.water_temperature_c,
});

/** A trial about which nothing was said yet. */
export const storedTrial = (row: ClassTrialTable): StoredClassTrial => ({
  groupId: row.group_id,
  rowKey: row.row_key,
  number: row.number,
  vesselId: row.vessel_id,
  typed: readingsOf(row),
  used: readingsOf(row),
  entered: row.entered as StoredClassTrial['entered'],
  corrections: [],
  exclusion: null,
  recordedAt: row.recorded_at,
});

const keyOf = (groupId: string, rowKey: string, number: number): string => `${groupId}/${rowKey}/${number}`;

/** Finds the trial that a row was later said about. */
type TrialOf = (row: { group_id: string; row_key: string; trial_number: number }) => StoredClassTrial | undefined;

const addCorrections = async (db: Reading, groupIds: readonly string[], trialFor: TrialOf): Promise<void> => {
  const said = db.selectFrom('class_trial_correction').selectAll().where('group_id', 'in', groupIds);
  for (const row of await said.orderBy('number').execute()) {
    const trial = trialFor(row);
    const field = row.field as CorrectableReading;
    const { previous_value: previousValue, value, reason, recorded_at: recordedAt } = row;
    trial?.corrections.push({ field, previousValue, value, reason, recordedAt });
    if (trial) trial.used = { ...trial.used, [field]: value };
  }
};

const addExclusions = async (db: Reading, groupIds: readonly string[], trialFor: TrialOf): Promise<void> => {
  const said = db.selectFrom('class_trial_exclusion').selectAll().where('group_id', 'in', groupIds);
  for (const row of await said.orderBy('number').execute()) {
    const trial = trialFor(row);
    const exclusion = row.excluded === 1 ? { cause: row.cause as ExclusionCause, reason: row.reason } : null;
    if (trial) trial.exclusion = exclusion;
  }
};

/** In the order of groups given, then of rows and numbers. */
export const trialsOf = async (db: Reading, groupIds: readonly string[]): Promise<StoredClassTrial[]> => {
  if (groupIds.length === 0) return [];
  const rows = await db
    .selectFrom('class_trial')
    .selectAll()
    .where('group_id', 'in', groupIds)
    .orderBy('row_key')
    .orderBy('number')
    .execute();
  const place = new Map(groupIds.map((id, index) => [id, index]));
  const trials = rows
    .map(storedTrial)
    .sort((one, other) => (place.get(one.groupId) ?? 0) - (place.get(other.groupId) ?? 0));
  const byKey = new Map(trials.map((trial) => [keyOf(trial.groupId, trial.rowKey, trial.number), trial]));
  const trialFor: TrialOf = (row) => byKey.get(keyOf(row.group_id, row.row_key, row.trial_number));
  await addCorrections(db, groupIds, trialFor);
  await addExclusions(db, groupIds, trialFor);
  return trials;
};

/** How many trials each group has, those left out among them; groups without any are not named. */
export const trialCounts = async (db: Reading, groupIds: readonly string[]): Promise<Map<string, number>> => {
  if (groupIds.length === 0) return new Map();
  const rows = await db
    .selectFrom('class_trial')
    .select((expression) => ['group_id', expression.fn.countAll<number>().as('count')])
    .where('group_id', 'in', groupIds)
    .groupBy('group_id')
    .execute();
  return new Map(rows.map((row) => [row.group_id, row.count]));
};

export const predictionsOf = async (db: Reading, groupIds: readonly string[]): Promise<StoredPrediction[]> => {
  if (groupIds.length === 0) return [];
  const rows = await db
    .selectFrom('class_prediction')
    .selectAll()
    .where('group_id', 'in', groupIds)
    .orderBy('group_id')
    .orderBy('row_key')
    .execute();
  return rows.map((row) => ({
    groupId: row.group_id,
    rowKey: row.row_key,
    volumeMl: row.volume_ml,
    withinMl: row.within_ml,
    sureness: row.sureness,
    recordedAt: row.recorded_at,
  }));
};

/** A prediction may be changed until the first trial of its row. */
export const keepPrediction = async (trx: Transaction<Tables>, row: ClassPredictionTable): Promise<void> => {
  await trx
    .deleteFrom('class_prediction')
    .where('group_id', '=', row.group_id)
    .where('row_key', '=', row.row_key)
    .execute();
  await trx.insertInto('class_prediction').values(row).execute();
};

export const insertClassTrial = prebuiltInsert('class_trial', [
  'group_id',
  'row_key',
  'number',
  'vessel_id',
  'empty_g',
  'filled_g',
  'water_temperature_c',
  'entered',
  'confirmed',
  'recorded_at',
]);

const lastNumberRow = prebuilt((db, groupId: string, rowKey: string) =>
  db
    .selectFrom('class_trial')
    .select((expression) => expression.fn.max('number').as('number'))
    .where('group_id', '=', groupId)
    .where('row_key', '=', rowKey),
);

/** The highest number of a group's trials in a row; 0 before the first. */
export const lastNumber = async (db: Reading, groupId: string, rowKey: string): Promise<number> => {
  const [row] = await lastNumberRow(db, groupId, rowKey);
  return row?.number ?? 0;
};

export const insertClassCorrection = async (
  trx: Transaction<Tables>,
  { groupId, rowKey, number, corrections }: StoredClassTrial,
  correction: StoredCorrection,
): Promise<void> => {
  await trx
    .insertInto('class_trial_correction')
    .values({
      group_id: groupId,
      row_key: rowKey,
      trial_number: number,
      number: corrections.length + 1,
      field: correction.field,
      previous_value: correction.previousValue,
      value: correction.value,
      reason: correction.reason,
      recorded_at: correction.recordedAt,
    })
    .execute();
};

/** @param cause null takes the trial back in */
export const insertClassExclusion = async (
  trx: Transaction<Tables>,
  { groupId, rowKey, number }: StoredClassTrial,
  facts: { cause: ExclusionCause | null; reason: string | null; at: string },
): Promise<void> => {
  const before = await trx
    .selectFrom('class_trial_exclusion')
    .select((expression) => expression.fn.countAll<number>().as('count'))
    .where('group_id', '=', groupId)
    .where('row_key', '=', rowKey)
    .where('trial_number', '=', number)
    .executeTakeFirstOrThrow();
  await trx
    .insertInto('class_trial_exclusion')
    .values({
      group_id: groupId,
      row_key: rowKey,
      trial_number: number,
      number: before.count + 1,
      excluded: facts.cause === null ? 0 : 1,
      cause: facts.cause,
      reason: facts.reason,
      recorded_at: facts.at,
    })
    .execute();
};
