/** When vessels are due: kept beside each vessel, worked out anew by every write that can change it. */
import { sql, type RawBuilder, type Transaction } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { Tables } from '../db/tables.ts';

/**
 * Day of the latest calibration that left the bench, and the vessel's interval (else the laboratory's) in months after
 * it; in a month without that day, its last day. None while out of use, without an interval, or never calibrated.
 */
const dueOn: RawBuilder<string | null> = sql`(
  select date(calibration.performed_on, '+' || coalesce(vessel_revision.interval_months, laboratory.interval_months)
    || ' months', 'floor')
  from calibration
  join calibration_standing on calibration_standing.calibration_id = calibration.id
  join vessel_revision on vessel_revision.vessel_id = vessel.id and vessel_revision.version = vessel.version
  join laboratory on laboratory.id = 1
  where calibration.vessel_id = vessel.id and vessel.in_use = 1
    and calibration_standing.state in ('measured', 'checked', 'issued')
  order by calibration.performed_on desc, calibration.recorded_at desc
  limit 1
)`;

export const dueOf = async (db: Reading, vesselId: string): Promise<string | null> =>
  (await db.selectFrom('vessel').select('due_on').where('id', '=', vesselId).executeTakeFirst())?.due_on ?? null;

export const refreshDue = async (trx: Transaction<Tables>, vesselId: string): Promise<void> => {
  await trx.updateTable('vessel').set({ due_on: dueOn }).where('id', '=', vesselId).execute();
};

/** The laboratory's interval changed: every vessel that has none of its own is due another day. */
export const refreshAllDue = async (trx: Transaction<Tables>): Promise<void> => {
  await trx.updateTable('vessel').set({ due_on: dueOn }).execute();
};
