import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { summariesOfVessel } from '../calibrations/view-strip.ts';
import type { Logbook } from '../db/logbook.ts';
import { BENCH, EVERYONE } from '../people/access.ts';
import { notFound } from '../problem.ts';
import {
  creating,
  decodeCursor,
  editing,
  encodeCursor,
  expectedVersion,
  newId,
  requireVersion,
  send,
} from '../requests.ts';
import { id } from '../wire.ts';
import { fieldChanges } from './change.ts';
import { vessel, vesselBody, vesselChange, vesselPage, vesselQuery, vesselWithHistory } from './contract.ts';
import { correctVessel } from './correct.ts';
import { registerVessel } from './register.ts';
import { dueOf } from './store-due.ts';
import { decisionsOf } from './store-decisions.ts';
import { findVessel, listVessels, revisionsOf, tagsOf } from './store.ts';
import { listItems, vesselOnWire } from './view.ts';

const params = z.object({ id });

const registering: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.post(
    '/vessels',
    { config: { access: BENCH }, schema: { body: vesselBody, response: { 201: vessel } } },
    async (request, reply) => {
      const body = request.body;
      const answer = await logbook.write(creating(request), async (writing) => {
        const stored = await registerVessel(writing, body, newId());
        return { status: 201, body: vesselOnWire(stored, []) };
      });
      return send(reply, answer);
    },
  );
};

const reading: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.get(
    '/vessels',
    { config: { access: EVERYONE }, schema: { querystring: vesselQuery, response: { 200: vesselPage } } },
    async (request) => {
      const { search, kind, inUse, dueBy, cursor, limit } = request.query;
      const after = cursor === undefined ? [] : decodeCursor(cursor, dueBy === undefined ? 1 : 2);
      return logbook.read(async (db) => {
        const found = await listVessels(db, {
          search,
          kind,
          inUse: inUse === undefined ? undefined : inUse === 'true',
          dueBy,
          afterTag: after[0],
          afterDue: after[1],
          limit: limit + 1,
        });
        const items = await listItems(db, found.slice(0, limit));
        const last = items.at(-1);
        const place = last === undefined ? null : dueBy === undefined ? [last.tag] : [last.tag, last.dueOn ?? ''];
        return { items, next: found.length > limit && place ? encodeCursor(place) : null };
      });
    },
  );

  app.get(
    '/vessels/:id',
    { config: { access: EVERYONE }, schema: { params, response: { 200: vesselWithHistory } } },
    async (request) =>
      logbook.read(async (db) => {
        const revisions = await revisionsOf(db, request.params.id);
        const present = revisions.at(-1);
        if (!present) throw notFound('vessel');
        const tags = (await tagsOf(db, [present.id])).get(present.id) ?? [];
        return {
          ...vesselOnWire(present, tags),
          dueOn: await dueOf(db, present.id),
          calibrations: await summariesOfVessel(db, present.id),
          decisions: (await decisionsOf(db, [present.id])).get(present.id) ?? [],
          revisions: revisions.map((revision, index) => {
            const before = revisions[index - 1];
            return {
              version: revision.version,
              at: revision.recordedAt,
              by: revision.recordedBy,
              reason: revision.reason,
              changed: before ? fieldChanges(before, revision) : [],
            };
          }),
        };
      }),
  );
};

/** An identity put right, with the reason. */
const correcting: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.patch(
    '/vessels/:id',
    { config: { access: BENCH }, schema: { params, body: vesselChange, response: { 200: vessel } } },
    async (request, reply) => {
      const expected = expectedVersion(request);
      const change = request.body;
      const answer = await logbook.write(editing(request), async (writing) => {
        const { trx } = writing;
        const present = await findVessel(trx, request.params.id);
        if (!present) throw notFound('vessel');
        const earlierTags = (await tagsOf(trx, [present.id])).get(present.id) ?? [];
        requireVersion(expected, present.version, vesselOnWire(present, earlierTags));
        const stored = await correctVessel(writing, present, change);
        const tags = (await tagsOf(trx, [stored.id])).get(stored.id) ?? [];
        return { status: 200, body: vesselOnWire(stored, tags) };
      });
      return send(reply, answer);
    },
  );
};

export const glasswareRoutes: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, options) => {
  await registering(app, options);
  await reading(app, options);
  await correcting(app, options);
};
