import { sql, type Transaction } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { Tables } from '../db/tables.ts';
import type { Decision, VesselDecision } from './contract-decisions.ts';

export interface Downgrade {
  from: string;
  to: string;
}

export interface NewDecision {
  vesselId: string;
  calibrationId: string;
  decision: Decision;
  facts: Downgrade | null;
  reason: string;
  at: string;
  by: string;
}

/** @returns its number */
export const insertDecision = async (trx: Transaction<Tables>, made: NewDecision): Promise<number> => {
  const { number } = await trx
    .insertInto('vessel_decision')
    .values((values) => ({
      vessel_id: made.vesselId,
      number: values
        .selectFrom('vessel_decision')
        .select((count) => sql<number>`${count.fn.countAll()} + 1`.as('number'))
        .where('vessel_id', '=', made.vesselId),
      calibration_id: made.calibrationId,
      decision: made.decision,
      facts: made.facts === null ? null : JSON.stringify(made.facts),
      reason: made.reason,
      recorded_at: made.at,
      recorded_by: made.by,
    }))
    .returning('number')
    .executeTakeFirstOrThrow();
  return number;
};

/** Decisions about each of some vessels, in their order. */
export const decisionsOf = async (
  db: Reading,
  vesselIds: readonly string[],
): Promise<Map<string, VesselDecision[]>> => {
  const decisions = new Map<string, VesselDecision[]>(vesselIds.map((id) => [id, []]));
  if (vesselIds.length === 0) return decisions;
  const rows = await db
    .selectFrom('vessel_decision')
    .selectAll()
    .where('vessel_id', 'in', vesselIds)
    .orderBy('vessel_id')
    .orderBy('number')
    .execute();
  for (const row of rows) {
    const facts = row.facts === null ? null : (JSON.parse(row.facts) as Downgrade);
    decisions.get(row.vessel_id)?.push({
      number: row.number,
      calibrationId: row.calibration_id,
      decision: row.decision as Decision,
      fromClass: facts?.from ?? null,
      toClass: facts?.to ?? null,
      reason: row.reason,
      at: row.recorded_at,
      by: row.recorded_by,
    });
  }
  return decisions;
};
