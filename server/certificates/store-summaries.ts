import { sql } from 'kysely';
import type { Reading } from '../db/logbook.ts';

/** The last calibration of each vessel that was performed in a range of days, both included. */
export const lastCalibrationsBetween = async (db: Reading, from: string, to: string): Promise<string[]> => {
  const rows = await db
    .selectFrom('calibration')
    .select(['id', 'vessel_id'])
    .where('performed_on', '>=', from)
    .where('performed_on', '<=', to)
    .orderBy('performed_on')
    .orderBy('recorded_at')
    .execute();
  return [...new Map(rows.map((row) => [row.vessel_id, row.id])).values()];
};

/** Counts of a range of days, both included. */
export const countsBetween = async (
  db: Reading,
  from: string,
  to: string,
): Promise<{ calibrations: number; abandoned: number; trials: number }> => {
  const row = await db
    .selectFrom('calibration')
    .innerJoin('calibration_standing', 'calibration_standing.calibration_id', 'calibration.id')
    .select((count) => [
      count.fn.countAll<number>().as('calibrations'),
      sql<number>`coalesce(sum(calibration_standing.state = 'abandoned'), 0)`.as('abandoned'),
      sql<number>`coalesce(sum(calibration_standing.trials_recorded), 0)`.as('trials'),
    ])
    .where('performed_on', '>=', from)
    .where('performed_on', '<=', to)
    .executeTakeFirstOrThrow();
  return row;
};

/** Numbers of the certificates issued in a range of days of the laboratory, both included. */
export const numbersBetween = async (db: Reading, from: string, to: string): Promise<string[]> => {
  const issuedOn = sql<string>`json_extract(frozen, '$.issuedOn')`;
  const rows = await db
    .selectFrom('certificate')
    .select('number')
    .where(issuedOn, '>=', from)
    .where(issuedOn, '<=', to)
    .orderBy('number')
    .execute();
  return rows.map((row) => row.number);
};
