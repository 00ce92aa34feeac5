/** The spread of vessels that arrived together, pooled for each of them over the others. */
import { sql } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import { numberOf } from '../metrology/decimal.ts';
import { evaluate } from '../metrology/evaluate.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { loadCalibrations, type StoredCalibration } from './store.ts';

export interface Pool {
  sdMl: number;
  degreesOfFreedom: number;
  /** Calibrations it comes from, newest first. */
  from: string[];
}

/** What one calibration adds to a pooled spread. */
export interface Spread {
  calibrationId: string;
  vesselId: string;
  points: { pointMl: string; n: number; sdMl: number }[];
}

export interface LotQuestion {
  lotId: string;
  vesselId: string;
  basis: string;
  points: readonly string[];
  balanceId: string | undefined;
}

export const spreadOf = (calibration: StoredCalibration): Spread => ({
  calibrationId: calibration.id,
  vesselId: calibration.vessel.id,
  points: (calibration.frozen ?? evaluate(calibration.record, toleranceRows)).points.flatMap(({ pointMl, n, sdMl }) =>
    sdMl === null ? [] : [{ pointMl, n, sdMl }],
  ),
});

/** s_p² = Σ(n_i − 1)·s_i² / Σ(n_i − 1) over points asked for; null where nothing has two trials. */
export const pooled = (spreads: readonly Spread[], asked: readonly string[]): Pool | null => {
  const points = new Set(asked.map(numberOf));
  const from: string[] = [];
  let squares = 0;
  let degreesOfFreedom = 0;
  for (const { calibrationId, points: found } of spreads)
    for (const { pointMl, n, sdMl } of found) {
      if (!points.has(numberOf(pointMl))) continue;
      squares += (n - 1) * sdMl ** 2;
      degreesOfFreedom += n - 1;
      if (from.at(-1) !== calibrationId) from.push(calibrationId);
    }
  return degreesOfFreedom === 0 ? null : { sdMl: Math.sqrt(squares / degreesOfFreedom), degreesOfFreedom, from };
};

/** Calibrations of a lot that can be pooled: the same basis and balance, not abandoned, newest first. */
const idsOfLot = async (db: Reading, { lotId, basis, balanceId }: LotQuestion): Promise<string[]> => {
  const rows = await db
    .selectFrom('vessel')
    .innerJoin('calibration', 'calibration.vessel_id', 'vessel.id')
    .innerJoin('calibration_standing', 'calibration_standing.calibration_id', 'calibration.id')
    .select('calibration.id')
    .where('vessel.lot_id', '=', lotId)
    .where('calibration.basis', '=', basis)
    .where(sql<boolean>`json_extract(calibration.instruments, '$.balance.id') is ${balanceId ?? null}`)
    .where('calibration_standing.state', '!=', 'abandoned')
    .orderBy('calibration.performed_on', 'desc')
    .orderBy('calibration.recorded_at', 'desc')
    .orderBy('calibration.id')
    .execute();
  return rows.map(({ id }) => id);
};

/** Pools of several vessels of a lot read its calibrations once. */
export const lotPools = (db: Reading): ((question: LotQuestion) => Promise<Pool | null>) => {
  const known = new Map<string, Spread[]>();
  return async (question) => {
    const { lotId, basis, balanceId, vesselId, points } = question;
    const key = JSON.stringify([lotId, basis, balanceId ?? null]);
    let spreads = known.get(key);
    if (!spreads) {
      const ids = await idsOfLot(db, question);
      const loaded = await loadCalibrations(db, ids);
      spreads = ids.flatMap((id) => loaded.get(id) ?? []).map(spreadOf);
      known.set(key, spreads);
    }
    return pooled(
      spreads.filter((spread) => spread.vesselId !== vesselId),
      points,
    );
  };
};
