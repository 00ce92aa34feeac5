import type { Reading } from '../db/logbook.ts';
import type { PreparationTable } from '../db/preparation-tables.ts';

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

export interface PreparationEnd {
  ending: 'used-up' | 'discarded';
  reason: string;
  at: string;
  by: string;
}

export const endOfPreparation = async (db: Reading, id: string): Promise<PreparationEnd | null> => {
  const row = await db.selectFrom('preparation_end').selectAll().where('preparation_id', '=', id).executeTakeFirst();
  if (!row) return null;
  return {
    ending: row.ending as PreparationEnd['ending'],
    reason: row.reason,
    at: row.recorded_at,
    by: row.recorded_by,
  };
};
