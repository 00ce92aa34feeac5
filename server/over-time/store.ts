import { sql } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import { vesselOf, type StoredVessel } from '../glassware/store.ts';

/** States of a calibration that has left `open`: its readings stand. */
const FINISHED = ['measured', 'checked', 'issued'] as const;

/** Finished calibrations of a vessel, oldest first. */
export const finishedIdsOf = async (db: Reading, vesselId: string): Promise<string[]> => {
  const rows = await db
    .selectFrom('calibration')
    .innerJoin('calibration_standing', 'calibration_standing.calibration_id', 'calibration.id')
    .select('calibration.id')
    .where('calibration.vessel_id', '=', vesselId)
    .where('calibration_standing.state', 'in', FINISHED)
    .orderBy('calibration.performed_on')
    .orderBy('calibration.recorded_at')
    .execute();
  return rows.map((row) => row.id);
};

export interface ListedCalibration {
  id: string;
  performedOn: string;
}

/** An id stands in the text of the instruments like nothing else in it: it is long and random. */
const usedInstrument = (instrumentId: string) =>
  sql<boolean>`instr(calibration.instruments, ${`"id":"${instrumentId}"`}) > 0`;

/** Calibrations an instrument was named in, newest first; abandoned ones left out. */
export const calibrationsWith = async (
  db: Reading,
  instrumentId: string,
  search: { from?: string | undefined; to?: string | undefined; after?: ListedCalibration | undefined; limit: number },
): Promise<{ items: ListedCalibration[]; total: number }> => {
  let query = db
    .selectFrom('calibration')
    .innerJoin('calibration_standing', 'calibration_standing.calibration_id', 'calibration.id')
    .where(usedInstrument(instrumentId))
    .where('calibration_standing.state', '!=', 'abandoned');
  if (search.from !== undefined) query = query.where('calibration.performed_on', '>=', search.from);
  if (search.to !== undefined) query = query.where('calibration.performed_on', '<=', search.to);
  const counted = await query.select((count) => count.fn.countAll<number>().as('total')).executeTakeFirstOrThrow();
  const { after } = search;
  if (after !== undefined)
    query = query.where((where) =>
      where.or([
        where('calibration.performed_on', '<', after.performedOn),
        where.and([where('calibration.performed_on', '=', after.performedOn), where('calibration.id', '>', after.id)]),
      ]),
    );
  const rows = await query
    .select(['calibration.id', 'calibration.performed_on'])
    .orderBy('calibration.performed_on', 'desc')
    .orderBy('calibration.id')
    .limit(search.limit)
    .execute();
  return { items: rows.map((row) => ({ id: row.id, performedOn: row.performed_on })), total: counted.total };
};

/** Numbers of the valid certificates of calibrations. */
export const validCertificatesOf = async (db: Reading, ids: readonly string[]): Promise<Map<string, string[]>> => {
  const numbers = new Map<string, string[]>(ids.map((id) => [id, []]));
  if (ids.length === 0) return numbers;
  const rows = await db
    .selectFrom('certificate')
    .leftJoin('certificate as successor', 'successor.replaces', 'certificate.number')
    .leftJoin('certificate_withdrawal', 'certificate_withdrawal.certificate_number', 'certificate.number')
    .select(['certificate.calibration_id', 'certificate.number'])
    .where('certificate.calibration_id', 'in', ids)
    .where('successor.number', 'is', null)
    .where('certificate_withdrawal.certificate_number', 'is', null)
    .orderBy('certificate.number')
    .execute();
  for (const row of rows) numbers.get(row.calibration_id)?.push(row.number);
  return numbers;
};

export interface Ware {
  kind?: string | undefined;
  nominalVolumeMl?: number | undefined;
  /** Undefined: of every maker. Empty: of no known maker. */
  maker?: string | undefined;
  lotId?: string | undefined;
}

export interface CalibratedVessel {
  vessel: StoredVessel;
  /** Its newest finished calibration; null where there is none. */
  calibrationId: string | null;
}

/** Vessels of one kind and size or of a lot, newest first, each with its newest finished calibration. */
export const vesselsLike = async (
  db: Reading,
  ware: Ware,
  limit: number,
): Promise<{ items: CalibratedVessel[]; total: number }> => {
  let query = db
    .selectFrom('vessel')
    .innerJoin('vessel_revision', (join) =>
      join.onRef('vessel_revision.vessel_id', '=', 'vessel.id').onRef('vessel_revision.version', '=', 'vessel.version'),
    );
  if (ware.lotId !== undefined) query = query.where('vessel.lot_id', '=', ware.lotId);
  if (ware.kind !== undefined) query = query.where('vessel.kind', '=', ware.kind);
  if (ware.nominalVolumeMl !== undefined)
    query = query.where(sql<boolean>`cast(vessel_revision.nominal_volume_ml as real) = ${ware.nominalVolumeMl}`);
  if (ware.maker !== undefined)
    query =
      ware.maker === ''
        ? query.where('vessel_revision.maker', 'is', null)
        : query.where('vessel_revision.maker', '=', ware.maker);
  const counted = await query.select((count) => count.fn.countAll<number>().as('total')).executeTakeFirstOrThrow();
  const rows = await query
    .selectAll('vessel_revision')
    .select((select) =>
      select
        .selectFrom('calibration')
        .innerJoin('calibration_standing', 'calibration_standing.calibration_id', 'calibration.id')
        .select('calibration.id')
        .whereRef('calibration.vessel_id', '=', 'vessel.id')
        .where('calibration_standing.state', 'in', FINISHED)
        .orderBy('calibration.performed_on', 'desc')
        .orderBy('calibration.recorded_at', 'desc')
        .limit(1)
        .as('calibration_id'),
    )
    .orderBy('vessel.recorded_at', 'desc')
    .limit(limit)
    .execute();
  return {
    items: rows.map((row) => ({ vessel: vesselOf(row), calibrationId: row.calibration_id })),
    total: counted.total,
  };
};

export interface MakersWare {
  maker: string | null;
  kind: string;
  nominalVolumeMl: string;
  vessels: number;
}

const MOST_WARES = 500;

/** Makers with kind and size of which two vessels at least are registered, the most frequent first. */
export const makersWares = async (db: Reading): Promise<MakersWare[]> => {
  const rows = await db
    .selectFrom('vessel')
    .innerJoin('vessel_revision', (join) =>
      join.onRef('vessel_revision.vessel_id', '=', 'vessel.id').onRef('vessel_revision.version', '=', 'vessel.version'),
    )
    .select(['vessel_revision.maker', 'vessel.kind'])
    .select((select) => [
      select.fn.min('vessel_revision.nominal_volume_ml').as('nominal'),
      select.fn.countAll<number>().as('vessels'),
    ])
    .groupBy(['vessel_revision.maker', 'vessel.kind', sql`cast(vessel_revision.nominal_volume_ml as real)`])
    .having((having) => having.fn.countAll<number>(), '>=', 2)
    .orderBy('vessels', 'desc')
    .limit(MOST_WARES)
    .execute();
  return rows.map(({ maker, kind, nominal, vessels }) => ({ maker, kind, nominalVolumeMl: nominal, vessels }));
};
