import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { notFound, Problem } from '../problem.ts';
import { creating, editing, expectedVersion, newId, requireVersion, send } from '../requests.ts';
import { KEEPER, OVERSIGHT } from './access.ts';
import { hashOfCode, newCode } from './codes.ts';
import {
  oneTimeCode,
  params,
  person,
  personBody,
  personChange,
  personList,
  sessionsEnded,
  type PersonOnWire,
} from './contract.ts';
import type { Desk } from './desk.ts';
import { nameTaken } from './routes-session.ts';
import { logged } from './security-log.ts';
import { changeSecrets, findByName, findPerson, insertPerson, isKeeperWhoCanSignIn } from './store.ts';
import { journalOf, keepCode, listPeople, savePerson } from './store.ts';

const CODE_LASTS_MS = 72 * 3_600_000;
const known = (found: PersonOnWire | undefined): PersonOnWire => {
  if (!found) throw notFound('person');
  return found;
};

const config = { access: KEEPER, personOnly: true } as const;

/** Who works here. Nobody is ever removed: their name stands in the record. */
export const peopleRoutes: FastifyPluginAsyncZod<{ desk: Desk }> = async (app, { desk }) => {
  const { logbook } = desk.options;
  app.get('/people', { config: { access: OVERSIGHT }, schema: { response: { 200: personList } } }, async () => ({
    items: await logbook.read(listPeople),
  }));

  app.post('/people', { config, schema: { body: personBody, response: { 201: person } } }, async (request, reply) => {
    const { name, role, mayIssue = false } = request.body;
    const answer = await logbook.write(creating(request), async ({ trx, at, actor, journal }) => {
      if (await findByName(trx, name)) throw nameTaken(name);
      const added = await insertPerson(trx, { id: newId(), name, role, mayIssue, passphraseHash: null }, at, actor);
      journal({ act: 'person-added', object: `person/${added.id}`, before: null, after: journalOf(added) });
      return { status: 201, body: added };
    });
    await desk.reload();
    logged(request, 'people-changed', { actor: request.actor, act: 'person-added', person: name });
    return send(reply, answer);
  });

  app.patch(
    '/people/:id',
    { config, schema: { params, body: personChange, response: { 200: person } } },
    async (request, reply) => {
      const expected = expectedVersion(request);
      const { role, mayIssue, active, reason } = request.body;
      const before = desk.person(request.params.id);
      const answer = await logbook.write(editing(request), async ({ trx, journal }) => {
        const present = known(await findPerson(trx, request.params.id));
        requireVersion(expected, present.version, present);
        const after: PersonOnWire = {
          ...present,
          version: present.version + 1,
          role: role ?? present.role,
          mayIssue: mayIssue ?? present.mayIssue,
          active: active ?? present.active,
        };
        const others = (await listPeople(trx)).filter((one) => one.id !== present.id);
        if (isKeeperWhoCanSignIn(present) && !isKeeperWhoCanSignIn(after) && !others.some(isKeeperWhoCanSignIn))
          throw new Problem('last-keeper');
        await savePerson(trx, after);
        if (!after.active) {
          await changeSecrets(trx, present.id, { code_hash: null, code_expires_at: null });
          after.codeExpiresAt = null;
        }
        const object = `person/${present.id}`;
        journal({ act: 'person-changed', object, before: journalOf(present), after: { ...journalOf(after), reason } });
        return { status: 200, body: after };
      });
      // At once: what is read anew below takes a moment.
      if (before?.role !== answer.body.role || !answer.body.active) desk.sessions.endAllOf(request.params.id);
      await desk.reload();
      logged(request, 'people-changed', { actor: request.actor, act: 'person-changed', person: answer.body.name });
      return send(reply, answer);
    },
  );
};

/** Ways in and out for others: their one-time code, and the end of their sessions. */
export const accountRoutes: FastifyPluginAsyncZod<{ desk: Desk }> = async (app, { desk }) => {
  const { logbook, clock } = desk.options;

  app.post('/people/:id/code', { config, schema: { params, response: { 200: oneTimeCode } } }, async (request) => {
    const code = newCode();
    const expiresAt = new Date(clock().getTime() + CODE_LASTS_MS).toISOString();
    const { body } = await logbook.write(editing(request), async ({ trx, journal }) => {
      const whose = known(await findPerson(trx, request.params.id));
      if (!whose.active)
        throw new Problem('state-conflict', { detail: `${whose.name} is not active. Make them active first.` });
      await keepCode(trx, whose.id, hashOfCode(code), expiresAt);
      journal({ act: 'code-made', object: `person/${whose.id}`, before: null, after: { expiresAt } });
      return { status: 200, body: whose };
    });
    await desk.reload();
    logged(request, 'people-changed', { actor: request.actor, act: 'code-made', person: body.name });
    return { code, expiresAt };
  });

  app.post(
    '/people/:id/sign-out',
    { config, schema: { params, response: { 200: sessionsEnded } } },
    async (request) => {
      const { body } = await logbook.write(editing(request), async ({ trx, journal }) => {
        const whose = known(await findPerson(trx, request.params.id));
        journal({ act: 'signed-out-everywhere', object: `person/${whose.id}`, before: null, after: null });
        return { status: 200, body: whose };
      });
      logged(request, 'people-changed', { actor: request.actor, act: 'signed-out-everywhere', person: body.name });
      return { ended: desk.sessions.endAllOf(body.id) };
    },
  );
};
