/** Rounds of a lot, with the looks at the balance between its vessels. */
import { sql, type Transaction } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { Tables } from '../db/tables.ts';
import type { LotRoundTable } from '../db/term-tables.ts';
import type { RoundBody } from './contract-round.ts';
import type { WayOfWorking } from './contract.ts';

export interface RoundMember {
  vesselId: string;
  calibrationId: string;
}

/** What was planned for all vessels of the round. */
export type RoundPlan = Omit<RoundBody, 'wayOfWorking' | 'vesselIds' | 'points' | 'confirm'> & { points: string[] };

export interface StoredRound {
  lotId: string;
  number: number;
  wayOfWorking: WayOfWorking;
  plan: RoundPlan;
  members: RoundMember[];
  recordedAt: string;
  recordedBy: string;
}

const roundOf = (row: LotRoundTable): StoredRound => ({
  lotId: row.lot_id,
  number: row.number,
  wayOfWorking: row.way_of_working as WayOfWorking,
  plan: JSON.parse(row.plan) as RoundPlan,
  members: JSON.parse(row.calibrations) as RoundMember[],
  recordedAt: row.recorded_at,
  recordedBy: row.recorded_by,
});

export const roundsOf = async (db: Reading, lotId: string): Promise<StoredRound[]> => {
  const rows = await db.selectFrom('lot_round').selectAll().where('lot_id', '=', lotId).orderBy('number').execute();
  return rows.map(roundOf);
};

export const findRound = async (db: Reading, lotId: string, number: number): Promise<StoredRound | null> => {
  const row = await db
    .selectFrom('lot_round')
    .selectAll()
    .where('lot_id', '=', lotId)
    .where('number', '=', number)
    .executeTakeFirst();
  return row ? roundOf(row) : null;
};

export const insertRound = async (trx: Transaction<Tables>, round: StoredRound): Promise<void> => {
  await trx
    .insertInto('lot_round')
    .values({
      lot_id: round.lotId,
      number: round.number,
      way_of_working: round.wayOfWorking,
      plan: JSON.stringify(round.plan),
      calibrations: JSON.stringify(round.members),
      recorded_at: round.recordedAt,
      recorded_by: round.recordedBy,
    })
    .execute();
};

/** How many of a round's calibrations are still open. */
export const openAmong = async (db: Reading, ids: readonly string[]): Promise<Set<string>> => {
  if (ids.length === 0) return new Set();
  const rows = await db
    .selectFrom('calibration_standing')
    .select('calibration_id')
    .where('calibration_id', 'in', ids)
    .where('state', '=', 'open')
    .execute();
  return new Set(rows.map((row) => row.calibration_id));
};

const openCalibrations = (db: Reading) =>
  db
    .selectFrom('calibration')
    .innerJoin('calibration_standing', 'calibration_standing.calibration_id', 'calibration.id')
    .select(['calibration.id', 'calibration.vessel_id'])
    .where('calibration_standing.state', '=', 'open');

/** Which of some vessels have an open calibration. */
export const vesselsWithOpen = async (db: Reading, vesselIds: readonly string[]): Promise<Set<string>> => {
  if (vesselIds.length === 0) return new Set();
  const rows = await openCalibrations(db).where('calibration.vessel_id', 'in', vesselIds).execute();
  return new Set(rows.map((row) => row.vessel_id));
};

export const openCalibrationsOf = async (db: Reading, vesselId: string): Promise<string[]> => {
  const rows = await openCalibrations(db).where('calibration.vessel_id', '=', vesselId).execute();
  return rows.map(({ id }) => id);
};

export interface StoredZeroCheck {
  number: number;
  balanceId: string | null;
  afterVessels: number;
  readingG: string;
  note: string | null;
  at: string;
  by: string;
}

export const zeroChecksOf = async (db: Reading, lotId: string, round: number): Promise<StoredZeroCheck[]> => {
  const rows = await db
    .selectFrom('zero_check')
    .selectAll()
    .where('lot_id', '=', lotId)
    .where('round_number', '=', round)
    .orderBy('number')
    .execute();
  return rows.map((row) => ({
    number: row.number,
    balanceId: row.balance_id,
    afterVessels: row.after_vessels,
    readingG: row.reading_g,
    note: row.note,
    at: row.recorded_at,
    by: row.recorded_by,
  }));
};

/** @returns its number */
export const insertZeroCheck = async (
  trx: Transaction<Tables>,
  { lotId, round, check }: { lotId: string; round: number; check: Omit<StoredZeroCheck, 'number'> },
): Promise<number> => {
  const { number } = await trx
    .insertInto('zero_check')
    .values((values) => ({
      lot_id: lotId,
      round_number: round,
      number: values
        .selectFrom('zero_check')
        .select((count) => sql<number>`${count.fn.countAll()} + 1`.as('number'))
        .where('lot_id', '=', lotId)
        .where('round_number', '=', round),
      balance_id: check.balanceId,
      after_vessels: check.afterVessels,
      reading_g: check.readingG,
      note: check.note,
      recorded_at: check.at,
      recorded_by: check.by,
    }))
    .returning('number')
    .executeTakeFirstOrThrow();
  return number;
};
