import { sql, type Transaction } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { Tables, VesselRevisionTable } from '../db/tables.ts';
import type { VesselFacts } from '../metrology/record.ts';
import { toleranceBody, type VesselBody } from './contract.ts';
import { refreshDue } from './store-due.ts';

/** A vessel as the record holds it: what was typed, with version and author, before any tolerance is looked up. */
export interface StoredVessel extends VesselFacts {
  id: string;
  version: number;
  tag: string;
  serial: string | null;
  maker: string | null;
  location: string | null;
  acquiredOn: string | null;
  note: string | null;
  inUse: boolean;
  /** Which lot it arrived with. */
  lotId: string | null;
  /** Months to the next calibration; null takes the laboratory's. */
  intervalMonths: number | null;
  intervalReason: string | null;
  channels: number | null;
  blowOut: boolean | null;
  reason: string | null;
  recordedAt: string;
  recordedBy: string;
}

export const vesselOf = (row: VesselRevisionTable): StoredVessel => ({
  id: row.vessel_id,
  version: row.version,
  tag: row.tag,
  kind: row.kind as VesselFacts['kind'],
  nominalVolumeMl: row.nominal_volume_ml,
  basis: row.basis as VesselFacts['basis'],
  tolerance: row.tolerance === null ? null : toleranceBody.parse(JSON.parse(row.tolerance)),
  material: row.material as VesselFacts['material'],
  expansionPerK: row.expansion_per_k,
  referenceTemperatureC: row.reference_temperature_c,
  divisionMl: row.division_ml,
  marks: row.marks === null ? null : (JSON.parse(row.marks) as string[]),
  neckDiameterMm: row.neck_diameter_mm,
  expectedSpreadMl: row.expected_spread_ml,
  waitingTimeS: row.waiting_time_s,
  serial: row.serial,
  maker: row.maker,
  location: row.location,
  acquiredOn: row.acquired_on,
  note: row.note,
  inUse: row.in_use === 1,
  lotId: row.lot_id,
  intervalMonths: row.interval_months,
  intervalReason: row.interval_reason,
  channels: row.channels,
  blowOut: row.blow_out === null ? null : row.blow_out === 1,
  reason: row.reason,
  recordedAt: row.recorded_at,
  recordedBy: row.recorded_by,
});

const presentVessels = (db: Reading) =>
  db
    .selectFrom('vessel')
    .innerJoin('vessel_revision', (join) =>
      join.onRef('vessel_revision.vessel_id', '=', 'vessel.id').onRef('vessel_revision.version', '=', 'vessel.version'),
    );

export const findVessel = async (db: Reading, id: string): Promise<StoredVessel | null> => {
  const row = await presentVessels(db).selectAll('vessel_revision').where('vessel.id', '=', id).executeTakeFirst();
  return row ? vesselOf(row) : null;
};

/** Present tags by id. */
export const presentTags = async (db: Reading, ids: readonly string[]): Promise<Map<string, string>> => {
  if (ids.length === 0) return new Map();
  const rows = await db.selectFrom('vessel').select(['id', 'tag']).where('id', 'in', ids).execute();
  return new Map(rows.map(({ id, tag }) => [id, tag]));
};

export interface ListedVessel {
  vessel: StoredVessel;
  latestCalibrationId: string | null;
  dueOn: string | null;
}

export interface VesselSearch {
  search?: string | undefined;
  kind?: string | undefined;
  inUse?: boolean | undefined;
  afterTag?: string | undefined;
  /** Those due up to this day, the most overdue first. */
  dueBy?: string | undefined;
  /** Goes on after the vessel that was due on that day. */
  afterDue?: string | undefined;
  limit: number;
}

const escapeLike = (text: string): string => text.replaceAll(/[\\%_]/g, (sign) => `\\${sign}`);

export const listedVesselOf = (
  row: VesselRevisionTable & { latest_calibration_id: string | null; due_on: string | null },
): ListedVessel => ({ vessel: vesselOf(row), latestCalibrationId: row.latest_calibration_id, dueOn: row.due_on });

/** In the order of their tags; `search` finds tags (former ones too), makers, serials and places. */
export const listVessels = async (db: Reading, search: VesselSearch): Promise<ListedVessel[]> => {
  let query = presentVessels(db).selectAll('vessel_revision').select(['vessel.latest_calibration_id', 'vessel.due_on']);
  if (search.kind !== undefined) query = query.where('vessel.kind', '=', search.kind);
  if (search.inUse !== undefined) query = query.where('vessel.in_use', '=', search.inUse ? 1 : 0);
  const { afterTag, afterDue, dueBy } = search;
  if (afterTag !== undefined)
    query = query.where((where) =>
      afterDue === undefined
        ? where('vessel.tag', '>', afterTag)
        : where.or([
            where('vessel.due_on', '>', afterDue),
            where.and([where('vessel.due_on', '=', afterDue), where('vessel.tag', '>', afterTag)]),
          ]),
    );
  if (dueBy !== undefined) query = query.where('vessel.due_on', '<=', dueBy).orderBy('vessel.due_on');
  for (const word of (search.search ?? '').toLowerCase().split(/\s+/).filter(Boolean))
    query = query.where(sql<boolean>`vessel.search_text like ${`%${escapeLike(word)}%`} escape '\\'`);
  const rows = await query.orderBy('vessel.tag').limit(search.limit).execute();
  return rows.map(listedVesselOf);
};

export const revisionsOf = async (db: Reading, id: string): Promise<StoredVessel[]> => {
  const rows = await db
    .selectFrom('vessel_revision')
    .selectAll()
    .where('vessel_id', '=', id)
    .orderBy('version')
    .execute();
  return rows.map(vesselOf);
};

export const tagsOf = async (db: Reading, ids: readonly string[]): Promise<Map<string, string[]>> => {
  const tags = new Map<string, string[]>(ids.map((id) => [id, []]));
  if (ids.length === 0) return tags;
  const rows = await db.selectFrom('vessel_tag').selectAll().where('vessel_id', 'in', ids).orderBy('tag').execute();
  for (const row of rows) tags.get(row.vessel_id)?.push(row.tag);
  return tags;
};

/** Who bears a tag or once bore it, in whatever letter case. */
export const vesselWithTag = async (db: Reading, tag: string): Promise<string | null> => {
  const row = await db.selectFrom('vessel_tag').select('vessel_id').where('tag', '=', tag).executeTakeFirst();
  if (row) return row.vessel_id;
  return /^[\x20-\x7e]*$/.test(tag) ? null : vesselWithForeignTag(db, tag);
};

/** The database knows the letter case of ASCII only; the words to search by are in small letters of every script. */
const vesselWithForeignTag = async (db: Reading, tag: string): Promise<string | null> => {
  const small = tag.toLowerCase();
  const rows = await db
    .selectFrom('vessel_tag')
    .innerJoin('vessel', 'vessel.id', 'vessel_tag.vessel_id')
    .select(['vessel_tag.vessel_id', 'vessel_tag.tag'])
    .where(sql<boolean>`vessel.search_text like ${`%${escapeLike(small)}%`} escape '\\'`)
    .execute();
  return rows.find((one) => one.tag.toLowerCase() === small)?.vessel_id ?? null;
};

const revisionRow = (vessel: StoredVessel): VesselRevisionTable => ({
  vessel_id: vessel.id,
  version: vessel.version,
  tag: vessel.tag,
  kind: vessel.kind,
  nominal_volume_ml: vessel.nominalVolumeMl,
  basis: vessel.basis,
  tolerance: vessel.tolerance ? JSON.stringify(vessel.tolerance) : null,
  material: vessel.material,
  expansion_per_k: vessel.expansionPerK ?? null,
  reference_temperature_c: vessel.referenceTemperatureC,
  division_ml: vessel.divisionMl ?? null,
  marks: vessel.marks ? JSON.stringify(vessel.marks) : null,
  neck_diameter_mm: vessel.neckDiameterMm ?? null,
  expected_spread_ml: vessel.expectedSpreadMl ?? null,
  waiting_time_s: vessel.waitingTimeS ?? null,
  serial: vessel.serial,
  maker: vessel.maker,
  location: vessel.location,
  acquired_on: vessel.acquiredOn,
  note: vessel.note,
  in_use: vessel.inUse ? 1 : 0,
  reason: vessel.reason,
  recorded_at: vessel.recordedAt,
  recorded_by: vessel.recordedBy,
  lot_id: vessel.lotId,
  interval_months: vessel.intervalMonths,
  interval_reason: vessel.intervalReason,
  channels: vessel.channels,
  blow_out: vessel.blowOut === null ? null : vessel.blowOut ? 1 : 0,
});

const searchText = (vessel: StoredVessel, tags: readonly string[]): string =>
  [vessel.tag, ...tags, vessel.serial, vessel.maker, vessel.location]
    .filter((part) => part !== null && part !== '')
    .join(' ')
    .toLowerCase();

export const insertVessel = async (trx: Transaction<Tables>, vessel: StoredVessel): Promise<void> => {
  await trx
    .insertInto('vessel')
    .values({
      id: vessel.id,
      version: vessel.version,
      tag: vessel.tag,
      kind: vessel.kind,
      in_use: vessel.inUse ? 1 : 0,
      search_text: searchText(vessel, []),
      latest_calibration_id: null,
      recorded_at: vessel.recordedAt,
      recorded_by: vessel.recordedBy,
      lot_id: vessel.lotId,
      due_on: null,
    })
    .execute();
  await trx.insertInto('vessel_revision').values(revisionRow(vessel)).execute();
  await trx.insertInto('vessel_tag').values({ tag: vessel.tag, vessel_id: vessel.id }).execute();
};

/** Appends the revision and moves the vessel to it. Earlier tags stay findable. */
export const reviseVessel = async (trx: Transaction<Tables>, vessel: StoredVessel): Promise<void> => {
  await trx.insertInto('vessel_revision').values(revisionRow(vessel)).execute();
  await trx
    .insertInto('vessel_tag')
    .values({ tag: vessel.tag, vessel_id: vessel.id })
    .onConflict((conflict) => conflict.doNothing())
    .execute();
  const tags = (await tagsOf(trx, [vessel.id])).get(vessel.id) ?? [];
  await trx
    .updateTable('vessel')
    .set({
      version: vessel.version,
      tag: vessel.tag,
      kind: vessel.kind,
      in_use: vessel.inUse ? 1 : 0,
      search_text: searchText(vessel, tags),
    })
    .where('id', '=', vessel.id)
    .execute();
  await refreshDue(trx, vessel.id);
};

export const setLatestCalibration = async (
  trx: Transaction<Tables>,
  vesselId: string,
  calibrationId: string | null,
): Promise<void> => {
  await trx.updateTable('vessel').set({ latest_calibration_id: calibrationId }).where('id', '=', vesselId).execute();
};

/** A new vessel from the wire; empty texts count as not given. */
export const newVessel = (body: VesselBody, facts: { id: string; at: string; actor: string }): StoredVessel => ({
  id: facts.id,
  version: 1,
  tag: body.tag,
  kind: body.kind,
  nominalVolumeMl: body.nominalVolumeMl,
  basis: body.basis,
  tolerance: body.tolerance ?? null,
  material: body.material,
  expansionPerK: body.expansionPerK ?? null,
  referenceTemperatureC: body.referenceTemperatureC,
  divisionMl: body.divisionMl ?? null,
  marks: body.marks ?? null,
  neckDiameterMm: body.neckDiameterMm ?? null,
  expectedSpreadMl: body.expectedSpreadMl ?? null,
  waitingTimeS: body.waitingTimeS ?? null,
  serial: body.serial || null,
  maker: body.maker || null,
  location: body.location || null,
  acquiredOn: body.acquiredOn ?? null,
  note: body.note || null,
  inUse: true,
  lotId: null,
  intervalMonths: body.intervalMonths ?? null,
  intervalReason: body.intervalReason || null,
  channels: body.channels ?? null,
  blowOut: body.blowOut ?? null,
  reason: null,
  recordedAt: facts.at,
  recordedBy: facts.actor,
});
