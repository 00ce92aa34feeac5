import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { localDay } from '../clock.ts';
import type { Logbook } from '../db/logbook.ts';
import { findVessel } from '../glassware/store.ts';
import { findInstrument } from '../instruments/store.ts';
import { EVERYONE, PREPARING } from '../people/access.ts';
import { notFound } from '../problem.ts';
import { creating, decodeCursor, encodeCursor, send } from '../requests.ts';
import { id } from '../wire.ts';
import {
  decisionBody,
  decisionSaved,
  endBody,
  preparation,
  preparationBody,
  preparationCreated,
  preparationPage,
  preparationQuery,
  touchedList,
} from './contract-record.ts';
import { touchedByInstrument, touchedByVessel } from './looking-forward.ts';
import { decidePreparation, endPreparation, recordPreparation } from './recording.ts';
import { findPreparation, listPreparations } from './store.ts';
import { listItemsOf, preparationOnWire } from './view.ts';

export interface RecordRoutesOptions {
  logbook: Logbook;
  clock: () => Date;
}

const params = z.object({ id });

const reading: FastifyPluginAsyncZod<RecordRoutesOptions> = async (app, { logbook, clock }) => {
  app.get(
    '/preparations',
    { config: { access: EVERYONE }, schema: { querystring: preparationQuery, response: { 200: preparationPage } } },
    async (request) => {
      const { shelf, search, cursor, limit } = request.query;
      const [recordedAt = '', lastId = ''] = cursor === undefined ? [] : decodeCursor(cursor, 2);
      const after = cursor === undefined ? undefined : { recordedAt, id: lastId };
      return logbook.read(async (db) => {
        const found = await listPreparations(db, { search, onShelf: shelf === 'on', after, limit: limit + 1 });
        const items = await listItemsOf(db, found.slice(0, limit), localDay(clock()));
        const last = items.at(-1);
        return { items, next: found.length > limit && last ? encodeCursor([last.recordedAt, last.id]) : null };
      });
    },
  );

  app.get(
    '/preparations/:id',
    { config: { access: EVERYONE }, schema: { params, response: { 200: preparation } } },
    async (request) =>
      logbook.read(async (db) => {
        const stored = await findPreparation(db, request.params.id);
        if (!stored) throw notFound('preparation');
        return preparationOnWire(db, stored, localDay(clock()));
      }),
  );
};

/** What to look at again when a vessel or an instrument is found wrong. */
const lookingForward: FastifyPluginAsyncZod<RecordRoutesOptions> = async (app, { logbook, clock }) => {
  app.get(
    '/vessels/:id/preparations',
    { config: { access: EVERYONE }, schema: { params, response: { 200: touchedList } } },
    async (request) =>
      logbook.read(async (db) => {
        const vessel = await findVessel(db, request.params.id);
        if (!vessel) throw notFound('vessel');
        return touchedByVessel(db, vessel, localDay(clock()));
      }),
  );

  app.get(
    '/instruments/:id/preparations',
    { config: { access: EVERYONE }, schema: { params, response: { 200: touchedList } } },
    async (request) =>
      logbook.read(async (db) => {
        const instrument = await findInstrument(db, request.params.id);
        if (!instrument) throw notFound('instrument');
        return touchedByInstrument(db, instrument, localDay(clock()));
      }),
  );
};

const writing: FastifyPluginAsyncZod<RecordRoutesOptions> = async (app, { logbook, clock }) => {
  app.post(
    '/preparations',
    { config: { access: PREPARING }, schema: { body: preparationBody, response: { 201: preparationCreated } } },
    async (request, reply) => {
      const answer = await logbook.write(creating(request), async (one) => ({
        status: 201,
        body: await recordPreparation(one, request.body),
      }));
      return send(reply, answer);
    },
  );

  app.post(
    '/preparations/:id/end',
    { config: { access: PREPARING }, schema: { params, body: endBody, response: { 201: preparation } } },
    async (request, reply) => {
      const answer = await logbook.write(creating(request), async (one) => {
        await endPreparation(one, request.params.id, request.body);
        const stored = await findPreparation(one.trx, request.params.id);
        if (!stored) throw notFound('preparation');
        return { status: 201, body: await preparationOnWire(one.trx, stored, localDay(clock())) };
      });
      return send(reply, answer);
    },
  );

  app.post(
    '/preparations/:id/decisions',
    { config: { access: PREPARING }, schema: { params, body: decisionBody, response: { 201: decisionSaved } } },
    async (request, reply) => {
      const answer = await logbook.write(creating(request), async (one) => ({
        status: 201,
        body: await decidePreparation(one, request.params.id, request.body),
      }));
      return send(reply, answer);
    },
  );
};

export const recordRoutes: FastifyPluginAsyncZod<RecordRoutesOptions> = async (app, options) => {
  await reading(app, options);
  await lookingForward(app, options);
  await writing(app, options);
};
