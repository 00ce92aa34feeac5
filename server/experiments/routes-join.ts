import type { FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { Logbook } from '../db/logbook.ts';
import { beginClassSession, endClassSession } from '../people/class-entry.ts';
import type { ClassSessionKind } from '../people/class-sessions.ts';
import { sameHash, hashOf } from '../people/codes.ts';
import type { Desk } from '../people/desk.ts';
import { logged } from '../people/security-log.ts';
import { Problem } from '../problem.ts';
import {
  classSessionQuery,
  classSessionState,
  helping,
  joinBody,
  joined,
  returnBody,
  returned,
} from './contract-class.ts';
import { asTyped } from './join-codes.ts';
import { JoinTries } from './join-tries.ts';
import { addGroup } from './joining.ts';
import { findExperiment } from './store.ts';
import { experimentByCode, findGroup, wordsOf, type CodeKind } from './store-groups.ts';
import { classWrite, type ClassServices } from './writing.ts';

export interface JoinServices extends ClassServices {
  clock: () => Date;
  desk: Desk;
}
type Guarded = JoinServices & { tries: JoinTries };

const OPEN = { access: 'open', classListener: true } as const;

/** Wrong, ended and closed to new groups look alike to whoever has no group yet. */
const wrongCode = (request: FastifyRequest): Problem => {
  logged(request, 'class-code-refused');
  const detail = 'No class experiment is open under this code. Look at the board, or ask for the present one.';
  return new Problem('wrong-code', { detail, errors: [{ pointer: '#/code', detail }] });
};

interface Found {
  id: string;
  joiningOpen: boolean;
  endsMs: number;
}

const lookUp = async (logbook: Logbook, kind: CodeKind, typed: string, at: Date): Promise<Found | null> => {
  const found = await logbook.read((db) => experimentByCode(db, kind, asTyped(typed), at.toISOString()));
  return found && { id: found.id, joiningOpen: found.joiningOpen, endsMs: Date.parse(found.endsAt) };
};

/** A new group at this browser. Its answer holds the word and is kept nowhere, so it takes no key. */
const joining: FastifyPluginAsyncZod<Guarded> = async (app, services) => {
  const { logbook, clock, desk, tries } = services;
  app.post(
    '/class/join',
    { config: { ...OPEN, keyless: true }, schema: { body: joinBody, response: { 201: joined } } },
    async (request, reply) => {
      const found = await tries.attempt(request.ip, async () => {
        const one = await lookUp(logbook, 'join_code', request.body.code, clock());
        return one?.joiningOpen === true ? one : null;
      });
      if (found === null) throw wrongCode(request);
      request.actor = 'class group';
      const { body } = await classWrite(services, {
        ...{ act: 'class-group-joined', request, experimentId: found.id, keyed: false, states: ['open'] },
        work: async (writing) => {
          const { group, word } = await addGroup(writing, found.id, 'phone');
          return { status: 201, body: { experimentId: found.id, groupId: group.id, name: group.name, word } };
        },
      });
      const session = { kind: 'group', experimentId: found.id, groupId: body.groupId, endsMs: found.endsMs } as const;
      beginClassSession(desk, session, request, reply);
      return reply.code(201).send(body);
    },
  );
};

/** A group whose phone was lost, at another one: by the code and its own word. */
const returning: FastifyPluginAsyncZod<Guarded> = async (app, { logbook, clock, desk, tries }) => {
  const groupWithWord = async (experimentId: string, typed: string) =>
    logbook.read(async (db) => {
      const words = [...(await wordsOf(db, experimentId))];
      const mine = words.find(([, word]) => sameHash(hashOf(word), hashOf(asTyped(typed))));
      return mine === undefined ? null : findGroup(db, experimentId, mine[0]);
    });

  app.post(
    '/class/return',
    { config: OPEN, schema: { body: returnBody, response: { 200: returned } } },
    async (request, reply) => {
      const { code, word } = request.body;
      const known = await tries.attempt(request.ip, async () => {
        const found = await lookUp(logbook, 'join_code', code, clock());
        const group = found && (await groupWithWord(found.id, word));
        return found && group ? { found, group } : null;
      });
      if (known === null) {
        logged(request, 'class-code-refused');
        const detail =
          'No group of an open experiment has this code and this word. Ask whoever teaches for a new word.';
        throw new Problem('wrong-code', { detail, errors: [{ pointer: '#/word', detail }] });
      }
      const { found, group } = known;
      const session = { kind: 'group', experimentId: found.id, groupId: group.id, endsMs: found.endsMs } as const;
      beginClassSession(desk, session, request, reply);
      return { experimentId: found.id, groupId: group.id, name: group.name };
    },
  );
};

/** A projector without a sign-in, and one assistant who enters for all. */
const helpers: FastifyPluginAsyncZod<Guarded> = async (app, { logbook, clock, desk, tries }) => {
  const ways: [address: string, kind: ClassSessionKind, code: CodeKind][] = [
    ['/class/board', 'board', 'board_code'],
    ['/class/assistant', 'assistant', 'assistant_code'],
  ];
  for (const [address, kind, codeKind] of ways)
    app.post(
      address,
      { config: OPEN, schema: { body: joinBody, response: { 200: helping } } },
      async (request, reply) => {
        const found = await tries.attempt(request.ip, () => lookUp(logbook, codeKind, request.body.code, clock()));
        if (found === null) throw wrongCode(request);
        const session = { kind, experimentId: found.id, groupId: null, endsMs: found.endsMs };
        beginClassSession(desk, session, request, reply);
        return { experimentId: found.id };
      },
    );
};

const sessions: FastifyPluginAsyncZod<Guarded> = async (app, { logbook, desk }) => {
  app.get(
    '/class/session',
    { config: OPEN, schema: { querystring: classSessionQuery, response: { 200: classSessionState } } },
    async (request) => {
      const { experiment } = request.query;
      const isThere =
        experiment === undefined ? null : (await logbook.read((db) => findExperiment(db, experiment))) !== null;
      const session = desk.whoseOfClass(request);
      if (session === null) return { kind: null, experimentId: null, groupId: null, endsAt: null, isThere };
      const { kind, experimentId, groupId, endsMs } = session;
      return { kind, experimentId, groupId, endsAt: new Date(endsMs).toISOString(), isThere };
    },
  );

  app.delete('/class/session', { config: OPEN, schema: { response: { 204: z.null() } } }, async (request, reply) => {
    endClassSession(desk, request, reply);
    return reply.code(204).send(null);
  });
};

export const joinRoutes: FastifyPluginAsyncZod<JoinServices> = async (app, services) => {
  const guarded = { ...services, tries: new JoinTries(services.clock) };
  await joining(app, guarded);
  await returning(app, guarded);
  await helpers(app, guarded);
  await sessions(app, guarded);
};
