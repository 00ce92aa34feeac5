import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { CLASS_GROUPS, CLASS_GROUP_MAKING, TEACHING } from '../people/access.ts';
import type { Desk } from '../people/desk.ts';
import { logged } from '../people/security-log.ts';
import { notFound, Problem } from '../problem.ts';
import { send } from '../requests.ts';
import { experimentParams } from './contract.ts';
import {
  classGroup,
  groupChange,
  groupList,
  groupParams,
  groupsBody,
  groupsMade,
  joining,
  joiningBody,
  newWord,
  openingBody,
  stateSaved,
} from './contract-class.ts';
import { addGroup, joiningOf, newCodes } from './joining.ts';
import { newWordBeside } from './join-codes.ts';
import { requireOwnExperiment } from './rights.ts';
import { changeCodes, changeGroup, changeWord, findGroup, groupsOf, wordsOf } from './store-groups.ts';
import { changeExperiment, findExperiment } from './store.ts';
import { groupListOf, groupOnWire } from './view-class.ts';
import { classWrite, shown, type ClassServices } from './writing.ts';

export interface RunningServices extends ClassServices {
  /** Null for commands, at which no class comes in. */
  desk: Desk | null;
}

/** Codes last a little longer than the lesson. */
const AFTER_THE_LESSON_MINUTES = 15;

const later = (at: string, minutes: number): string => new Date(Date.parse(at) + minutes * 60_000).toISOString();

const opening: FastifyPluginAsyncZod<RunningServices> = async (app, services) => {
  app.post(
    '/experiments/:id/opening',
    {
      config: { access: TEACHING },
      schema: { params: experimentParams, body: openingBody, response: { 201: stateSaved } },
    },
    async (request, reply) =>
      send(
        reply,
        await classWrite(services, {
          ...{ act: 'experiment-opened', request, experimentId: request.params.id, keyed: true, states: ['planned'] },
          work: async ({ trx, at }, stored) => {
            const minutes = request.body.minutes ?? stored.plan.lessonMinutes + AFTER_THE_LESSON_MINUTES;
            const version = stored.version + 1;
            const state = 'open' as const;
            const facts = { version, state, joiningOpen: true, openedAt: at, endsAt: later(at, minutes) };
            await changeExperiment(trx, stored.id, facts);
            await changeCodes(trx, stored.id, newCodes());
            return { status: 201, body: { version, state } };
          },
        }),
      ),
  );
};

const joiningRoutes: FastifyPluginAsyncZod<RunningServices> = async (app, services) => {
  const { logbook, desk } = services;
  app.get(
    '/experiments/:id/joining',
    { config: { access: TEACHING }, schema: { params: experimentParams, response: { 200: joining } } },
    async (request) =>
      logbook.read(async (db) => {
        const stored = await findExperiment(db, request.params.id);
        if (!stored) throw notFound('experiment');
        return joiningOf(db, stored, request);
      }),
  );

  app.post(
    '/experiments/:id/joining',
    {
      config: { access: TEACHING },
      schema: { params: experimentParams, body: joiningBody, response: { 200: joining } },
    },
    async (request) => {
      const { body, params } = request;
      const answer = await classWrite(services, {
        ...{ act: 'class-joining-changed', request, experimentId: params.id, keyed: false, states: ['open'] },
        work: async ({ trx, at }, stored) => {
          if (stored.madeUp)
            throw new Problem('state-conflict', {
              detail: 'This is a rehearsal: its class is made up, and nobody joins it.',
            });
          if (body.act === 'rotate') await changeCodes(trx, stored.id, newCodes());
          else if (body.minutes !== undefined && body.act === 'extend')
            await changeExperiment(trx, stored.id, { endsAt: later(at, body.minutes) });
          else await changeExperiment(trx, stored.id, { joiningOpen: body.act === 'open' });
          const present = (await findExperiment(trx, stored.id)) ?? stored;
          return { status: 200, body: await joiningOf(trx, present, request) };
        },
      });
      if (body.act === 'extend' && answer.body.endsAt !== null)
        desk?.classSessions.extend(params.id, Date.parse(answer.body.endsAt));
      if (body.act === 'rotate') {
        // Who came in by a code that somebody should not have had goes out; groups keep their trials and stay.
        desk?.classSessions.endAllOf(params.id, { kind: 'board' });
        desk?.classSessions.endAllOf(params.id, { kind: 'assistant' });
        logged(request, 'class-code-rotated', { actor: request.actor });
      }
      return answer.body;
    },
  );
};

/** Groups that come by no phone of their own. */
const groups: FastifyPluginAsyncZod<RunningServices> = async (app, services) => {
  const { logbook } = services;
  app.get(
    '/experiments/:id/groups',
    {
      config: { access: CLASS_GROUPS, classListener: true },
      schema: { params: experimentParams, response: { 200: groupList } },
    },
    async (request) => {
      requireOwnExperiment(request, request.params.id);
      return logbook.read(async (db) => {
        const stored = await findExperiment(db, request.params.id);
        if (!stored) throw notFound('experiment');
        return groupListOf(db, stored);
      });
    },
  );

  app.post(
    '/experiments/:id/groups',
    {
      config: { access: CLASS_GROUP_MAKING, classListener: true },
      schema: { params: experimentParams, body: groupsBody, response: { 201: groupsMade } },
    },
    async (request, reply) => {
      requireOwnExperiment(request, request.params.id);
      const { id } = request.params;
      const answer = await classWrite(services, {
        ...{ act: 'class-groups-made', request, experimentId: id, keyed: true, states: ['planned', 'open'] },
        work: async (writing) => {
          const numbers: number[] = [];
          for (let made = 0; made < request.body.count; made += 1)
            numbers.push((await addGroup(writing, id, 'staff')).group.number);
          return { status: 201, body: { numbers } };
        },
      });
      const made = await shown(services, answer, async (db, { numbers }) => ({
        items: (await groupsOf(db, id)).filter(({ number }) => numbers.includes(number)).map(groupOnWire),
      }));
      return send(reply, made);
    },
  );
};

/** What the teacher changes about one group: its name, whether the board shows it, its word. */
const oneGroup: FastifyPluginAsyncZod<RunningServices> = async (app, services) => {
  const { desk } = services;
  app.post(
    '/experiments/:id/groups/:group',
    { config: { access: TEACHING }, schema: { params: groupParams, body: groupChange, response: { 200: classGroup } } },
    async (request) => {
      const { id, group } = request.params;
      const answer = await classWrite(services, {
        ...{ act: 'class-group-changed', request, experimentId: id, keyed: false, states: ['planned', 'open'] },
        work: async ({ trx }) => {
          const known = await findGroup(trx, id, group);
          if (!known) throw notFound('group');
          const { name, hidden } = request.body;
          const others = (await groupsOf(trx, id)).filter((one) => one.id !== group);
          if (name !== undefined && others.some((one) => one.name === name)) throw nameTaken();
          await changeGroup(trx, group, { name, hidden });
          return { status: 200, body: groupOnWire((await findGroup(trx, id, group)) ?? known) };
        },
      });
      return answer.body;
    },
  );

  app.post(
    '/experiments/:id/groups/:group/word',
    { config: { access: TEACHING }, schema: { params: groupParams, response: { 200: newWord } } },
    async (request) => {
      const { id, group } = request.params;
      const answer = await classWrite(services, {
        ...{ act: 'class-word-made', request, experimentId: id, keyed: false, states: ['open'] },
        work: async ({ trx }) => {
          if (!(await findGroup(trx, id, group))) throw notFound('group');
          const word = newWordBeside(new Set((await wordsOf(trx, id)).values()));
          await changeWord(trx, group, word);
          return { status: 200, body: { word } };
        },
      });
      // A phone that got lost may be in other hands.
      desk?.classSessions.endAllOf(id, { groupId: group });
      return answer.body;
    },
  );
};

const nameTaken = (): Problem =>
  new Problem('duplicate', {
    detail: 'Another group has this name.',
    errors: [{ pointer: '#/name', detail: 'Another group has this name. Choose one that is free.' }],
  });

export const runningRoutes: FastifyPluginAsyncZod<RunningServices> = async (app, services) => {
  await opening(app, services);
  await joiningRoutes(app, services);
  await groups(app, services);
  await oneGroup(app, services);
};
