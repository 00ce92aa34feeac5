/**
 * How things stand now, against the evidence it is derived from. Lists, searches and the next act read these rows, so a
 * state, a tag or a count changed in them would change what the pages say although every row of evidence is untouched.
 * Search texts and the days on which vessels are due are left out: they decide what is found, not what is said of it.
 */
import type { Handle } from '../db/connection.ts';
import type { JournalValue } from './canonical.ts';
import { fieldsOf, type Fields } from './verify-entry.ts';

interface Standing {
  table: string;
  /** Selects the id of each row that is not what its evidence says; the first is named. */
  wrong: string;
}

const LAST_OF = (revisions: string, id: string, of: string): string =>
  `left join ${revisions} r on r.${id} = ${of}.id
   and r.version = (select max(version) from ${revisions} where ${id} = ${of}.id)`;

const REGISTERED = (table: string, revisions: string, id: string): Standing => ({
  table,
  wrong: `select n.id from ${table} n left join ${revisions} f on f.${id} = n.id and f.version = 1
    where n.recorded_at is not f.recorded_at or n.recorded_by is not f.recorded_by`,
});

const WITHOUT = (table: string, revisions: string, id: string): Standing => ({
  table,
  wrong: `select ${id} from ${revisions} where not exists (select 1 from ${table} where id = ${id})`,
});

const IN_FORCE = (column: string, field: string): string =>
  `s.${column} is not coalesce((select json_extract(a.facts, '$.after.${field}') from calibration_act a
   where a.calibration_id = c.id and a.act = 'plan-changed' order by a.number desc limit 1), c.${column})`;

const COUNTING = `calibration k join calibration_standing ks on ks.calibration_id = k.id and ks.state != 'abandoned'`;

const STANDINGS: readonly Standing[] = [
  {
    table: 'vessel',
    wrong: `select v.id from vessel v ${LAST_OF('vessel_revision', 'vessel_id', 'v')}
      where v.version is not r.version or v.tag is not r.tag or v.kind is not r.kind or v.in_use is not r.in_use
      or v.lot_id is not r.lot_id`,
  },
  REGISTERED('vessel', 'vessel_revision', 'vessel_id'),
  WITHOUT('vessel', 'vessel_revision', 'vessel_id'),
  {
    table: 'vessel',
    wrong: `select v.id from vessel v left join calibration l on l.id = v.latest_calibration_id and l.vessel_id = v.id
      where exists (select 1 from ${COUNTING} where k.vessel_id = v.id
        and (l.id is null or (k.performed_on, k.recorded_at) > (l.performed_on, l.recorded_at)))
      or (v.latest_calibration_id is not null and not exists (select 1 from ${COUNTING} where k.id = l.id))`,
  },
  {
    table: 'vessel_tag',
    wrong: `select tag from vessel_tag t
      where not exists (select 1 from vessel_revision r where r.vessel_id = t.vessel_id and r.tag = t.tag)`,
  },
  {
    table: 'vessel_tag',
    wrong: `select r.vessel_id from vessel_revision r
      where not exists (select 1 from vessel_tag t where t.tag = r.tag and t.vessel_id = r.vessel_id)`,
  },
  {
    table: 'instrument',
    wrong: `select i.id from instrument i ${LAST_OF('instrument_revision', 'instrument_id', 'i')}
      where i.version is not r.version or i.tag is not r.tag or i.in_use is not r.in_use
      or i.kind is not json_extract(r.facts, '$.kind') or i.due_on is not json_extract(r.facts, '$.dueOn')`,
  },
  REGISTERED('instrument', 'instrument_revision', 'instrument_id'),
  WITHOUT('instrument', 'instrument_revision', 'instrument_id'),
  {
    table: 'lot',
    wrong: `select l.id from lot l ${LAST_OF('lot_revision', 'lot_id', 'l')}
      where l.version is not r.version or l.name is not r.name or l.received_on is not r.received_on`,
  },
  REGISTERED('lot', 'lot_revision', 'lot_id'),
  WITHOUT('lot', 'lot_revision', 'lot_id'),
  {
    table: 'calibration_standing',
    wrong: `select c.id from calibration c left join calibration_standing s on s.calibration_id = c.id
      where s.vessel_id is not c.vessel_id
      or s.state is not coalesce((select state from calibration_act a where a.calibration_id = c.id
        order by number desc limit 1), 'open')
      or s.trials_recorded is not (select count(*) from trial t where t.calibration_id = c.id)
      or ${IN_FORCE('planned_trials', 'plannedTrials')} or ${IN_FORCE('decision_rule', 'decisionRule')}
      or ${IN_FORCE('coverage_probability', 'coverageProbability')}`,
  },
  {
    table: 'calibration_standing',
    wrong: `select calibration_id from calibration_standing s
      where not exists (select 1 from calibration c where c.id = s.calibration_id)`,
  },
];

/** @returns a sentence where a row is not what the evidence makes of it */
export const standingFault = (handle: Handle): string | null => {
  for (const { table, wrong } of STANDINGS) {
    const id = handle.prepare<[], string>(`${wrong} limit 1`).pluck().get();
    if (id !== undefined) return `The table ${table} does not say of ${id} what the evidence says.`;
  }
  return null;
};

type LaboratoryRow = Record<string, JournalValue | undefined>;

/** As a new logbook begins. */
export const LABORATORY_AT_FIRST: LaboratoryRow = {
  ...{ version: 1, name: null, address: null, country_code: null, altitude_m: null, interval_months: null },
  ...{ decision_rule: 'guarded', coverage_probability: '0.9545', planned_trials: 10, repeatability: 'own' },
  ...{ overdue_blocks: 0, second_person_checks: 0, host_names: '[]' },
  ...{ backup_folder: null, backup_every_hours: null, backups_kept: null },
};

/** Rows hold yes and no as 1 and 0. */
const flag = (told: JournalValue | undefined): JournalValue | undefined =>
  typeof told === 'boolean' ? Number(told) : undefined;

const laboratoryColumns = (facts: Fields): LaboratoryRow => {
  const defaults = fieldsOf(facts['defaults'] ?? null);
  const { hostNames, backups } = facts;
  const copies = fieldsOf(backups ?? null);
  const ofCopies = (field: string) => (backups === undefined ? undefined : (copies[field] ?? null));
  return {
    version: facts['version'],
    name: facts['name'],
    address: facts['address'],
    country_code: facts['countryCode'],
    altitude_m: facts['altitudeM'],
    interval_months: facts['intervalMonths'],
    second_person_checks: flag(facts['secondPersonChecks']),
    decision_rule: defaults['decisionRule'],
    coverage_probability: defaults['coverageProbability'],
    planned_trials: defaults['plannedTrials'],
    repeatability: defaults['repeatability'],
    overdue_blocks: flag(defaults['overdueBlocks']),
    host_names: hostNames && JSON.stringify(hostNames),
    backup_folder: ofCopies('folder'),
    backup_every_hours: ofCopies('everyHours'),
    backups_kept: ofCopies('kept'),
  };
};

/** What the row must hold once an entry has told of the laboratory; those of earlier versions know fewer settings. */
export const laboratoryAfter = (before: LaboratoryRow, told: JournalValue): LaboratoryRow => {
  const columns = Object.entries(laboratoryColumns(fieldsOf(told))).filter(([, value]) => value !== undefined);
  return { ...before, ...Object.fromEntries(columns) };
};

/** @returns a sentence where the row of the laboratory is not what the journal makes of it */
export const laboratoryFault = (handle: Handle, told: LaboratoryRow): string | null => {
  const row = handle.prepare<[], Record<string, string | number | null>>('select * from laboratory').get();
  const column = Object.keys(told).find((name) => row?.[name] !== told[name]);
  return column === undefined ? null : `The table laboratory holds another ${column} than the journal tells of.`;
};
