/** What the next trial of a calibration needs, read in one query: every saved trial runs it. */
import type { Transaction } from 'kysely';
import { prebuilt } from '../db/prebuilt.ts';
import type { Tables } from '../db/tables.ts';
import { vesselOf } from '../glassware/store.ts';
import { loadTrials } from './store-trials.ts';
import {
  assemble,
  loadInstruments,
  readingsOf,
  type HeadRow,
  type InstrumentChoices,
  type StoredCalibration,
} from './store.ts';

const headWithVessel = prebuilt((db, id: string) =>
  db
    .selectFrom('calibration')
    .innerJoin('calibration_standing', 'calibration_standing.calibration_id', 'calibration.id')
    .innerJoin('vessel', 'vessel.id', 'calibration.vessel_id')
    .innerJoin('vessel_revision', (join) =>
      join.onRef('vessel_revision.vessel_id', '=', 'vessel.id').onRef('vessel_revision.version', '=', 'vessel.version'),
    )
    .selectAll('vessel_revision')
    .select([
      'vessel_revision.version as vessel_version',
      'calibration.id',
      'calibration.basis as calibration_basis',
      'calibration.points',
      'calibration.performed_on',
      'calibration.repeatability',
      'calibration.conditions',
      'calibration.instruments',
      'calibration.laboratory',
      'calibration.origin',
      'calibration.recorded_at as begun_at',
      'calibration.recorded_by as begun_by',
      'calibration_standing.state',
      'calibration_standing.version as standing_version',
      'calibration_standing.trials_recorded',
      'calibration_standing.planned_trials',
      'calibration_standing.decision_rule',
      'calibration_standing.coverage_probability',
    ])
    .select((count) =>
      count
        .selectFrom('condition_reading')
        .select((all) => all.fn.countAll<number>().as('count'))
        .whereRef('condition_reading.calibration_id', '=', 'calibration.id')
        .as('condition_readings'),
    )
    .where('calibration.id', '=', id),
);

/**
 * A calibration without its trials, for recording the next one: a bench has hundreds of trials, and none of them is
 * needed to accept another, except one whose reading is taken over.
 */
export const findForNextTrial = async (
  trx: Transaction<Tables>,
  id: string,
  takenOver: number | undefined,
): Promise<StoredCalibration | null> => {
  const [row] = await headWithVessel(trx, id);
  if (!row) return null;
  const choices = JSON.parse(row.instruments) as InstrumentChoices;
  const instrumentsOf = await loadInstruments(trx, [choices]);
  const readings = row.condition_readings ? await readingsOf(trx, id) : [];
  const trials = takenOver === undefined ? [] : ((await loadTrials(trx, [id])).get(id) ?? []);
  const head: HeadRow = {
    ...row,
    vessel_id: row.vessel_id,
    basis: row.calibration_basis,
    version: row.standing_version,
    standing_planned_trials: row.planned_trials,
    standing_decision_rule: row.decision_rule,
    standing_coverage_probability: row.coverage_probability,
    versions: '',
    recorded_at: row.begun_at,
    recorded_by: row.begun_by,
  };
  const vessel = vesselOf({ ...row, version: row.vessel_version });
  return assemble(head, { vessel, acts: [], instruments: instrumentsOf(choices), readings, trials });
};
