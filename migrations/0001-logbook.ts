import { type Kysely, sql } from 'kysely';

/**
 * The first schema. Evidence tables are append-only: triggers refuse UPDATE and DELETE (and REPLACE, through
 * recursive_triggers). Readings are TEXT so that `100.0000` stays `100.0000`; tables are STRICT.
 */
const EVIDENCE = `
create table journal_entry (
  number integer primary key,
  at text not null,
  actor text not null,
  act text not null,
  object text not null,
  before text not null,
  after text not null,
  request_id text not null,
  previous_hash text not null,
  hash text not null
) strict;

create table logbook_mark (
  mark text primary key,
  recorded_at text not null,
  recorded_by text not null
) strict, without rowid;

create table tolerance_confirmation (
  standard text not null,
  edition text not null,
  kind text not null,
  class text not null,
  nominal_volume_ml text not null,
  division_ml text not null,
  limit_text text not null,
  where_seen text not null,
  recorded_at text not null,
  recorded_by text not null,
  primary key (standard, edition, kind, class, nominal_volume_ml, division_ml, recorded_at)
) strict, without rowid;

create table vessel_revision (
  vessel_id text not null references vessel (id),
  version integer not null,
  tag text not null,
  kind text not null,
  nominal_volume_ml text not null,
  basis text not null,
  tolerance text,
  material text not null,
  expansion_per_k text,
  reference_temperature_c text not null,
  division_ml text,
  marks text,
  neck_diameter_mm text,
  expected_spread_ml text,
  waiting_time_s text,
  serial text,
  maker text,
  location text,
  acquired_on text,
  note text,
  in_use integer not null check (in_use in (0, 1)),
  reason text,
  recorded_at text not null,
  recorded_by text not null,
  primary key (vessel_id, version)
) strict, without rowid;

create table instrument_revision (
  instrument_id text not null references instrument (id),
  version integer not null,
  tag text not null,
  facts text not null,
  in_use integer not null check (in_use in (0, 1)),
  reason text,
  recorded_at text not null,
  recorded_by text not null,
  primary key (instrument_id, version)
) strict, without rowid;

create table instrument_check (
  instrument_id text not null references instrument (id),
  number integer not null,
  performed_on text not null,
  reference_value text not null,
  reading text not null,
  unit text not null,
  note text,
  recorded_at text not null,
  recorded_by text not null,
  primary key (instrument_id, number)
) strict, without rowid;

create table calibration (
  id text primary key,
  vessel_id text not null references vessel (id),
  basis text not null,
  points text not null,
  planned_trials integer not null,
  performed_on text not null,
  decision_rule text not null,
  coverage_probability text not null,
  repeatability text not null,
  conditions text not null,
  instruments text not null,
  laboratory text not null,
  note text,
  versions text not null,
  recorded_at text not null,
  recorded_by text not null
) strict, without rowid;
create index calibration_of_vessel on calibration (vessel_id, performed_on, recorded_at);

create table calibration_act (
  calibration_id text not null references calibration (id),
  number integer not null,
  act text not null,
  state text not null,
  vessel_version integer,
  facts text,
  reason text,
  recorded_at text not null,
  recorded_by text not null,
  primary key (calibration_id, number)
) strict, without rowid;

create table condition_reading (
  calibration_id text not null references calibration (id),
  number integer not null,
  after_trial integer not null,
  conditions text not null,
  recorded_at text not null,
  recorded_by text not null,
  primary key (calibration_id, number)
) strict, without rowid;

create table trial (
  calibration_id text not null references calibration (id),
  number integer not null,
  point_ml text not null,
  empty_g text not null,
  filled_g text not null,
  water_temperature_c text not null,
  water_temperature_half_width_c text,
  empty_source text not null,
  empty_of integer,
  empty_state text,
  air_temperature_c text,
  air_pressure_hpa text,
  relative_humidity_percent text,
  delivery_time_s text,
  waiting_time_s text,
  open_time_s text,
  note text,
  confirmed text,
  formulas text not null,
  request_key text not null,
  recorded_at text not null,
  recorded_by text not null,
  primary key (calibration_id, number)
) strict, without rowid;

create table trial_correction (
  calibration_id text not null,
  trial_number integer not null,
  number integer not null,
  field text not null,
  previous_value text,
  value text not null,
  reason text not null,
  note text,
  recorded_at text not null,
  recorded_by text not null,
  primary key (calibration_id, trial_number, number),
  foreign key (calibration_id, trial_number) references trial (calibration_id, number)
) strict, without rowid;

create table trial_exclusion (
  calibration_id text not null,
  trial_number integer not null,
  number integer not null,
  excluded integer not null check (excluded in (0, 1)),
  cause text,
  reason text not null,
  recorded_at text not null,
  recorded_by text not null,
  primary key (calibration_id, trial_number, number),
  foreign key (calibration_id, trial_number) references trial (calibration_id, number)
) strict, without rowid;
`;

/** Rows that say how things stand now; each is derived from evidence and carries the version of its record. */
const CURRENT_STATE = `
create table vessel (
  id text primary key,
  version integer not null,
  tag text not null collate nocase unique,
  kind text not null,
  in_use integer not null check (in_use in (0, 1)),
  search_text text not null,
  latest_calibration_id text,
  recorded_at text not null,
  recorded_by text not null
) strict, without rowid;
create index vessel_of_kind on vessel (kind, tag);

create table vessel_tag (
  tag text not null collate nocase primary key,
  vessel_id text not null references vessel (id)
) strict, without rowid;
create index vessel_tag_of_vessel on vessel_tag (vessel_id);

create table instrument (
  id text primary key,
  version integer not null,
  kind text not null,
  tag text not null collate nocase unique,
  in_use integer not null check (in_use in (0, 1)),
  due_on text,
  recorded_at text not null,
  recorded_by text not null
) strict, without rowid;
create index instrument_of_kind on instrument (kind, tag);

create table calibration_standing (
  calibration_id text primary key references calibration (id),
  vessel_id text not null,
  version integer not null,
  state text not null,
  planned_trials integer not null,
  decision_rule text not null,
  coverage_probability text not null,
  trials_recorded integer not null,
  touched_at text not null
) strict, without rowid;
create index calibration_standing_of_state on calibration_standing (state);

create table laboratory (
  id integer primary key check (id = 1),
  version integer not null,
  name text,
  address text,
  altitude_m text,
  decision_rule text not null,
  coverage_probability text not null,
  planned_trials integer not null,
  repeatability text not null,
  overdue_blocks integer not null check (overdue_blocks in (0, 1))
) strict;
insert into laboratory (id, version, decision_rule, coverage_probability, planned_trials, repeatability, overdue_blocks)
values (1, 1, 'guarded', '0.9545', 10, 'own', 0);

create table idempotency_key (
  request_key text primary key,
  fingerprint text not null,
  status integer not null,
  body text not null,
  recorded_at text not null
) strict, without rowid;
`;

const EVIDENCE_TABLES = [
  'journal_entry',
  'logbook_mark',
  'tolerance_confirmation',
  'vessel_revision',
  'instrument_revision',
  'instrument_check',
  'calibration',
  'calibration_act',
  'condition_reading',
  'trial',
  'trial_correction',
  'trial_exclusion',
];

const guards = (table: string): string[] =>
  ['update', 'delete'].map(
    (act) =>
      `create trigger ${table}_no_${act} before ${act} on ${table}
       begin select raise(abort, 'evidence: ${table} rows are never changed or removed'); end`,
  );

export const up = async (db: Kysely<unknown>): Promise<void> => {
  const statements = `${CURRENT_STATE}\n${EVIDENCE}`
    .split(';')
    .map((statement) => statement.trim())
    .filter((statement) => statement.length > 0);
  for (const statement of [...statements, ...EVIDENCE_TABLES.flatMap(guards)]) await sql.raw(statement).execute(db);
};
