import type { Transaction } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { InstrumentCheckTable, InstrumentRevisionTable, Tables } from '../db/tables.ts';
import type { InstrumentBody, InstrumentCheck, InstrumentKind } from './contract.ts';

export interface StoredInstrument {
  id: string;
  version: number;
  /** As typed, tag and kind included. */
  facts: InstrumentBody;
  inUse: boolean;
  reason: string | null;
  recordedAt: string;
  recordedBy: string;
}

const instrumentOf = (row: InstrumentRevisionTable): StoredInstrument => ({
  id: row.instrument_id,
  version: row.version,
  facts: JSON.parse(row.facts) as InstrumentBody,
  inUse: row.in_use === 1,
  reason: row.reason,
  recordedAt: row.recorded_at,
  recordedBy: row.recorded_by,
});

const presentInstruments = (db: Reading) =>
  db
    .selectFrom('instrument')
    .innerJoin('instrument_revision', (join) =>
      join
        .onRef('instrument_revision.instrument_id', '=', 'instrument.id')
        .onRef('instrument_revision.version', '=', 'instrument.version'),
    )
    .selectAll('instrument_revision');

export const findInstrument = async (db: Reading, id: string): Promise<StoredInstrument | null> => {
  const row = await presentInstruments(db).where('instrument.id', '=', id).executeTakeFirst();
  return row ? instrumentOf(row) : null;
};

export const listInstruments = async (
  db: Reading,
  search: {
    kind?: InstrumentKind | undefined;
    afterTag?: string | undefined;
    overdueOn?: string;
    dueFrom?: string;
    dueTo?: string;
    inUse?: boolean;
    limit: number;
  },
): Promise<StoredInstrument[]> => {
  let query = presentInstruments(db);
  if (search.kind !== undefined) query = query.where('instrument.kind', '=', search.kind);
  if (search.afterTag !== undefined) query = query.where('instrument.tag', '>', search.afterTag);
  if (search.inUse !== undefined) query = query.where('instrument.in_use', '=', search.inUse ? 1 : 0);
  if (search.overdueOn !== undefined)
    query = query.where('instrument.due_on', '<', search.overdueOn).where('instrument.in_use', '=', 1);
  if (search.dueFrom !== undefined && search.dueTo !== undefined)
    query = query
      .where('instrument.due_on', '>=', search.dueFrom)
      .where('instrument.due_on', '<=', search.dueTo)
      .where('instrument.in_use', '=', 1);
  const rows = await query.orderBy('instrument.tag').limit(search.limit).execute();
  return rows.map(instrumentOf);
};

/** Balances that could do a calibration's weighing. */
export const balancesInUse = (db: Reading): Promise<StoredInstrument[]> =>
  listInstruments(db, { kind: 'balance', inUse: true, limit: 50 });

export const instrumentRevisions = async (db: Reading, id: string): Promise<StoredInstrument[]> => {
  const rows = await db
    .selectFrom('instrument_revision')
    .selectAll()
    .where('instrument_id', '=', id)
    .orderBy('version')
    .execute();
  return rows.map(instrumentOf);
};

/** The revisions calibrations were begun with; they never change. */
export const findInstrumentRevisions = async (
  db: Reading,
  wanted: readonly { id: string; version: number }[],
): Promise<StoredInstrument[]> => {
  if (wanted.length === 0) return [];
  const rows = await db
    .selectFrom('instrument_revision')
    .selectAll()
    .where('instrument_id', 'in', [...new Set(wanted.map(({ id }) => id))])
    .where('version', 'in', [...new Set(wanted.map(({ version }) => version))])
    .execute();
  return rows.map(instrumentOf);
};

/** Who bears a tag or once bore it, in whatever letter case. There are few instruments: all are looked through. */
export const instrumentsWithTag = async (db: Reading, tag: string): Promise<string[]> => {
  const rows = await db.selectFrom('instrument_revision').select(['instrument_id', 'tag']).distinct().execute();
  const small = tag.toLowerCase();
  return rows.filter((row) => row.tag.toLowerCase() === small).map((row) => row.instrument_id);
};

const revisionRow = (instrument: StoredInstrument): InstrumentRevisionTable => ({
  instrument_id: instrument.id,
  version: instrument.version,
  tag: instrument.facts.tag,
  facts: JSON.stringify(instrument.facts),
  in_use: instrument.inUse ? 1 : 0,
  reason: instrument.reason,
  recorded_at: instrument.recordedAt,
  recorded_by: instrument.recordedBy,
});

export const insertInstrument = async (trx: Transaction<Tables>, instrument: StoredInstrument): Promise<void> => {
  await trx
    .insertInto('instrument')
    .values({
      id: instrument.id,
      version: instrument.version,
      kind: instrument.facts.kind,
      tag: instrument.facts.tag,
      in_use: instrument.inUse ? 1 : 0,
      due_on: instrument.facts.dueOn ?? null,
      recorded_at: instrument.recordedAt,
      recorded_by: instrument.recordedBy,
    })
    .execute();
  await trx.insertInto('instrument_revision').values(revisionRow(instrument)).execute();
};

export const reviseInstrument = async (trx: Transaction<Tables>, instrument: StoredInstrument): Promise<void> => {
  await trx.insertInto('instrument_revision').values(revisionRow(instrument)).execute();
  await trx
    .updateTable('instrument')
    .set({
      version: instrument.version,
      tag: instrument.facts.tag,
      in_use: instrument.inUse ? 1 : 0,
      due_on: instrument.facts.dueOn ?? null,
    })
    .where('id', '=', instrument.id)
    .execute();
};

export type StoredCheck = Omit<InstrumentCheck, 'difference'>;

const SHOWN_CHECKS = 100;

const checkOf = (row: InstrumentCheckTable): StoredCheck => ({
  number: row.number,
  performedOn: row.performed_on,
  referenceValue: row.reference_value,
  reading: row.reading,
  unit: row.unit,
  note: row.note,
  at: row.recorded_at,
  by: row.recorded_by,
});

const checksWanted = (db: Reading, instrumentId: string) =>
  db.selectFrom('instrument_check').selectAll().where('instrument_id', '=', instrumentId);

/** Newest first, the last hundred. */
export const checksOf = async (db: Reading, instrumentId: string): Promise<StoredCheck[]> => {
  const rows = await checksWanted(db, instrumentId).orderBy('number', 'desc').limit(SHOWN_CHECKS).execute();
  return rows.map(checkOf);
};

/** Every check by the day it was made: limits come from the oldest. */
export const allChecksOf = async (db: Reading, instrumentId: string): Promise<StoredCheck[]> => {
  const rows = await checksWanted(db, instrumentId).orderBy('performed_on').orderBy('number').execute();
  return rows.map(checkOf);
};

export const insertCheck = async (
  trx: Transaction<Tables>,
  instrumentId: string,
  check: StoredCheck,
): Promise<void> => {
  await trx
    .insertInto('instrument_check')
    .values({
      instrument_id: instrumentId,
      number: check.number,
      performed_on: check.performedOn,
      reference_value: check.referenceValue,
      reading: check.reading,
      unit: check.unit,
      note: check.note,
      recorded_at: check.at,
      recorded_by: check.by,
    })
    .execute();
};
