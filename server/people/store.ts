import type { Transaction } from 'kysely';
import type { Reading } from '../db/logbook.ts';
import type { PersonSecretTable, Tables } from '../db/tables.ts';
import type { PersonOnWire, ProgramKeyOnWire, Role, Scope } from './contract.ts';
import { fold } from './fold.ts';

export const listPeople = async (db: Reading): Promise<PersonOnWire[]> => {
  const rows = await db
    .selectFrom('person')
    .leftJoin('person_secret', 'person_secret.person_id', 'person.id')
    .select(['id', 'version', 'name', 'role', 'may_issue', 'active', 'recorded_at', 'recorded_by'])
    .select(['passphrase_hash', 'code_hash', 'code_expires_at', 'second_factor_since'])
    .orderBy('name')
    .execute();
  return rows.map((row) => ({
    id: row.id,
    version: row.version,
    name: row.name,
    role: row.role as Role,
    mayIssue: row.may_issue === 1,
    active: row.active === 1,
    canSignIn: row.passphrase_hash !== null,
    codeExpiresAt: row.code_hash === null ? null : row.code_expires_at,
    secondFactor: row.second_factor_since !== null,
    recordedAt: row.recorded_at,
    recordedBy: row.recorded_by,
  }));
};

export const isKeeperWhoCanSignIn = (one: PersonOnWire): boolean =>
  one.role === 'keeper' && one.active && one.canSignIn;

export const findPerson = async (db: Reading, id: string): Promise<PersonOnWire | undefined> =>
  (await listPeople(db)).find((one) => one.id === id);

/** Few people work in one laboratory; comparing them all lets capitals outside ASCII count as the same. */
export const findByName = async (db: Reading, name: string): Promise<PersonOnWire | undefined> =>
  (await listPeople(db)).find((one) => fold(one.name) === fold(name));

export type Secrets = Omit<PersonSecretTable, 'person_id'>;

export const readSecrets = async (db: Reading, personId: string): Promise<Secrets | undefined> =>
  db.selectFrom('person_secret').selectAll().where('person_id', '=', personId).executeTakeFirst();

export const changeSecrets = async (
  trx: Transaction<Tables>,
  personId: string,
  secrets: Partial<Secrets>,
): Promise<void> => {
  await trx.updateTable('person_secret').set(secrets).where('person_id', '=', personId).execute();
};

export interface NewPerson {
  id: string;
  name: string;
  role: Role;
  mayIssue: boolean;
  passphraseHash: string | null;
}

export const insertPerson = async (
  trx: Transaction<Tables>,
  { id, name, role, mayIssue, passphraseHash }: NewPerson,
  at: string,
  actor: string,
): Promise<PersonOnWire> => {
  const recorded = { recorded_at: at, recorded_by: actor };
  await trx
    .insertInto('person')
    .values({ id, version: 1, name, role, may_issue: mayIssue ? 1 : 0, active: 1, ...recorded })
    .execute();
  const nothing = { code_hash: null, code_expires_at: null, second_factor_secret: null, second_factor_since: null };
  await trx
    .insertInto('person_secret')
    .values({
      person_id: id,
      passphrase_hash: passphraseHash,
      passphrase_at: passphraseHash === null ? null : at,
      ...nothing,
      second_factor_last_step: null,
      recovery_hashes: null,
    })
    .execute();
  return {
    ...{ id, version: 1, name, role, mayIssue, active: true, canSignIn: passphraseHash !== null },
    ...{ codeExpiresAt: null, secondFactor: false, recordedAt: at, recordedBy: actor },
  };
};

export const savePerson = async (trx: Transaction<Tables>, one: PersonOnWire): Promise<void> => {
  await trx
    .updateTable('person')
    .set({ version: one.version, role: one.role, may_issue: one.mayIssue ? 1 : 0, active: one.active ? 1 : 0 })
    .where('id', '=', one.id)
    .execute();
};

/** People written by other means than here have no row of secrets yet. */
export const keepCode = async (
  trx: Transaction<Tables>,
  personId: string,
  codeHash: string,
  expiresAt: string,
): Promise<void> => {
  const code = { code_hash: codeHash, code_expires_at: expiresAt };
  await trx
    .insertInto('person_secret')
    .values({
      person_id: personId,
      passphrase_hash: null,
      passphrase_at: null,
      ...code,
      second_factor_secret: null,
      second_factor_since: null,
      second_factor_last_step: null,
      recovery_hashes: null,
    })
    .onConflict((conflict) => conflict.column('person_id').doUpdateSet(code))
    .execute();
};

/** What stands in the journal of a person: no secret. */
export const journalOf = ({ name, role, mayIssue, active }: PersonOnWire) => ({ name, role, mayIssue, active });

export const listKeys = async (db: Reading): Promise<(ProgramKeyOnWire & { tokenHash: string | null })[]> => {
  const rows = await db
    .selectFrom('program_key')
    .leftJoin('program_key_secret', 'program_key_secret.key_id', 'program_key.id')
    .selectAll('program_key')
    .select('token_hash')
    .orderBy('name')
    .execute();
  return rows.map((row) => ({
    id: row.id,
    version: row.version,
    name: row.name,
    scope: row.scope as Scope,
    expiresOn: row.expires_on,
    revoked: row.revoked === 1,
    hasToken: row.token_hash !== null,
    recordedAt: row.recorded_at,
    recordedBy: row.recorded_by,
    tokenHash: row.token_hash,
  }));
};

export const insertKey = async (trx: Transaction<Tables>, key: ProgramKeyOnWire): Promise<void> => {
  await trx
    .insertInto('program_key')
    .values({
      ...{ id: key.id, version: key.version, name: key.name, scope: key.scope, expires_on: key.expiresOn },
      ...{ revoked: 0, recorded_at: key.recordedAt, recorded_by: key.recordedBy },
    })
    .execute();
};

export const keepToken = async (trx: Transaction<Tables>, keyId: string, tokenHash: string): Promise<void> => {
  await trx
    .insertInto('program_key_secret')
    .values({ key_id: keyId, token_hash: tokenHash })
    .onConflict((conflict) => conflict.column('key_id').doUpdateSet({ token_hash: tokenHash }))
    .execute();
};

export const revokeKey = async (trx: Transaction<Tables>, id: string, version: number): Promise<void> => {
  await trx.updateTable('program_key').set({ revoked: 1, version }).where('id', '=', id).execute();
  await trx.deleteFrom('program_key_secret').where('key_id', '=', id).execute();
};
