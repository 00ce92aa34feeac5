import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { Problem } from '../problem.ts';
import { editing, newId } from '../requests.ts';
import {
  LONGEST_PASSPHRASE,
  sessionBody,
  sessionState,
  setupBody,
  setupState,
  SHORTEST_PASSPHRASE,
  type PersonOnWire,
  type SessionState,
} from './contract.ts';
import type { Desk } from './desk.ts';
import { hashPassphrase, requireGoodPassphrase } from './passphrases.ts';
import { logged } from './security-log.ts';
import { ABSOLUTE_MS, IDLE_MS, type Session } from './sessions.ts';
import { beginSession, signIn } from './sign-in.ts';
import { findByName, insertPerson, isKeeperWhoCanSignIn, journalOf, listPeople } from './store.ts';

const stateOf = (desk: Desk, known: { session: Session; person: PersonOnWire } | null): SessionState => ({
  person:
    known === null
      ? null
      : {
          id: known.person.id,
          name: known.person.name,
          role: known.person.role,
          mayIssue: known.person.mayIssue,
          secondFactor: known.person.secondFactor,
        },
  setupNeeded: desk.setupNeeded,
  plainHttp: desk.options.plainHttp,
  idleEndsAt: known === null ? null : new Date(known.session.seenMs + IDLE_MS).toISOString(),
  endsAt: known === null ? null : new Date(known.session.startedMs + ABSOLUTE_MS).toISOString(),
});

const setupDone = (): Problem => new Problem('set-up-done');

/** The first keeper, made by whoever can read the code on the machine's console. */
export const setupRoutes: FastifyPluginAsyncZod<{ desk: Desk }> = async (app, { desk }) => {
  const { logbook } = desk.options;

  app.get('/setup', { config: { access: 'open' }, schema: { response: { 200: setupState } } }, async () => ({
    needed: desk.setupNeeded,
    shortestPassphrase: SHORTEST_PASSPHRASE,
    longestPassphrase: LONGEST_PASSPHRASE,
  }));

  app.post(
    '/setup',
    {
      config: { access: 'open', keyless: true },
      schema: { body: setupBody, response: { 201: z.object({ id: z.string(), name: z.string(), role: z.string() }) } },
    },
    async (request, reply) => {
      const { code, name, password } = request.body;
      if (!desk.setupNeeded) throw setupDone();
      const right = await desk.guesses.attempt('(set-up)', desk.placeOf(request, undefined), async () =>
        desk.isSetupCode(code) ? true : null,
      );
      if (right === null) {
        logged(request, 'set-up-refused');
        throw new Problem('wrong-code', {
          errors: [{ pointer: '#/code', detail: 'This is not the code that the server printed at its last start.' }],
        });
      }
      await requireGoodPassphrase(password, name, '#/password');
      const passphraseHash = await hashPassphrase(password);
      const { body } = await logbook.write({ ...editing(request), actor: name }, async ({ trx, at, journal }) => {
        if ((await listPeople(trx)).some(isKeeperWhoCanSignIn)) throw setupDone();
        if (await findByName(trx, name)) throw nameTaken(name);
        const facts = { id: newId(), name, role: 'keeper', mayIssue: true, passphraseHash } as const;
        const keeper = await insertPerson(trx, facts, at, name);
        journal({ act: 'set-up', object: `person/${keeper.id}`, before: null, after: journalOf(keeper) });
        return { status: 201, body: keeper };
      });
      await desk.reload();
      beginSession(desk, body.id, request, reply);
      logged(request, 'set-up', { actor: name });
      return reply.code(201).send({ id: body.id, name: body.name, role: body.role });
    },
  );
};

/** Signing in and out. */
export const sessionRoutes: FastifyPluginAsyncZod<{ desk: Desk }> = async (app, { desk }) => {
  const { logbook } = desk.options;

  app.get('/session', { config: { access: 'open' }, schema: { response: { 200: sessionState } } }, async (request) =>
    stateOf(desk, desk.whose(request)),
  );

  app.post(
    '/session',
    { config: { access: 'open' }, schema: { body: sessionBody, response: { 200: sessionState } } },
    async (request, reply) => {
      const person = await signIn(desk, request, request.body);
      const session = beginSession(desk, person.id, request, reply);
      return stateOf(desk, { session, person });
    },
  );

  app.delete(
    '/session',
    { config: { access: 'open' }, schema: { response: { 204: z.null() } } },
    async (request, reply) => {
      const known = desk.whose(request);
      if (known) {
        const { session, person } = known;
        desk.sessions.end(session);
        await logbook.write({ ...editing(request), actor: person.name }, async ({ journal }) => {
          journal({ act: 'signed-out', object: `person/${person.id}`, before: null, after: null });
          return { status: 204, body: null };
        });
        logged(request, 'signed-out', { actor: person.name });
      }
      reply.clearCookie(desk.cookie, { path: '/', httpOnly: true, sameSite: 'strict', secure: desk.options.tls });
      return reply.code(204).send(null);
    },
  );
};

export const nameTaken = (name: string): Problem =>
  new Problem('duplicate', {
    detail: `There is already a ${JSON.stringify(name)}. Capitals do not tell people apart.`,
    errors: [{ pointer: '#/name', detail: 'This name is taken. Add a second name or a letter.' }],
  });
