import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { Logbook } from '../db/logbook.ts';
import { COMPUTING } from '../people/access.ts';
import { chooseVessel } from './choosing.ts';
import { choiceQuery, choiceReply, seriesBody, seriesReply } from './contract-choice.ts';
import { Gathering } from './gathering.ts';
import { seriesFor } from './planning-series.ts';

interface ChoosingOptions {
  logbook: Logbook;
  clock: () => Date;
}

/** Which vessel to take, and how to dilute with those at hand; nothing is kept. */
export const choosingRoutes: FastifyPluginAsyncZod<ChoosingOptions> = async (app, { logbook, clock }) => {
  app.get(
    '/solutions/choice',
    { config: { access: COMPUTING }, schema: { querystring: choiceQuery, response: { 200: choiceReply } } },
    async (request) => logbook.read((db) => chooseVessel(db, request.query, { actor: request.actor, now: clock() })),
  );

  app.post(
    '/solutions/series',
    { config: { access: COMPUTING }, schema: { body: seriesBody, response: { 200: seriesReply } } },
    async (request) =>
      logbook.read(async (db) => {
        const by = { actor: request.actor, now: clock() };
        return seriesFor(new Gathering(db, by), request.body, by);
      }),
  );
};
