import { sql, type Transaction } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { Tables } from '../db/tables.ts';
import type { LotCounts, LotDecision, LotDecisionOnWire, SamplePlan } from './contract-decision.ts';

export interface NewLotDecision {
  lotId: string;
  decision: LotDecision;
  plan: SamplePlan | null;
  counts: LotCounts;
  reason: string;
  at: string;
  by: string;
}

/** @returns its number */
export const insertLotDecision = async (trx: Transaction<Tables>, made: NewLotDecision): Promise<number> => {
  const { number } = await trx
    .insertInto('lot_decision')
    .values((values) => ({
      lot_id: made.lotId,
      number: values
        .selectFrom('lot_decision')
        .select((count) => sql<number>`${count.fn.countAll()} + 1`.as('number'))
        .where('lot_id', '=', made.lotId),
      decision: made.decision,
      plan: made.plan === null ? null : JSON.stringify(made.plan),
      counts: JSON.stringify(made.counts),
      reason: made.reason,
      recorded_at: made.at,
      recorded_by: made.by,
    }))
    .returning('number')
    .executeTakeFirstOrThrow();
  return number;
};

/** Decisions about each of some lots, the latest first. */
export const lotDecisionsOf = async (
  db: Reading,
  lotIds: readonly string[],
): Promise<Map<string, LotDecisionOnWire[]>> => {
  const decisions = new Map<string, LotDecisionOnWire[]>(lotIds.map((id) => [id, []]));
  if (lotIds.length === 0) return decisions;
  const rows = await db
    .selectFrom('lot_decision')
    .selectAll()
    .where('lot_id', 'in', lotIds)
    .orderBy('lot_id')
    .orderBy('number', 'desc')
    .execute();
  for (const row of rows)
    decisions.get(row.lot_id)?.push({
      number: row.number,
      decision: row.decision as LotDecision,
      plan: row.plan === null ? null : (JSON.parse(row.plan) as SamplePlan),
      counts: JSON.parse(row.counts) as LotCounts,
      reason: row.reason,
      at: row.recorded_at,
      by: row.recorded_by,
    });
  return decisions;
};
