import { type Kysely, sql } from 'kysely';

/**
 * Solutions made: what was typed and what came out, the vessels and instruments used, how each ended, and what was
 * decided when a vessel or an instrument was found wrong later. All of it is evidence: triggers refuse UPDATE and DELETE.
 */
const EVIDENCE = `
create table preparation (
  id text primary key,
  number text not null unique,
  way text not null check (way in ('solid', 'dilution', 'standardisation')),
  title text not null,
  made_on text not null,
  expires_on text,
  accuracy_percent text,
  hazard_line text,
  water text,
  lots text,
  note text,
  search_text text not null,
  inputs text not null,
  result text not null,
  result_hash text not null,
  recorded_at text not null,
  recorded_by text not null
) strict, without rowid;
create index preparation_made on preparation (made_on, number);

create table preparation_vessel (
  preparation_id text not null references preparation (id),
  number integer not null,
  vessel_id text not null references vessel (id),
  calibration_id text references calibration (id),
  use text not null check (use in ('made-up', 'delivered', 'titrated', 'in-stock')),
  recorded_at text not null,
  recorded_by text not null,
  primary key (preparation_id, number)
) strict, without rowid;
create index preparation_of_vessel on preparation_vessel (vessel_id, preparation_id);

create table preparation_instrument (
  preparation_id text not null references preparation (id),
  number integer not null,
  instrument_id text not null references instrument (id),
  instrument_version integer not null,
  use text not null check (use in ('balance', 'in-stock')),
  recorded_at text not null,
  recorded_by text not null,
  primary key (preparation_id, number)
) strict, without rowid;
create index preparation_of_instrument on preparation_instrument (instrument_id, preparation_id);

create table preparation_end (
  preparation_id text primary key references preparation (id),
  ending text not null check (ending in ('used-up', 'discarded')),
  reason text not null,
  recorded_at text not null,
  recorded_by text not null
) strict, without rowid;

create table preparation_decision (
  preparation_id text not null references preparation (id),
  number integer not null,
  vessel_id text references vessel (id),
  calibration_id text references calibration (id),
  instrument_id text references instrument (id),
  instrument_version integer,
  decision text not null check (decision in ('stands', 'repeat', 'standardise-again', 'discard')),
  reason text not null,
  recorded_at text not null,
  recorded_by text not null,
  primary key (preparation_id, number),
  check ((vessel_id is null) <> (instrument_id is null))
) strict, without rowid;
`;

/** Trials are counted on every look at Today: over the index alone, a fifth of the time. */
const COUNTING = `
drop index calibration_standing_of_state;
create index calibration_standing_of_state on calibration_standing (state, trials_recorded);
`;

const EVIDENCE_TABLES = [
  'preparation',
  'preparation_vessel',
  'preparation_instrument',
  'preparation_end',
  'preparation_decision',
];

const guards = (table: string): string[] =>
  ['update', 'delete'].map(
    (act) =>
      `create trigger ${table}_no_${act} before ${act} on ${table}
       begin select raise(abort, 'evidence: ${table} rows are never changed or removed'); end`,
  );

export const up = async (db: Kysely<unknown>): Promise<void> => {
  const statements = `${EVIDENCE}${COUNTING}`
    .split(';')
    .map((statement) => statement.trim())
    .filter((statement) => statement.length > 0);
  for (const statement of [...statements, ...EVIDENCE_TABLES.flatMap(guards)]) await sql.raw(statement).execute(db);
};
