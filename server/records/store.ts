import type { Reading } from '../db/logbook.ts';
import { listedVesselOf, type ListedVessel } from '../glassware/store.ts';
import type { Today } from './contract.ts';

/** Vessels with a calibration, the one touched last first. */
export const vesselsLastCalibrated = async (db: Reading, limit: number): Promise<ListedVessel[]> => {
  const rows = await db
    .selectFrom('calibration_standing')
    // In this order: from the calibration touched last to its vessel. Left to itself the planner sorts all of them.
    .crossJoin('vessel')
    .crossJoin('vessel_revision')
    .whereRef('vessel.id', '=', 'calibration_standing.vessel_id')
    .whereRef('vessel.latest_calibration_id', '=', 'calibration_standing.calibration_id')
    .whereRef('vessel_revision.vessel_id', '=', 'vessel.id')
    .whereRef('vessel_revision.version', '=', 'vessel.version')
    .selectAll('vessel_revision')
    .select(['vessel.latest_calibration_id', 'vessel.due_on'])
    .orderBy('calibration_standing.touched_at', 'desc')
    .orderBy('vessel.tag')
    .limit(limit)
    .execute();
  return rows.map(listedVesselOf);
};

export const countAll = async (db: Reading): Promise<Today['counts']> => {
  const vessels = await db
    .selectFrom('vessel')
    .select((count) => [
      count.fn.countAll<number>().as('all'),
      count.fn.count<number>('latest_calibration_id').as('calibrated'),
    ])
    .executeTakeFirstOrThrow();
  const standing = await db
    .selectFrom('calibration_standing')
    .select((sum) => [
      sum.fn.coalesce(sum.fn.sum<number>('trials_recorded'), sum.lit(0)).as('trials'),
      sum.fn.countAll<number>().filterWhere('state', '=', 'open').as('open'),
    ])
    .executeTakeFirstOrThrow();
  return {
    vessels: vessels.all,
    neverCalibrated: vessels.all - vessels.calibrated,
    openCalibrations: standing.open,
    trials: standing.trials,
  };
};

export const countDue = async (db: Reading, until: string): Promise<number> => {
  const { due } = await db
    .selectFrom('vessel')
    .select((count) => count.fn.countAll<number>().as('due'))
    .where('due_on', '<=', until)
    .executeTakeFirstOrThrow();
  return due;
};
