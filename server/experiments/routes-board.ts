import { setImmediate } from 'node:timers/promises';
import type { FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { CLASS_BOARD, EVERYONE } from '../people/access.ts';
import { notFound, Problem } from '../problem.ts';
import { experimentParams } from './contract.ts';
import { boardAnswer, boardQuery, classData, earlierClasses, invitation, type EarlierClass } from './contract-class.ts';
import { invitationOf } from './joining.ts';
import { requireOwnExperiment } from './rights.ts';
import type { RunningServices } from './routes-running.ts';
import { findExperiment } from './store.ts';
import { boardOf, classDataOf } from './view-class.ts';
import { earlierClassOf, earlierThan } from './view-earlier.ts';

const BOARD = { access: CLASS_BOARD, classListener: true } as const;

const lastEventOf = ({ headers }: FastifyRequest): number => {
  const last = headers['last-event-id'];
  return typeof last === 'string' && /^\d{1,15}$/.test(last) ? Number(last) : 0;
};

const boards: FastifyPluginAsyncZod<RunningServices> = async (app, { logbook }) => {
  app.get(
    '/experiments/:id/board',
    { config: BOARD, schema: { params: experimentParams, querystring: boardQuery, response: { 200: boardAnswer } } },
    async (request) => {
      const { id } = request.params;
      requireOwnExperiment(request, id);
      return logbook.read(async (db) => {
        const stored = await findExperiment(db, id);
        if (!stored) throw notFound('experiment');
        if (request.query.after === stored.change) return { change: stored.change, board: null };
        return { change: stored.change, board: await boardOf(db, id) };
      });
    },
  );

  app.get(
    '/experiments/:id/invitation',
    {
      // Whoever may look at the board in the room; a program comes in by no code.
      config: { ...BOARD, personOnly: true },
      schema: { params: experimentParams, response: { 200: invitation } },
    },
    async (request) => {
      requireOwnExperiment(request, request.params.id);
      return logbook.read(async (db) => {
        const stored = await findExperiment(db, request.params.id);
        if (!stored) throw notFound('experiment');
        return invitationOf(db, stored, request);
      });
    },
  );

  app.get(
    '/experiments/:id/data',
    { config: { access: EVERYONE }, schema: { params: experimentParams, response: { 200: classData } } },
    async (request) =>
      logbook.read(async (db) => {
        const stored = await findExperiment(db, request.params.id);
        if (!stored) throw notFound('experiment');
        return classDataOf(db, stored);
      }),
  );

  app.get(
    '/experiments/:id/earlier',
    { config: { access: EVERYONE }, schema: { params: experimentParams, response: { 200: earlierClasses } } },
    async (request) => {
      const ids = await logbook.read(async (db) => {
        const stored = await findExperiment(db, request.params.id);
        if (!stored) throw notFound('experiment');
        return earlierThan(db, stored);
      });
      const items: EarlierClass[] = [];
      for (const id of ids) {
        const found = await logbook.read((db) => earlierClassOf(db, id));
        if (found) items.push(found);
        // Years of classes take a while to work out; whoever weighs now goes first.
        await setImmediate();
      }
      return { items };
    },
  );
};

const streams: FastifyPluginAsyncZod<RunningServices> = async (app, { logbook, boards: open, desk }) => {
  /** Asked again as long as the stream lasts. */
  const mayListen = (request: FastifyRequest) => (): boolean => {
    if (desk === null) return true;
    if (request.classSession !== null) return desk.whoseOfClass(request)?.hash === request.classSession.hash;
    if (request.person === null) return desk.setupNeeded;
    return desk.whose(request)?.person.id === request.person.id;
  };

  app.get(
    '/experiments/:id/board/stream',
    // A key has no session that could end with its right. HEAD of a stream would not end.
    { config: { ...BOARD, personOnly: true }, exposeHeadRoute: false, schema: { params: experimentParams } },
    async (request, reply) => {
      const { id } = request.params;
      requireOwnExperiment(request, id);
      const stored = await logbook.read((db) => findExperiment(db, id));
      if (!stored) throw notFound('experiment');
      if (stored.state === 'closed')
        throw new Problem('state-conflict', { detail: 'This experiment is closed: its board grows no more.' });
      open.requireRoom(id);
      reply.hijack();
      reply.raw.writeHead(200, {
        ...(reply.getHeaders() as Record<string, string>),
        'content-type': 'text/event-stream; charset=utf-8',
        'cache-control': 'no-store',
        // Proxies would keep events until they have enough of them.
        'x-accel-buffering': 'no',
      });
      reply.raw.write('retry: 2000\n\n');
      open.add(id, { raw: reply.raw, mayListen: mayListen(request), sent: lastEventOf(request) });
      return reply;
    },
  );
};

export const boardRoutes: FastifyPluginAsyncZod<RunningServices> = async (app, services) => {
  await boards(app, services);
  await streams(app, services);
};
