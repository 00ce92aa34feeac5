import type { Transaction } from 'kysely';
import { calibrationIdsOf, loadCalibrations } from '../calibrations/store.ts';
import type { Reading } from '../db/logbook.ts';
import type { Tables } from '../db/tables.ts';
import { mapping, type Mapping } from './contract.ts';

export const listMappings = async (db: Reading) => {
  const rows = await db.selectFrom('import_mapping').selectAll().orderBy('name').execute();
  return rows.map((row) => ({
    name: row.name,
    mapping: mapping.parse(JSON.parse(row.mapping)),
    recordedAt: row.recorded_at,
    recordedBy: row.recorded_by,
  }));
};

/** Kept under its name in place of an earlier one. */
export const keepMapping = async (
  trx: Transaction<Tables>,
  kept: { name: string; mapping: Mapping; at: string; actor: string },
): Promise<void> => {
  const row = { mapping: JSON.stringify(kept.mapping), recorded_at: kept.at, recorded_by: kept.actor };
  await trx
    .insertInto('import_mapping')
    .values({ name: kept.name, ...row })
    .onConflict((conflict) => conflict.column('name').doUpdateSet(row))
    .execute();
};

interface Readings {
  pointMl: string;
  emptyG: string;
  filledG: string;
}

const signature = (trials: readonly Readings[]): string =>
  trials
    .map(({ pointMl, emptyG, filledG }) => [pointMl, emptyG, filledG].map(Number).join(' '))
    .sort()
    .join('; ');

/** Has this vessel a calibration of that day with the very same readings? An abandoned one does not count. */
export const isKnown = async (
  db: Reading,
  vesselId: string,
  performedOn: string,
  trials: readonly Readings[],
): Promise<boolean> => {
  const loaded = await loadCalibrations(db, await calibrationIdsOf(db, vesselId));
  return [...loaded.values()].some(
    ({ state, record }) =>
      state !== 'abandoned' && record.performedOn === performedOn && signature(record.trials) === signature(trials),
  );
};
