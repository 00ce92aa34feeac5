/** The spread of earlier calibrations, pooled, for vessels that are weighed only a few times each. */
import { sql } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { StoredVessel } from '../glassware/store.ts';
import { numberOf } from '../metrology/decimal.ts';
import type { RepeatabilityChoice } from '../metrology/record.ts';
import { lotPools, pooled, spreadOf, type Pool } from './store-lot-pool.ts';
import { loadCalibrations, type StoredCalibration } from './store.ts';

/** More would only make old work count as much as new. */
const NEWEST = 50;

/** What earlier calibrations must share with one to be pooled for it. */
export interface PoolQuestion {
  vessel: Pick<StoredVessel, 'kind' | 'nominalVolumeMl'>;
  basis: string;
  points: readonly string[];
  balanceId: string | undefined;
  /** Those recorded before it, itself left out; absent for a calibration that has not begun. */
  before?: { id: string; recordedAt: string };
}

/** Earlier finished calibrations of the same kind, nominal volume, basis and balance. */
const earlierIds = async (db: Reading, question: PoolQuestion): Promise<string[]> => {
  const { vessel, basis, balanceId, before } = question;
  if (balanceId === undefined) return [];
  let query = db
    .selectFrom('calibration')
    .innerJoin('calibration_standing', 'calibration_standing.calibration_id', 'calibration.id')
    .innerJoin('vessel', 'vessel.id', 'calibration.vessel_id')
    .innerJoin('vessel_revision', (join) =>
      join.onRef('vessel_revision.vessel_id', '=', 'vessel.id').onRef('vessel_revision.version', '=', 'vessel.version'),
    )
    .select('calibration.id')
    .where('vessel.kind', '=', vessel.kind)
    .where(sql<boolean>`cast(vessel_revision.nominal_volume_ml as real) = ${numberOf(vessel.nominalVolumeMl)}`)
    .where('calibration.basis', '=', basis)
    .where(sql<boolean>`json_extract(calibration.instruments, '$.balance.id') = ${balanceId}`)
    .where('calibration_standing.state', 'in', ['measured', 'checked', 'issued'])
    .orderBy('calibration.performed_on', 'desc')
    .orderBy('calibration.recorded_at', 'desc')
    .limit(NEWEST);
  if (before)
    query = query.where('calibration.id', '!=', before.id).where('calibration.recorded_at', '<=', before.recordedAt);
  const rows = await query.execute();
  return rows.map((row) => row.id);
};

/** Over the points that this calibration tests too; null where nothing is there. */
export const poolOf = async (db: Reading, question: PoolQuestion): Promise<Pool | null> => {
  const earlier = await loadCalibrations(db, await earlierIds(db, question));
  return pooled([...earlier.values()].map(spreadOf), question.points);
};

/** A calibration whose pooled spread, where it chose one from the record, is filled in. */
export type PooledCalibration = StoredCalibration & { pool: Pool | null };

/** Enough digits that nothing is lost, without an exponent. */
const asDecimalText = (value: number): string => value.toFixed(12);

/** What was chosen, with the spread that it came to. */
export const asChoice = (pool: Pool, chosen: RepeatabilityChoice): RepeatabilityChoice => ({
  use: 'pooled',
  ...(chosen.use === 'pooled' && chosen.over === 'lot' ? { over: 'lot' } : {}),
  sdMl: asDecimalText(pool.sdMl),
  degreesOfFreedom: pool.degreesOfFreedom,
});

type PoolNow = (calibration: StoredCalibration) => Promise<Pool | null>;

/** Over the other vessels of the lot where that was chosen, else over earlier calibrations. */
const poolsNow = (db: Reading): PoolNow => {
  const ofLot = lotPools(db);
  return ({ id, recordedAt, vessel, record, instruments }) => {
    const shared = { basis: record.basis, points: record.points, balanceId: instruments.balance?.id };
    const overLot = record.repeatability.use === 'pooled' && record.repeatability.over === 'lot';
    return overLot && vessel.lotId !== null
      ? ofLot({ ...shared, lotId: vessel.lotId, vesselId: vessel.id })
      : poolOf(db, { ...shared, vessel, before: { id, recordedAt } });
  };
};

const keptPool = (calibration: StoredCalibration): Pool | null => {
  const left = calibration.acts.findLast((act) => act.act === 'calibration-measured');
  return (left?.facts as { pool?: Pool } | null | undefined)?.pool ?? null;
};

/**
 * Puts the pooled spread into calibrations that chose one from the record: as it stands while they are open, as it was
 * taken once they left open. The others pass through untouched.
 */
export const withPools = async (
  db: Reading,
  calibrations: ReadonlyMap<string, StoredCalibration>,
): Promise<Map<string, PooledCalibration>> => {
  const filled = new Map<string, PooledCalibration>();
  const poolNow = poolsNow(db);
  for (const [id, calibration] of calibrations) {
    const { repeatability } = calibration.record;
    const fromRecord = repeatability.use === 'pooled' && repeatability.sdMl == null;
    const pool = !fromRecord ? null : calibration.state === 'open' ? await poolNow(calibration) : keptPool(calibration);
    const record =
      pool === null ? calibration.record : { ...calibration.record, repeatability: asChoice(pool, repeatability) };
    filled.set(id, { ...calibration, record, pool });
  }
  return filled;
};

/** One calibration, ready to be evaluated with all that belongs to it. */
export const findForResult = async (db: Reading, id: string): Promise<PooledCalibration | null> =>
  (await withPools(db, await loadCalibrations(db, [id]))).get(id) ?? null;
