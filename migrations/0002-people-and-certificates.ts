import { type Kysely, sql } from 'kysely';

/**
 * People, what they may do and what they sign with; certificates with the result they froze. Certificates, their files
 * and withdrawals are evidence: triggers refuse UPDATE and DELETE. Secrets stand apart from people, so that an export
 * can leave them out.
 */
const CURRENT_STATE = `
create table person (
  id text primary key,
  version integer not null,
  name text not null collate nocase unique,
  role text not null check (role in ('keeper', 'technician', 'teacher', 'auditor')),
  may_issue integer not null check (may_issue in (0, 1)),
  active integer not null check (active in (0, 1)),
  recorded_at text not null,
  recorded_by text not null
) strict, without rowid;

create table person_secret (
  person_id text primary key references person (id),
  passphrase_hash text,
  passphrase_at text,
  code_hash text,
  code_expires_at text,
  second_factor_secret text,
  second_factor_since text,
  second_factor_last_step integer,
  recovery_hashes text
) strict, without rowid;

create table program_key (
  id text primary key,
  version integer not null,
  name text not null collate nocase unique,
  scope text not null check (scope in ('compute', 'read', 'record')),
  expires_on text,
  revoked integer not null check (revoked in (0, 1)),
  recorded_at text not null,
  recorded_by text not null
) strict, without rowid;

create table program_key_secret (
  key_id text primary key references program_key (id),
  token_hash text not null unique
) strict, without rowid;

alter table laboratory add column second_person_checks integer not null default 0 check (second_person_checks in (0, 1));
alter table laboratory add column host_names text not null default '[]';
alter table laboratory add column backup_folder text;
alter table laboratory add column backup_every_hours integer;
alter table laboratory add column backups_kept integer;
`;

const EVIDENCE = `
create table certificate (
  number text primary key,
  calibration_id text not null references calibration (id),
  replaces text unique references certificate (number),
  reason text,
  frozen text not null,
  frozen_hash text not null,
  entry_number integer not null,
  entry_hash text not null,
  recorded_at text not null,
  recorded_by text not null
) strict, without rowid;
create index certificate_of_calibration on certificate (calibration_id, recorded_at);

create table certificate_file (
  certificate_number text not null references certificate (number),
  format text not null check (format in ('pdf', 'xml')),
  sha256 text not null,
  content blob not null,
  recorded_at text not null,
  recorded_by text not null,
  primary key (certificate_number, format)
) strict;

create table certificate_withdrawal (
  certificate_number text primary key references certificate (number),
  reason text not null,
  recorded_at text not null,
  recorded_by text not null
) strict, without rowid;

create index journal_entry_of_object on journal_entry (object, number);
create index calibration_standing_touched on calibration_standing (touched_at);
`;

const EVIDENCE_TABLES = ['certificate', 'certificate_file', 'certificate_withdrawal'];

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
