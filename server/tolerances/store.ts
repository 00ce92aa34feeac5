import type { Transaction } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { Tables, ToleranceConfirmationTable } from '../db/tables.ts';
import type { Confirmation } from './contract.ts';

const size = (text: string): number | null => (text === '' ? null : Number(text));
const sizeText = (size: number | null): string => (size === null ? '' : String(size));

const confirmationOf = (row: ToleranceConfirmationTable): Confirmation => ({
  standard: row.standard,
  edition: row.edition,
  kind: row.kind,
  class: row.class,
  nominalVolumeMl: size(row.nominal_volume_ml),
  divisionMl: size(row.division_ml),
  limit: row.limit_text,
  whereSeen: row.where_seen,
  at: row.recorded_at,
  by: row.recorded_by,
});

/** Every confirmation ever given, oldest first; a later one of the same row stands beside the earlier. */
export const listConfirmations = async (db: Reading): Promise<Confirmation[]> => {
  const rows = await db.selectFrom('tolerance_confirmation').selectAll().orderBy('recorded_at').execute();
  return rows.map(confirmationOf);
};

/** @returns false when the same row was confirmed at the same moment already */
export const insertConfirmation = async (trx: Transaction<Tables>, confirmation: Confirmation): Promise<boolean> => {
  const { numInsertedOrUpdatedRows } = await trx
    .insertInto('tolerance_confirmation')
    .values({
      standard: confirmation.standard,
      edition: confirmation.edition,
      kind: confirmation.kind,
      class: confirmation.class,
      nominal_volume_ml: sizeText(confirmation.nominalVolumeMl),
      division_ml: sizeText(confirmation.divisionMl),
      limit_text: confirmation.limit,
      where_seen: confirmation.whereSeen,
      recorded_at: confirmation.at,
      recorded_by: confirmation.by,
    })
    .onConflict((known) => known.doNothing())
    .executeTakeFirstOrThrow();
  return numInsertedOrUpdatedRows === 1n;
};
