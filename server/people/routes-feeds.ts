import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { FastifyRequest } from 'fastify';
import { notFound, Problem } from '../problem.ts';
import { editing, newId } from '../requests.ts';
import { EVERYONE } from './access.ts';
import { hashOf, newToken } from './codes.ts';
import { params } from './contract.ts';
import { feed, feedBody, feedList, feedMade, type FeedOnWire } from './contract-feeds.ts';
import type { Desk } from './desk.ts';
import { logged } from './security-log.ts';
import { endFeed, insertFeed, listFeeds, type StoredFeed } from './store-feeds.ts';

/** Enough for every device somebody has. */
const MOST_RUNNING = 20;

const isFor = (request: FastifyRequest, stored: StoredFeed): boolean =>
  request.person?.role === 'keeper' || stored.personId === request.person?.id;

const onWire = ({ id, label, recordedBy, recordedAt, endedAt }: StoredFeed): FeedOnWire => ({
  ...{ id, label, person: recordedBy, recordedAt, endedAt },
});

/** Everybody makes and ends calendars of their own; a keeper sees and ends all. */
export const feedRoutes: FastifyPluginAsyncZod<{ desk: Desk }> = async (app, { desk }) => {
  const { logbook } = desk.options;
  const config = { access: EVERYONE, personOnly: true } as const;

  app.get('/calendars', { config, schema: { response: { 200: feedList } } }, async (request) => ({
    items: (await logbook.read(listFeeds)).filter((one) => isFor(request, one)).map(onWire),
  }));

  app.post(
    '/calendars',
    { config: { ...config, keyless: true }, schema: { body: feedBody, response: { 201: feedMade } } },
    async (request, reply) => {
      const token = newToken();
      const { label } = request.body;
      const { body } = await logbook.write(editing(request), async ({ trx, at, actor, journal }) => {
        const personId = request.person?.id ?? '';
        const own = (await listFeeds(trx)).filter((one) => one.personId === personId && one.endedAt === null);
        if (own.length >= MOST_RUNNING)
          throw new Problem('state-conflict', { detail: `You have ${MOST_RUNNING} calendars. End one first.` });
        const id = newId();
        const made = { id, tokenHash: hashOf(token), label, personId, recordedAt: at, recordedBy: actor };
        await insertFeed(trx, { ...made, endedAt: null });
        journal({ act: 'calendar-made', object: `calendar/${id}`, before: null, after: { label } });
        return { status: 201, body: { id, label, path: `/api/due/${token}/calendar.ics` } };
      });
      await desk.reload();
      logged(request, 'keys-changed', { actor: request.actor, act: 'calendar-made', key: label });
      return reply.status(201).send(body);
    },
  );

  app.post('/calendars/:id/ending', { config, schema: { params, response: { 200: feed } } }, async (request) => {
    const { body } = await logbook.write(editing(request), async ({ trx, at, journal }) => {
      const stored = (await listFeeds(trx)).find((one) => one.id === request.params.id);
      if (!stored || !isFor(request, stored)) throw notFound('calendar');
      if (stored.endedAt !== null) throw new Problem('state-conflict', { detail: 'This calendar ended already.' });
      await endFeed(trx, stored.id, at);
      journal({ act: 'calendar-ended', object: `calendar/${stored.id}`, before: null, after: null });
      return { status: 200, body: onWire({ ...stored, endedAt: at }) };
    });
    await desk.reload();
    logged(request, 'keys-changed', { actor: request.actor, act: 'calendar-ended', key: body.label });
    return body;
  });
};
