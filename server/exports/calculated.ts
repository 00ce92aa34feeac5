/** What follows from the record, by the same evaluation that the pages show: results of points, volumes of trials. */
import type { Kysely } from 'kysely';
import { withPools } from '../calibrations/store-pool.ts';
import { loadCalibrations } from '../calibrations/store.ts';
import type { Tables } from '../db/tables.ts';
import { evaluate } from '../metrology/evaluate.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import type { Cell } from './cells.ts';
import type { Column, ColumnKind, ExportTable } from './columns.ts';

const columns = (text: string): Column[] =>
  text
    .trim()
    .split(/\s+/)
    .map((one) => {
      const [name = '', kind = 'text'] = one.replace('?', '').split(':');
      return { name, kind: kind as ColumnKind, nullable: one.endsWith('?') };
    });

const calculated = (name: string, key: string[], text: string): ExportTable => ({
  name,
  columns: columns(text),
  primaryKey: key,
  foreignKeys: [{ fields: ['calibration_id'], table: 'calibration', to: ['id'] }],
});

export const RESULTS = calculated(
  'results',
  ['calibration_id', 'point_ml'],
  `calibration_id:code tag:text kind:code performed_on:date state:code point_ml:number n:integer mean_ml:number?
   bias_ml:number? sd_ml:number? expanded_uncertainty_ml:number? coverage_factor:number? tolerance_ml:number?
   random_limit_ml:number? decision_rule:code verdict:code?`,
);
export const VOLUMES = calculated(
  'volumes',
  ['calibration_id', 'trial_number'],
  `calibration_id:code tag:text trial_number:integer point_ml:number empty_g:number filled_g:number
   water_temperature_c:number mass_g:number? volume_ml:number? simple_volume_ml:number? counted:boolean`,
);
export const CALCULATED: readonly ExportTable[] = [RESULTS, VOLUMES];

const cell = (value: number | string | null | undefined): Cell =>
  value === undefined || value === null || (typeof value === 'number' && !Number.isFinite(value)) ? null : value;

export interface CalculatedRows {
  results: Cell[][];
  volumes: Cell[][];
}

/** Rows of some calibrations, in the order of their ids. */
export const calculate = async (db: Kysely<Tables>, ids: readonly string[]): Promise<CalculatedRows> => {
  const rows: CalculatedRows = { results: [], volumes: [] };
  const loaded = await withPools(db, await loadCalibrations(db, ids));
  for (const id of ids) {
    const stored = loaded.get(id);
    if (!stored) continue;
    const { vessel, record, state } = stored;
    const result = evaluate(record, toleranceRows);
    for (const point of result.points)
      rows.results.push(
        [id, vessel.tag, vessel.kind, record.performedOn, state, point.pointMl, point.n, point.meanMl, point.biasMl]
          .concat([point.sdMl, point.expandedUncertaintyMl, point.coverageFactor, point.toleranceMl] as never[])
          .concat([point.randomError?.limitMl ?? null, record.decisionRule, point.verdict] as never[])
          .map(cell),
      );
    for (const trial of result.trials) {
      const counted = trial.exclusion == null ? 1 : 0;
      const typed = [trial.pointMl, trial.used.emptyG, trial.used.filledG, trial.used.waterTemperatureC];
      const reckoned = [trial.massG, trial.volumeMl, trial.simpleVolumeMl];
      rows.volumes.push([id, vessel.tag, trial.number, ...typed, ...reckoned, counted].map(cell));
    }
  }
  return rows;
};
