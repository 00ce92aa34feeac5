import { type Kysely, sql } from 'kysely';

/**
 * A term at the bench: lots of vessels that arrived together, rounds weighed in one go, inspections, decisions about
 * vessels and lots, intervals and due dates, feeds of due dates, mappings for old sheets. What was observed and decided
 * is evidence: triggers refuse UPDATE and DELETE.
 */
const CURRENT_STATE = `
create table lot (
  id text primary key,
  version integer not null,
  name text not null collate nocase unique,
  received_on text not null,
  recorded_at text not null,
  recorded_by text not null
) strict, without rowid;
create index lot_received on lot (received_on, id);

create table calendar_feed (
  id text primary key,
  token_hash text not null unique,
  label text not null,
  person_id text references person (id),
  recorded_at text not null,
  recorded_by text not null,
  ended_at text
) strict, without rowid;

create table import_mapping (
  name text not null collate nocase primary key,
  mapping text not null,
  recorded_at text not null,
  recorded_by text not null
) strict, without rowid;

alter table vessel add column lot_id text references lot (id);
alter table vessel add column due_on text;
create index vessel_of_lot on vessel (lot_id, tag);
create index vessel_due on vessel (due_on);
alter table laboratory add column interval_months integer;
`;

const EVIDENCE = `
create table lot_revision (
  lot_id text not null references lot (id),
  version integer not null,
  name text not null,
  received_on text not null,
  supplier text,
  maker text,
  facts text not null,
  note text,
  reason text,
  recorded_at text not null,
  recorded_by text not null,
  primary key (lot_id, version)
) strict, without rowid;

create table lot_decision (
  lot_id text not null references lot (id),
  number integer not null,
  decision text not null check (decision in ('accept', 'reject', 'screen')),
  plan text,
  counts text not null,
  reason text not null,
  recorded_at text not null,
  recorded_by text not null,
  primary key (lot_id, number)
) strict, without rowid;

create table lot_round (
  lot_id text not null references lot (id),
  number integer not null,
  way_of_working text not null check (way_of_working in ('empties-first', 'vessel-by-vessel', 'reuse-dry')),
  plan text not null,
  calibrations text not null,
  recorded_at text not null,
  recorded_by text not null,
  primary key (lot_id, number)
) strict, without rowid;

create table zero_check (
  lot_id text not null,
  round_number integer not null,
  number integer not null,
  balance_id text references instrument (id),
  after_vessels integer not null,
  reading_g text not null,
  note text,
  recorded_at text not null,
  recorded_by text not null,
  primary key (lot_id, round_number, number),
  foreign key (lot_id, round_number) references lot_round (lot_id, number)
) strict, without rowid;

create table vessel_inspection (
  vessel_id text not null references vessel (id),
  number integer not null,
  calibration_id text references calibration (id),
  findings text not null,
  outcome text not null check (outcome in ('fit', 'damaged')),
  note text,
  recorded_at text not null,
  recorded_by text not null,
  primary key (vessel_id, number)
) strict, without rowid;

create index vessel_inspection_of_calibration on vessel_inspection (calibration_id);

create table vessel_decision (
  vessel_id text not null references vessel (id),
  number integer not null,
  calibration_id text not null references calibration (id),
  decision text not null check (decision in ('downgrade', 'retire', 'send-back', 'keep')),
  facts text,
  reason text not null,
  recorded_at text not null,
  recorded_by text not null,
  primary key (vessel_id, number)
) strict, without rowid;

alter table vessel_revision add column lot_id text references lot (id);
alter table vessel_revision add column interval_months integer;
alter table vessel_revision add column interval_reason text;
alter table vessel_revision add column channels integer;
alter table vessel_revision add column blow_out integer check (blow_out in (0, 1));

alter table calibration add column origin text check (origin in ('sheet', 'paper'));

alter table trial add column water_temperature_source text check (water_temperature_source in ('carried'));
alter table trial add column tip text;
alter table trial add column channel integer;
alter table trial add column drain_position text;
`;

const EVIDENCE_TABLES = [
  'lot_revision',
  'lot_decision',
  'lot_round',
  'zero_check',
  'vessel_inspection',
  'vessel_decision',
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
