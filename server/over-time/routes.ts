import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { Logbook } from '../db/logbook.ts';
import { findVessel } from '../glassware/store.ts';
import { findInstrument, instrumentRevisions } from '../instruments/store.ts';
import { findLot } from '../lots/store.ts';
import type { VesselKind } from '../metrology/record.ts';
import { EVERYONE } from '../people/access.ts';
import { notFound, Problem } from '../problem.ts';
import { decodeCursor, encodeCursor } from '../requests.ts';
import { id } from '../wire.ts';
import {
  dependentPage,
  dependentsQuery,
  distribution,
  distributionQuery,
  instrumentOverTime,
  makerList,
  vesselOverTime,
} from './contract.ts';
import { calibrationsWith, makersWares } from './store.ts';
import { distributionOnWire } from './view-distribution.ts';
import { dependentsOf, instrumentOverTimeOf } from './view-instrument.ts';
import { overTimeOf } from './view-vessel.ts';

const params = z.object({ id });

const ofVessels: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.get(
    '/vessels/:id/over-time',
    { config: { access: EVERYONE }, schema: { params, response: { 200: vesselOverTime } } },
    async (request) =>
      logbook.read(async (db) => {
        const vessel = await findVessel(db, request.params.id);
        if (!vessel) throw notFound('vessel');
        return overTimeOf(db, vessel);
      }),
  );

  app.get(
    '/distribution',
    { config: { access: EVERYONE }, schema: { querystring: distributionQuery, response: { 200: distribution } } },
    async (request) =>
      logbook.read(async (db) => {
        const { lotId } = request.query;
        if (lotId !== undefined && !(await findLot(db, lotId))) throw notFound('lot');
        const found = await distributionOnWire(db, request.query);
        if (found === null) throw new Problem('not-found', { detail: 'This lot has no vessel.' });
        return found;
      }),
  );

  app.get('/makers', { config: { access: EVERYONE }, schema: { response: { 200: makerList } } }, async () =>
    logbook.read(async (db) => ({
      items: (await makersWares(db)).map((ware) => ({ ...ware, kind: ware.kind as VesselKind })),
    })),
  );
};

const ofInstruments: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.get(
    '/instruments/:id/over-time',
    { config: { access: EVERYONE }, schema: { params, response: { 200: instrumentOverTime } } },
    async (request) =>
      logbook.read(async (db) => {
        const revisions = await instrumentRevisions(db, request.params.id);
        const present = revisions.at(-1);
        if (!present) throw notFound('instrument');
        return instrumentOverTimeOf(db, revisions, present);
      }),
  );

  /** Which results to look at again when an instrument is found wrong. */
  app.get(
    '/instruments/:id/dependents',
    {
      config: { access: EVERYONE },
      schema: { params, querystring: dependentsQuery, response: { 200: dependentPage } },
    },
    async (request) =>
      logbook.read(async (db) => {
        const { from, to, cursor, limit } = request.query;
        const instrument = await findInstrument(db, request.params.id);
        if (!instrument) throw notFound('instrument');
        const [performedOn = '', afterId = ''] = cursor === undefined ? [] : decodeCursor(cursor, 2);
        const after = cursor === undefined ? undefined : { performedOn, id: afterId };
        const found = await calibrationsWith(db, instrument.id, { from, to, after, limit: limit + 1 });
        const shown = found.items.slice(0, limit);
        const last = shown.at(-1);
        return {
          items: await dependentsOf(db, instrument.id, shown),
          next: found.items.length > limit && last ? encodeCursor([last.performedOn, last.id]) : null,
          total: found.total,
        };
      }),
  );
};

export const overTimeRoutes: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, options) => {
  await ofVessels(app, options);
  await ofInstruments(app, options);
};
