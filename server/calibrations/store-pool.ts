/** The spread of earlier calibrations, pooled, for vessels that are weighed only a few times each. */
import { sql } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { StoredVessel } from '../glassware/store.ts';
import { numberOf } from '../metrology/decimal.ts';
import { evaluate } from '../metrology/evaluate.ts';
import type { RepeatabilityChoice } from '../metrology/record.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { loadCalibrations, type StoredCalibration } from './store.ts';

export interface Pool {
  sdMl: number;
  degreesOfFreedom: number;
  /** Calibrations it comes from, newest first. */
  from: string[];
}

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

/**
 * s_p² = Σ(n_i − 1)·s_i² / Σ(n_i − 1) over the points that this calibration tests too; null where nothing is there.
 */
export const poolOf = async (db: Reading, question: PoolQuestion): Promise<Pool | null> => {
  const points = question.points.map(numberOf);
  const from: string[] = [];
  let squares = 0;
  let degreesOfFreedom = 0;
  for (const [id, earlier] of await loadCalibrations(db, await earlierIds(db, question))) {
    for (const point of (earlier.frozen ?? evaluate(earlier.record, toleranceRows)).points) {
      if (point.sdMl === null || !points.includes(numberOf(point.pointMl))) continue;
      squares += (point.n - 1) * point.sdMl ** 2;
      degreesOfFreedom += point.n - 1;
      if (from.at(-1) !== id) from.push(id);
    }
  }
  return degreesOfFreedom === 0 ? null : { sdMl: Math.sqrt(squares / degreesOfFreedom), degreesOfFreedom, from };
};

/** A calibration whose pooled spread, where it chose one from the record, is filled in. */
export type PooledCalibration = StoredCalibration & { pool: Pool | null };

/** Enough digits that nothing is lost, without an exponent. */
const asDecimalText = (value: number): string => value.toFixed(12);

export const asChoice = (pool: Pool): RepeatabilityChoice => ({
  use: 'pooled',
  sdMl: asDecimalText(pool.sdMl),
  degreesOfFreedom: pool.degreesOfFreedom,
});

const poolNow = (
  db: Reading,
  { id, recordedAt, vessel, record, instruments }: StoredCalibration,
): Promise<Pool | null> =>
  poolOf(db, {
    vessel,
    basis: record.basis,
    points: record.points,
    balanceId: instruments.balance?.id,
    before: { id, recordedAt },
  });

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
  for (const [id, calibration] of calibrations) {
    const { repeatability } = calibration.record;
    const fromRecord = repeatability.use === 'pooled' && repeatability.sdMl == null;
    const pool = !fromRecord
      ? null
      : calibration.state === 'open'
        ? await poolNow(db, calibration)
        : keptPool(calibration);
    const record = pool === null ? calibration.record : { ...calibration.record, repeatability: asChoice(pool) };
    filled.set(id, { ...calibration, record, pool });
  }
  return filled;
};

/** One calibration, ready to be evaluated with all that belongs to it. */
export const findForResult = async (db: Reading, id: string): Promise<PooledCalibration | null> =>
  (await withPools(db, await loadCalibrations(db, [id]))).get(id) ?? null;
