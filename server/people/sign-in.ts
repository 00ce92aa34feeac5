/** Deciding whether somebody is who they say. Every way of being wrong looks and lasts alike. */
import type { FastifyReply, FastifyRequest } from 'fastify';
import { Problem } from '../problem.ts';
import { editing } from '../requests.ts';
import { hashOfCode, sameHash } from './codes.ts';
import type { PersonOnWire, SessionBody } from './contract.ts';
import { cookieOf, type Desk } from './desk.ts';
import { fold } from './fold.ts';
import { hashPassphrase, isOutdated, isPassphrase, requireGoodPassphrase } from './passphrases.ts';
import { useCode } from './second-factor.ts';
import { logged } from './security-log.ts';
import type { Session } from './sessions.ts';
import { changeSecrets, journalOf, readSecrets, type Secrets } from './store.ts';

const DEVICE_LASTS_S = 365 * 24 * 3600;

/** Begins a session with a new id; the one this browser had ends. */
export const beginSession = (desk: Desk, personId: string, request: FastifyRequest, reply: FastifyReply): Session => {
  const before = desk.whose(request);
  if (before) desk.sessions.end(before.session);
  const { id, session } = desk.sessions.begin(personId);
  const flags = { path: '/', httpOnly: true, sameSite: 'strict', secure: desk.options.tls } as const;
  reply.setCookie(desk.cookie, id, flags);
  const device = cookieOf(request, desk.deviceCookie);
  if (device === undefined || !desk.sessions.isDeviceOf(device, personId))
    reply.setCookie(desk.deviceCookie, desk.sessions.keepDevice(personId), { ...flags, maxAge: DEVICE_LASTS_S });
  return session;
};

interface Proof {
  person: PersonOnWire;
  /** What changes in the secrets with this sign-in. */
  changes: Partial<Secrets>;
  /** Still as it was read, or the sign-in does not count. */
  seen: Secrets;
  by: 'passphrase' | 'one-time code';
}

/** @returns null when something was wrong; throws only for what is no guess */
const prove = async (desk: Desk, body: SessionBody, person: PersonOnWire | undefined): Promise<Proof | null> => {
  const { logbook, clock } = desk.options;
  const seen = person?.active ? await logbook.read((db) => readSecrets(db, person.id)) : undefined;
  if (body.code !== undefined) return proveByCode(desk, body, body.code, person, seen);
  const right = await isPassphrase(body.password, seen?.passphrase_hash ?? null);
  if (!right || !person || !seen?.passphrase_hash) return null;
  const changes: Partial<Secrets> = {};
  if (seen.second_factor_since !== null) {
    if (body.secondFactor === undefined || body.secondFactor === '') throw new Problem('second-factor-needed');
    const used = await useCode(seen, body.secondFactor, clock());
    if (used === null) return null;
    Object.assign(changes, used);
  }
  if (isOutdated(seen.passphrase_hash)) changes.passphrase_hash = await hashPassphrase(body.password);
  return { person, changes, seen, by: 'passphrase' };
};

/** A one-time code replaces passphrase and second factor: it is the way back for somebody who lost them. */
const proveByCode = async (
  desk: Desk,
  { password }: SessionBody,
  code: string,
  person: PersonOnWire | undefined,
  seen: Secrets | undefined,
): Promise<Proof | null> => {
  const right = sameHash(hashOfCode(code), seen?.code_hash ?? '');
  const now = desk.options.clock().toISOString();
  if (!right || !person || !seen || seen.code_expires_at === null || now >= seen.code_expires_at) return null;
  await requireGoodPassphrase(password, person.name, '#/password');
  const changes: Partial<Secrets> = {
    ...{ passphrase_hash: await hashPassphrase(password), passphrase_at: now, code_hash: null, code_expires_at: null },
    ...{ second_factor_secret: null, second_factor_since: null, second_factor_last_step: null, recovery_hashes: null },
  };
  return { person, changes, seen, by: 'one-time code' };
};

const isUnchanged = (now: Secrets | undefined, seen: Secrets): boolean =>
  now !== undefined && JSON.stringify(now) === JSON.stringify(seen);

/** @throws Problem `sign-in-refused`, `second-factor-needed`, `too-many-requests`, `validation-failed` (a new passphrase) */
export const signIn = async (desk: Desk, request: FastifyRequest, body: SessionBody): Promise<PersonOnWire> => {
  const account = fold(body.name);
  const person = desk.personNamed(body.name);
  const proof = await desk.guesses
    .attempt(account, desk.placeOf(request, person?.id), () => record(desk, request, body, person))
    .catch((error: unknown) => {
      if (error instanceof Problem && error.code === 'too-many-requests')
        logged(request, 'too-many-requests', { account: body.name });
      throw error;
    });
  if (proof === null) {
    logged(request, 'sign-in-refused', { account: body.name });
    throw new Problem('sign-in-refused', {
      detail:
        body.code === undefined
          ? 'Name, passphrase or code of the second factor is wrong. Capitals count in the passphrase.'
          : 'Name or one-time code is wrong, or the code is used or too old. A keeper can make a new one.',
    });
  }
  if (proof.by === 'one-time code') desk.sessions.endAllOf(proof.person.id);
  if (Object.keys(proof.changes).length > 0) await desk.reload();
  logged(request, 'signed-in', { actor: proof.person.name, by: proof.by });
  return desk.person(proof.person.id) ?? proof.person;
};

const record = async (
  desk: Desk,
  request: FastifyRequest,
  body: SessionBody,
  person: PersonOnWire | undefined,
): Promise<Proof | null> => {
  const proof = await prove(desk, body, person);
  if (proof === null) return null;
  const { changes, seen, by } = proof;
  const asker = { ...editing(request), actor: proof.person.name };
  await desk.options.logbook.write(asker, async ({ trx, journal }) => {
    // Two at once with the same code: the second finds it used.
    if (!isUnchanged(await readSecrets(trx, proof.person.id), seen)) throw new Problem('sign-in-refused');
    if (Object.keys(changes).length > 0) await changeSecrets(trx, proof.person.id, changes);
    const after = { ...journalOf(proof.person), by };
    journal({ act: 'signed-in', object: `person/${proof.person.id}`, before: null, after });
    return { status: 200, body: null };
  });
  return proof;
};
