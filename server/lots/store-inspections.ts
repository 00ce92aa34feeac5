/** How vessels looked before they were weighed. */
import { sql, type Transaction } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { Tables } from '../db/tables.ts';
import type { InspectionBody, InspectionOnWire } from './contract.ts';

export interface NewInspection {
  vesselId: string;
  calibrationId: string | null;
  findings: InspectionBody['findings'];
  outcome: InspectionBody['outcome'];
  note: string | null;
  at: string;
  by: string;
}

/** @returns its number */
export const insertInspection = async (trx: Transaction<Tables>, inspection: NewInspection): Promise<number> => {
  const { number } = await trx
    .insertInto('vessel_inspection')
    .values((values) => ({
      vessel_id: inspection.vesselId,
      number: values
        .selectFrom('vessel_inspection')
        .select((count) => sql<number>`${count.fn.countAll()} + 1`.as('number'))
        .where('vessel_id', '=', inspection.vesselId),
      calibration_id: inspection.calibrationId,
      findings: JSON.stringify(inspection.findings),
      outcome: inspection.outcome,
      note: inspection.note,
      recorded_at: inspection.at,
      recorded_by: inspection.by,
    }))
    .returning('number')
    .executeTakeFirstOrThrow();
  return number;
};

/** Calibrations whose vessel was looked over for them and found fit. */
export const inspectedAmong = async (db: Reading, calibrationIds: readonly string[]): Promise<Set<string>> => {
  const rows = await db
    .selectFrom('vessel_inspection')
    .select('calibration_id')
    .where('calibration_id', 'in', calibrationIds)
    .where('outcome', '=', 'fit')
    .execute();
  return new Set(rows.flatMap(({ calibration_id: id }) => id ?? []));
};

/** The inspection that belongs to each of some calibrations, the latest where there are several. */
export const inspectionsFor = async (
  db: Reading,
  members: readonly { vesselId: string; calibrationId: string }[],
): Promise<Map<string, InspectionOnWire>> => {
  if (members.length === 0) return new Map();
  const rows = await db
    .selectFrom('vessel_inspection')
    .selectAll()
    .where(
      'vessel_id',
      'in',
      members.map(({ vesselId }) => vesselId),
    )
    .where(
      'calibration_id',
      'in',
      members.map(({ calibrationId }) => calibrationId),
    )
    .orderBy('number')
    .execute();
  return new Map(
    rows.map((row) => [
      row.calibration_id ?? '',
      {
        ...(JSON.parse(row.findings) as InspectionBody['findings']),
        number: row.number,
        outcome: row.outcome as InspectionBody['outcome'],
        note: row.note,
        at: row.recorded_at,
        by: row.recorded_by,
      },
    ]),
  );
};
