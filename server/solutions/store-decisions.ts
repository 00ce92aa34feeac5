/** How solutions ended, and what was decided when something used for them was found wrong. */
import type { Transaction } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { PreparationDecisionTable } from '../db/preparation-tables.ts';
import type { Tables } from '../db/tables.ts';
import type { DecisionBody, EndBody } from './contract-record.ts';

export interface PreparationEnd {
  ending: EndBody['ending'];
  reason: string;
  at: string;
  by: string;
}

export const endsOf = async (db: Reading, ids: readonly string[]): Promise<Map<string, PreparationEnd>> => {
  if (ids.length === 0) return new Map();
  const rows = await db.selectFrom('preparation_end').selectAll().where('preparation_id', 'in', ids).execute();
  return new Map(
    rows.map((row) => [
      row.preparation_id,
      {
        ending: row.ending as PreparationEnd['ending'],
        reason: row.reason,
        at: row.recorded_at,
        by: row.recorded_by,
      },
    ]),
  );
};

export const insertEnd = async (trx: Transaction<Tables>, id: string, end: PreparationEnd): Promise<void> => {
  const { ending, reason, at, by } = end;
  await trx
    .insertInto('preparation_end')
    .values({ preparation_id: id, ending, reason, recorded_at: at, recorded_by: by })
    .execute();
};

export interface PreparationDecision {
  number: number;
  vesselId: string | null;
  /** The calibration that was the vessel's newest then. */
  calibrationId: string | null;
  instrumentId: string | null;
  instrumentVersion: number | null;
  decision: DecisionBody['decision'];
  reason: string;
  at: string;
  by: string;
}

const decisionOf = (row: PreparationDecisionTable): PreparationDecision => ({
  number: row.number,
  vesselId: row.vessel_id,
  calibrationId: row.calibration_id,
  instrumentId: row.instrument_id,
  instrumentVersion: row.instrument_version,
  decision: row.decision as PreparationDecision['decision'],
  reason: row.reason,
  at: row.recorded_at,
  by: row.recorded_by,
});

/** Decisions by preparation, the oldest first. */
export const decisionsOf = async (db: Reading, ids: readonly string[]): Promise<Map<string, PreparationDecision[]>> => {
  const found = new Map<string, PreparationDecision[]>(ids.map((id) => [id, []]));
  if (ids.length === 0) return found;
  const rows = await db
    .selectFrom('preparation_decision')
    .selectAll()
    .where('preparation_id', 'in', ids)
    .orderBy('preparation_id')
    .orderBy('number')
    .execute();
  for (const row of rows) found.get(row.preparation_id)?.push(decisionOf(row));
  return found;
};

export const insertDecision = async (
  trx: Transaction<Tables>,
  id: string,
  decision: PreparationDecision,
): Promise<void> => {
  await trx
    .insertInto('preparation_decision')
    .values({
      preparation_id: id,
      number: decision.number,
      vessel_id: decision.vesselId,
      calibration_id: decision.calibrationId,
      instrument_id: decision.instrumentId,
      instrument_version: decision.instrumentVersion,
      decision: decision.decision,
      reason: decision.reason,
      recorded_at: decision.at,
      recorded_by: decision.by,
    })
    .execute();
};
