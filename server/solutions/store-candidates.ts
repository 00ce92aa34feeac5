import { sql } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { Basis, VesselKind } from '../metrology/record.ts';

export interface CandidateSearch {
  kinds: readonly VesselKind[];
  basis: Basis | null;
  /** Nominal volumes, mL, both ends included. */
  fromMl: number;
  toMl: number;
  limit: number;
}

export interface FoundCandidate {
  id: string;
  latestCalibrationId: string | null;
  dueOn: string | null;
}

/** Vessels in service of some kinds and sizes, the smallest first; what was calibrated before what was not. */
export const findCandidates = (db: Reading, wanted: CandidateSearch): Promise<FoundCandidate[]> => {
  const nominalMl = sql<number>`cast(vessel_revision.nominal_volume_ml as real)`;
  let query = db
    .selectFrom('vessel')
    .innerJoin('vessel_revision', (join) =>
      join.onRef('vessel_revision.vessel_id', '=', 'vessel.id').onRef('vessel_revision.version', '=', 'vessel.version'),
    )
    .select(['vessel.id', 'vessel.latest_calibration_id as latestCalibrationId', 'vessel.due_on as dueOn'])
    .where('vessel.in_use', '=', 1)
    .where('vessel.kind', 'in', wanted.kinds)
    .where(nominalMl, '>=', wanted.fromMl)
    .where(nominalMl, '<=', wanted.toMl);
  if (wanted.basis !== null) query = query.where('vessel_revision.basis', '=', wanted.basis);
  return query
    .orderBy(nominalMl)
    .orderBy(sql`vessel.latest_calibration_id is null`)
    .orderBy('vessel.tag')
    .limit(wanted.limit)
    .execute();
};
