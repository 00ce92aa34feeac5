import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { FastifyRequest } from 'fastify';
import { z } from 'zod';
import { Problem } from '../problem.ts';
import { editing } from '../requests.ts';
import { ROLES, type Role } from './contract.ts';
import { confirmationBody, passphraseBody, removalBody, secondFactorBegun, secondFactorOn } from './contract.ts';
import { fold } from './fold.ts';
import type { Access } from './access.ts';
import type { Desk } from './desk.ts';
import { hashPassphrase, requireGoodPassphrase } from './passphrases.ts';
import { newRecoveryCodes, newSecret, pictured, stepOf } from './second-factor.ts';
import { logged } from './security-log.ts';
import { confirmSigner } from './signing.ts';
import { changeSecrets, readSecrets, type Secrets } from './store.ts';

const OWN: Access = ROLES;
const MORE_AT_STAKE: readonly Role[] = ['keeper', 'auditor'];
const done = z.object({ done: z.literal(true) });
const DONE = { done: true } as const;

const config = { access: OWN, personOnly: true } as const;

const change = async (
  desk: Desk,
  request: FastifyRequest,
  act: string,
  id: string,
  secrets: Partial<Secrets>,
): Promise<void> => {
  await desk.options.logbook.write(editing(request), async ({ trx, journal }) => {
    await changeSecrets(trx, id, secrets);
    journal({ act, object: `person/${id}`, before: null, after: null });
    return { status: 200, body: null };
  });
  await desk.reload();
  logged(request, 'people-changed', { actor: request.actor, act });
};

/** What somebody changes about their own access. */
export const ownRoutes: FastifyPluginAsyncZod<{ desk: Desk }> = async (app, { desk }) => {
  const { clock } = desk.options;

  app.post(
    '/session/passphrase',
    { config, schema: { body: passphraseBody, response: { 200: done } } },
    async (request) => {
      const { password, newPassword } = request.body;
      const { id, name } = await confirmSigner(request, password);
      await requireGoodPassphrase(newPassword, name, '#/newPassword');
      const secrets = { passphrase_hash: await hashPassphrase(newPassword), passphrase_at: clock().toISOString() };
      await change(desk, request, 'passphrase-changed', id, secrets);
      desk.sessions.endAllOf(id, desk.whose(request)?.session.hash);
      return DONE;
    },
  );
};

/** The second factor: begun, on with its first code, taken off again. */
export const secondFactorRoutes: FastifyPluginAsyncZod<{ desk: Desk }> = async (app, { desk }) => {
  const { logbook, clock } = desk.options;

  app.post('/session/second-factor', { config, schema: { response: { 200: secondFactorBegun } } }, async (request) => {
    const person = signedIn(request);
    if (!MORE_AT_STAKE.includes(person.role) && !person.mayIssue)
      throw new Problem('not-allowed', { detail: 'A second factor is for keepers, auditors and those who may issue.' });
    if (desk.person(person.id)?.secondFactor === true)
      throw new Problem('state-conflict', { detail: 'The second factor is on. Take it off first to begin anew.' });
    const secret = await newSecret();
    await change(desk, request, 'second-factor-begun', person.id, { second_factor_secret: secret });
    return { secret, ...(await pictured(secret, person.name)) };
  });

  app.post(
    '/session/second-factor/confirmation',
    { config, schema: { body: confirmationBody, response: { 200: secondFactorOn } } },
    async (request) => {
      const person = signedIn(request);
      const secrets = await logbook.read((db) => readSecrets(db, person.id));
      const secret = secrets?.second_factor_secret ?? null;
      if (secret === null || secrets?.second_factor_since !== null)
        throw new Problem('state-conflict', { detail: 'There is no second factor waiting for its first code.' });
      const step = await desk.guesses.attempt(fold(person.name), desk.placeOf(request, person.id), () =>
        stepOf(secret, request.body.code, clock()),
      );
      if (step === null)
        throw new Problem('wrong-code', {
          errors: [{ pointer: '#/code', detail: 'This is not the present code. Is the clock of the device right?' }],
        });
      const { codes, hashes } = newRecoveryCodes();
      await change(desk, request, 'second-factor-on', person.id, {
        second_factor_since: clock().toISOString(),
        second_factor_last_step: step,
        recovery_hashes: hashes,
      });
      return { recoveryCodes: codes };
    },
  );

  app.post(
    '/session/second-factor/removal',
    { config, schema: { body: removalBody, response: { 200: done } } },
    async (request) => {
      const { id } = await confirmSigner(request, request.body.password);
      await change(desk, request, 'second-factor-off', id, {
        ...{ second_factor_secret: null, second_factor_since: null, second_factor_last_step: null },
        recovery_hashes: null,
      });
      return DONE;
    },
  );
};

const signedIn = (request: FastifyRequest) => {
  if (!request.person) throw new Problem('not-signed-in');
  return request.person;
};
