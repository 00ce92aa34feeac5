import type { Reading } from '../db/logbook.ts';

export interface LabelledVessel {
  id: string;
  tag: string;
  inUse: boolean;
  dueOn: string | null;
}

/** In the order of the ids; one the register does not hold is left out. */
export const labelledVessels = async (db: Reading, ids: readonly string[]): Promise<LabelledVessel[]> => {
  const rows = await db.selectFrom('vessel').select(['id', 'tag', 'in_use', 'due_on']).where('id', 'in', ids).execute();
  const byId = new Map(
    rows.map((row) => [row.id, { id: row.id, tag: row.tag, inUse: row.in_use === 1, dueOn: row.due_on }]),
  );
  return ids.flatMap((id) => byId.get(id) ?? []);
};

/** The last calibration of each vessel that was measured to its end, by the id of the vessel. */
export const completedCalibrations = async (db: Reading, ids: readonly string[]): Promise<Map<string, string>> => {
  const rows = await db
    .selectFrom('calibration')
    .innerJoin('calibration_standing', 'calibration_standing.calibration_id', 'calibration.id')
    .select(['calibration.id', 'calibration.vessel_id'])
    .where('calibration.vessel_id', 'in', ids)
    .where('calibration_standing.state', 'in', ['measured', 'checked', 'issued'])
    .orderBy('calibration.performed_on')
    .orderBy('calibration.recorded_at')
    .execute();
  return new Map(rows.map((row) => [row.vessel_id, row.id]));
};
