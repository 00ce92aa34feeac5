import { sql, type Transaction } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { PreparationTable } from '../db/preparation-tables.ts';

import type { Tables } from '../db/tables.ts';
import type { Recipe } from '../metrology/solutions/recipe.ts';
import type { SolutionBody, SolutionResult } from './contract.ts';

/** What a result was computed with, and what came out; kept as it was. */
export interface FrozenSolution {
  result: SolutionResult;
  recipe: Recipe;
  versions: { model: string; atomicWeights: string; waterDensity: string; airDensity: string; tolerances: string };
}

export interface StoredPreparation extends FrozenSolution {
  id: string;
  number: string;
  title: string;
  madeOn: string;
  expiresOn: string | null;
  accuracyPercent: string | null;
  hazardLine: string | null;
  water: string | null;
  lots: string | null;
  note: string | null;
  inputs: SolutionBody;
  recordedAt: string;
  recordedBy: string;
}

export interface PreparationVessel {
  vesselId: string;
  calibrationId: string | null;
  use: SolutionResult['vessels'][number]['use'];
}

export interface PreparationInstrument {
  instrumentId: string;
  version: number;
  use: 'balance' | 'in-stock';
}

const preparationOf = (row: PreparationTable): StoredPreparation => ({
  ...(JSON.parse(row.result) as FrozenSolution),
  id: row.id,
  number: row.number,
  title: row.title,
  madeOn: row.made_on,
  expiresOn: row.expires_on,
  accuracyPercent: row.accuracy_percent,
  hazardLine: row.hazard_line,
  water: row.water,
  lots: row.lots,
  note: row.note,
  inputs: JSON.parse(row.inputs) as SolutionBody,
  recordedAt: row.recorded_at,
  recordedBy: row.recorded_by,
});

export const findPreparation = async (db: Reading, id: string): Promise<StoredPreparation | null> => {
  const row = await db.selectFrom('preparation').selectAll().where('id', '=', id).executeTakeFirst();
  return row ? preparationOf(row) : null;
};

/** Vessels of a preparation in the order they were used. */
export const vesselsOfPreparation = async (db: Reading, id: string): Promise<PreparationVessel[]> => {
  const rows = await db
    .selectFrom('preparation_vessel')
    .selectAll()
    .where('preparation_id', '=', id)
    .orderBy('number')
    .execute();
  return rows.map((row) => ({
    vesselId: row.vessel_id,
    calibrationId: row.calibration_id,
    use: row.use as PreparationVessel['use'],
  }));
};

export const instrumentsOfPreparation = async (db: Reading, id: string): Promise<PreparationInstrument[]> => {
  const rows = await db
    .selectFrom('preparation_instrument')
    .selectAll()
    .where('preparation_id', '=', id)
    .orderBy('number')
    .execute();
  return rows.map((row) => ({
    instrumentId: row.instrument_id,
    version: row.instrument_version,
    use: row.use as PreparationInstrument['use'],
  }));
};

export interface NewPreparation {
  row: PreparationTable;
  vessels: readonly PreparationVessel[];
  instruments: readonly PreparationInstrument[];
}

export const insertPreparation = async (trx: Transaction<Tables>, made: NewPreparation): Promise<void> => {
  const { row, vessels, instruments } = made;
  const { id: preparation_id, recorded_at, recorded_by } = row;
  const by = { recorded_at, recorded_by };
  await trx.insertInto('preparation').values(row).execute();
  for (const [index, { vesselId, calibrationId, use }] of vessels.entries())
    await trx
      .insertInto('preparation_vessel')
      .values({ preparation_id, number: index + 1, vessel_id: vesselId, calibration_id: calibrationId, use, ...by })
      .execute();
  for (const [index, { instrumentId, version, use }] of instruments.entries())
    await trx
      .insertInto('preparation_instrument')
      .values({
        ...{ preparation_id, number: index + 1, instrument_id: instrumentId },
        ...{ instrument_version: version, use, ...by },
      })
      .execute();
};

/** `S-0007` after six others; numbers go on when four digits are not enough. */
export const nextNumber = async (db: Reading): Promise<string> => {
  const { made } = await db
    .selectFrom('preparation')
    .select((count) => count.fn.countAll<number>().as('made'))
    .executeTakeFirstOrThrow();
  return `S-${String(made + 1).padStart(4, '0')}`;
};

export interface PreparationSearch {
  search?: string | undefined;
  /** Only what is neither used up nor discarded. */
  onShelf: boolean;
  /** The last one of the page before. */
  after?: { recordedAt: string; id: string } | undefined;
  limit: number;
}

const escapeLike = (text: string): string => text.replaceAll(/[\\%_]/g, (sign) => `\\${sign}`);

/** The newest first. */
export const listPreparations = async (db: Reading, search: PreparationSearch): Promise<StoredPreparation[]> => {
  let query = db
    .selectFrom('preparation')
    .leftJoin('preparation_end', 'preparation_end.preparation_id', 'preparation.id')
    .selectAll('preparation');
  if (search.onShelf) query = query.where('preparation_end.preparation_id', 'is', null);
  for (const word of (search.search ?? '').toLowerCase().split(/\s+/).filter(Boolean))
    query = query.where(sql<boolean>`preparation.search_text like ${`%${escapeLike(word)}%`} escape '\\'`);
  const { after } = search;
  if (after)
    query = query.where((where) =>
      where.or([
        where('preparation.recorded_at', '<', after.recordedAt),
        where.and([where('preparation.recorded_at', '=', after.recordedAt), where('preparation.id', '>', after.id)]),
      ]),
    );
  const rows = await query
    .orderBy('preparation.recorded_at', 'desc')
    .orderBy('preparation.id')
    .limit(search.limit)
    .execute();
  return rows.map(preparationOf);
};

/** Solutions made with a vessel from a day on, save those computed with one calibration of it; the oldest first. */
export const preparationsWithVessel = async (
  db: Reading,
  vesselId: string,
  { since, notWith }: { since: string | null; notWith: string },
): Promise<StoredPreparation[]> => {
  const used = db
    .selectFrom('preparation_vessel')
    .select('preparation_id')
    .where('vessel_id', '=', vesselId)
    .where((where) => where.or([where('calibration_id', 'is', null), where('calibration_id', '!=', notWith)]));
  let query = db.selectFrom('preparation').selectAll().where('id', 'in', used);
  if (since !== null) query = query.where('made_on', '>=', since);
  return (await query.orderBy('made_on').orderBy('number').execute()).map(preparationOf);
};

/** Solutions an instrument was used for from a day on; the oldest first. */
export const preparationsWithInstrument = async (
  db: Reading,
  instrumentId: string,
  since: string | null,
): Promise<StoredPreparation[]> => {
  const used = db
    .selectFrom('preparation_instrument')
    .select('preparation_id')
    .where('instrument_id', '=', instrumentId);
  let query = db.selectFrom('preparation').selectAll().where('id', 'in', used);
  if (since !== null) query = query.where('made_on', '>=', since);
  return (await query.orderBy('made_on').orderBy('number').execute()).map(preparationOf);
};
