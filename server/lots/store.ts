import { sql, type Transaction } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { Tables } from '../db/tables.ts';
import type { LotRevisionTable } from '../db/term-tables.ts';
import type { LotListItem, VESSEL_STANDINGS } from './contract.ts';

type Ware = LotListItem['ware'];

/** A lot as the record holds it. */
export interface StoredLot {
  id: string;
  version: number;
  name: string;
  receivedOn: string;
  supplier: string | null;
  maker: string | null;
  /** What was delivered. */
  facts: Ware;
  note: string | null;
  reason: string | null;
  recordedAt: string;
  recordedBy: string;
}

const lotOf = (row: LotRevisionTable): StoredLot => ({
  id: row.lot_id,
  version: row.version,
  name: row.name,
  receivedOn: row.received_on,
  supplier: row.supplier,
  maker: row.maker,
  facts: JSON.parse(row.facts) as Ware,
  note: row.note,
  reason: row.reason,
  recordedAt: row.recorded_at,
  recordedBy: row.recorded_by,
});

const presentLots = (db: Reading) =>
  db
    .selectFrom('lot')
    .innerJoin('lot_revision', (join) =>
      join.onRef('lot_revision.lot_id', '=', 'lot.id').onRef('lot_revision.version', '=', 'lot.version'),
    )
    .selectAll('lot_revision');

export const findLot = async (db: Reading, id: string): Promise<StoredLot | null> => {
  const row = await presentLots(db).where('lot.id', '=', id).executeTakeFirst();
  return row ? lotOf(row) : null;
};

export interface LotSearch {
  /** The last lot of the page before: day of arrival and id. */
  after?: { receivedOn: string; id: string } | undefined;
  limit: number;
}

/** The latest arrivals first. */
export const listLots = async (db: Reading, { after, limit }: LotSearch): Promise<StoredLot[]> => {
  let query = presentLots(db);
  if (after)
    query = query.where((where) =>
      where.or([
        where('lot.received_on', '<', after.receivedOn),
        where.and([where('lot.received_on', '=', after.receivedOn), where('lot.id', '<', after.id)]),
      ]),
    );
  const rows = await query.orderBy('lot.received_on', 'desc').orderBy('lot.id', 'desc').limit(limit).execute();
  return rows.map(lotOf);
};

export const lotWithName = async (db: Reading, name: string): Promise<string | null> =>
  (await db.selectFrom('lot').select('id').where('name', '=', name).executeTakeFirst())?.id ?? null;

const insertRevision = async (trx: Transaction<Tables>, lot: StoredLot): Promise<void> => {
  await trx
    .insertInto('lot_revision')
    .values({
      lot_id: lot.id,
      version: lot.version,
      name: lot.name,
      received_on: lot.receivedOn,
      supplier: lot.supplier,
      maker: lot.maker,
      facts: JSON.stringify(lot.facts),
      note: lot.note,
      reason: lot.reason,
      recorded_at: lot.recordedAt,
      recorded_by: lot.recordedBy,
    })
    .execute();
};

export const insertLot = async (trx: Transaction<Tables>, lot: StoredLot): Promise<void> => {
  const { id, version, name, receivedOn, recordedAt, recordedBy } = lot;
  await trx
    .insertInto('lot')
    .values({ id, version, name, received_on: receivedOn, recorded_at: recordedAt, recorded_by: recordedBy })
    .execute();
  await insertRevision(trx, lot);
};

export const reviseLot = async (trx: Transaction<Tables>, lot: StoredLot): Promise<void> => {
  await insertRevision(trx, lot);
  await trx
    .updateTable('lot')
    .set({ version: lot.version, name: lot.name, received_on: lot.receivedOn })
    .where('id', '=', lot.id)
    .execute();
};

export type VesselStanding = (typeof VESSEL_STANDINGS)[number];

export interface LotVesselRow {
  id: string;
  lotId: string;
  tag: string;
  serial: string | null;
  dueOn: string | null;
  latestCalibrationId: string | null;
  standing: VesselStanding;
}

/** How a vessel stands, from how its latest calibration stands; trials are counted there and not looked at. */
const standing = sql<VesselStanding>`case
  when vessel.in_use = 0 then case (
    select outcome from vessel_inspection where vessel_id = vessel.id order by number desc limit 1
  ) when 'damaged' then 'damaged' else 'out-of-use' end
  when calibration_standing.state is null then 'not-begun'
  when calibration_standing.state = 'open' and calibration_standing.trials_recorded = 0 then 'not-begun'
  when calibration_standing.state = 'open' then 'open'
  else 'measured' end`;

/** Vessels of some lots in the order of their tags. */
export const vesselsOfLots = async (db: Reading, lotIds: readonly string[]): Promise<LotVesselRow[]> => {
  if (lotIds.length === 0) return [];
  const rows = await db
    .selectFrom('vessel')
    .innerJoin('vessel_revision', (join) =>
      join.onRef('vessel_revision.vessel_id', '=', 'vessel.id').onRef('vessel_revision.version', '=', 'vessel.version'),
    )
    .leftJoin('calibration_standing', 'calibration_standing.calibration_id', 'vessel.latest_calibration_id')
    .select(['vessel.id', 'vessel.lot_id', 'vessel.tag', 'vessel_revision.serial', 'vessel.due_on'])
    .select(['vessel.latest_calibration_id', standing.as('standing')])
    .where('vessel.lot_id', 'in', lotIds)
    .orderBy('vessel.lot_id')
    .orderBy('vessel.tag')
    .execute();
  return rows.map((row) => ({
    id: row.id,
    lotId: row.lot_id ?? '',
    tag: row.tag,
    serial: row.serial,
    dueOn: row.due_on,
    latestCalibrationId: row.latest_calibration_id,
    standing: row.standing,
  }));
};
