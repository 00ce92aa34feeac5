import { sql, type Transaction } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import { prebuilt } from '../db/prebuilt.ts';
import type { Tables } from '../db/tables.ts';
import type { Defaults, Laboratory } from './contract.ts';

export interface StoredLaboratory {
  version: number;
  name: string | null;
  address: string | null;
  countryCode: string | null;
  altitudeM: string | null;
  secondPersonChecks: boolean;
  defaults: Defaults;
  hostNames: string[];
  /** Months from one calibration of a vessel to the next, where the vessel says nothing else; null: none is due. */
  intervalMonths: number | null;
  backups: Laboratory['backups'];
}

const laboratoryRow = prebuilt((db) => db.selectFrom('laboratory').selectAll().where('id', '=', sql.lit(1)));

export const readLaboratory = async (db: Reading): Promise<StoredLaboratory> => {
  const [row] = await laboratoryRow(db);
  if (!row) throw new Error('The logbook has no row for the laboratory.');
  return {
    version: row.version,
    name: row.name,
    address: row.address,
    countryCode: row.country_code,
    altitudeM: row.altitude_m,
    secondPersonChecks: row.second_person_checks === 1,
    defaults: {
      decisionRule: row.decision_rule as Defaults['decisionRule'],
      coverageProbability: row.coverage_probability as Defaults['coverageProbability'],
      plannedTrials: row.planned_trials,
      repeatability: row.repeatability as Defaults['repeatability'],
      overdueBlocks: row.overdue_blocks === 1,
    },
    hostNames: JSON.parse(row.host_names) as string[],
    intervalMonths: row.interval_months,
    backups:
      row.backup_every_hours === null || row.backups_kept === null
        ? null
        : { folder: row.backup_folder, everyHours: row.backup_every_hours, kept: row.backups_kept },
  };
};

export const saveLaboratory = async (trx: Transaction<Tables>, laboratory: StoredLaboratory): Promise<void> => {
  await trx
    .updateTable('laboratory')
    .set({
      version: laboratory.version,
      name: laboratory.name,
      address: laboratory.address,
      country_code: laboratory.countryCode,
      altitude_m: laboratory.altitudeM,
      second_person_checks: laboratory.secondPersonChecks ? 1 : 0,
      decision_rule: laboratory.defaults.decisionRule,
      coverage_probability: laboratory.defaults.coverageProbability,
      planned_trials: laboratory.defaults.plannedTrials,
      repeatability: laboratory.defaults.repeatability,
      overdue_blocks: laboratory.defaults.overdueBlocks ? 1 : 0,
      host_names: JSON.stringify(laboratory.hostNames),
      interval_months: laboratory.intervalMonths,
      backup_folder: laboratory.backups?.folder ?? null,
      backup_every_hours: laboratory.backups?.everyHours ?? null,
      backups_kept: laboratory.backups?.kept ?? null,
    })
    .where('id', '=', 1)
    .execute();
};

const DEMONSTRATION = 'demonstration';

/** True for ever once demonstration data were loaded into this logbook. */
export const isDemonstration = async (db: Reading): Promise<boolean> =>
  (await db.selectFrom('logbook_mark').select('mark').where('mark', '=', DEMONSTRATION).executeTakeFirst()) !==
  undefined;

export const markDemonstration = async (trx: Transaction<Tables>, at: string, actor: string): Promise<void> => {
  await trx.insertInto('logbook_mark').values({ mark: DEMONSTRATION, recorded_at: at, recorded_by: actor }).execute();
};
