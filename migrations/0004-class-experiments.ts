import { type Kysely, sql } from 'kysely';

/**
 * Class experiments: what a class measures to learn from. It is no evidence of any vessel: nothing of the record points
 * here, no trigger guards it, and all of it can be erased; no row refers to another by a foreign key either, so that a
 * table can be emptied at once, page by page. There is no column for a person of the class. Codes and words stand apart,
 * so that an export can leave them out. `change` counts every act that a board shows.
 */
const TABLES = `
create table class_experiment (
  id text primary key,
  version integer not null,
  change integer not null,
  state text not null check (state in ('planned', 'open', 'closed')),
  made_up integer not null check (made_up in (0, 1)),
  template text not null,
  plan text not null,
  joining_open integer not null check (joining_open in (0, 1)),
  names_hidden integer not null check (names_hidden in (0, 1)),
  predictions_shown integer not null check (predictions_shown in (0, 1)),
  opened_at text,
  ends_at text,
  closed_at text,
  closing_hash text,
  names_removed_at text,
  recorded_at text not null,
  recorded_by text not null
) strict, without rowid;
create index class_experiment_recorded on class_experiment (recorded_at, id);

create table class_experiment_secret (
  experiment_id text primary key,
  salt text not null,
  join_code text unique,
  board_code text unique,
  assistant_code text unique
) strict, without rowid;

create table class_group (
  id text primary key,
  experiment_id text not null,
  number integer not null,
  name text,
  hidden integer not null check (hidden in (0, 1)),
  made_by text not null check (made_by in ('phone', 'staff')),
  recorded_at text not null,
  unique (experiment_id, number)
) strict, without rowid;

create table class_group_secret (
  group_id text primary key,
  word text not null
) strict, without rowid;

create table class_prediction (
  group_id text not null,
  row_key text not null,
  volume_ml text not null,
  within_ml text,
  sureness text,
  recorded_at text not null,
  primary key (group_id, row_key)
) strict, without rowid;

create table class_trial (
  group_id text not null,
  row_key text not null,
  number integer not null,
  vessel_id text,
  empty_g text not null,
  filled_g text not null,
  water_temperature_c text,
  entered text not null check (entered in ('phone', 'staff', 'paper')),
  confirmed text,
  recorded_at text not null,
  primary key (group_id, row_key, number)
) strict, without rowid;

create table class_trial_correction (
  group_id text not null,
  row_key text not null,
  trial_number integer not null,
  number integer not null,
  field text not null,
  previous_value text,
  value text not null,
  reason text,
  recorded_at text not null,
  primary key (group_id, row_key, trial_number, number)
) strict, without rowid;

create table class_trial_exclusion (
  group_id text not null,
  row_key text not null,
  trial_number integer not null,
  number integer not null,
  excluded integer not null check (excluded in (0, 1)),
  cause text,
  reason text,
  recorded_at text not null,
  primary key (group_id, row_key, trial_number, number)
) strict, without rowid;
`;

export const up = async (db: Kysely<unknown>): Promise<void> => {
  const statements = TABLES.split(';')
    .map((statement) => statement.trim())
    .filter((statement) => statement.length > 0);
  for (const statement of statements) await sql.raw(statement).execute(db);
};
