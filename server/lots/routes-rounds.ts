import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { conditionsBody } from '../calibrations/contract.ts';
import { localDay } from '../clock.ts';
import type { Logbook } from '../db/logbook.ts';
import { BENCH, EVERYONE } from '../people/access.ts';
import { notFound } from '../problem.ts';
import { creating, send } from '../requests.ts';
import { id } from '../wire.ts';
import {
  round,
  roundBody,
  roundCreated,
  roundMeasuredBody,
  roundMoved,
  zeroCheckBody,
  zeroChecked,
} from './contract-round.ts';
import { beginRound, checkZero, finishRound, readRoundConditions, roundOf } from './rounds.ts';
import { findRound } from './store-rounds.ts';
import { findLot } from './store.ts';
import { roundOnWire } from './view-round.ts';

const ofLot = z.object({ id });
const ofRound = z.object({
  id,
  number: z
    .string()
    .regex(/^[1-9]\d{0,3}$/)
    .transform(Number),
});

export const roundRoutes: FastifyPluginAsyncZod<{ logbook: Logbook; clock: () => Date }> = async (
  app,
  { logbook, clock },
) => {
  app.post(
    '/lots/:id/rounds',
    { config: { access: BENCH }, schema: { params: ofLot, body: roundBody, response: { 201: roundCreated } } },
    async (request, reply) => {
      const answer = await logbook.write(creating(request), async (writing) => {
        const lot = await findLot(writing.trx, request.params.id);
        if (!lot) throw notFound('lot');
        const body = await beginRound(writing, lot, request.body, localDay(clock()));
        return { status: 201, body };
      });
      return send(reply, answer);
    },
  );

  app.get(
    '/lots/:id/rounds/:number',
    { config: { access: EVERYONE }, schema: { params: ofRound, response: { 200: round } } },
    async (request) =>
      logbook.read(async (db) => {
        const lot = await findLot(db, request.params.id);
        const found = lot && (await findRound(db, lot.id, request.params.number));
        if (!found) throw notFound('round of a lot');
        return roundOnWire(db, lot, found);
      }),
  );

  app.post(
    '/lots/:id/rounds/:number/conditions',
    { config: { access: BENCH }, schema: { params: ofRound, body: conditionsBody, response: { 201: roundMoved } } },
    async (request, reply) => {
      const { id: lotId, number } = request.params;
      const answer = await logbook.write(creating(request), async (writing) => {
        const calibrations = await readRoundConditions(writing, await roundOf(writing, lotId, number), request.body);
        return { status: 201, body: { calibrations } };
      });
      return send(reply, answer);
    },
  );

  app.post(
    '/lots/:id/rounds/:number/measured',
    { config: { access: BENCH }, schema: { params: ofRound, body: roundMeasuredBody, response: { 201: roundMoved } } },
    async (request, reply) => {
      const { id: lotId, number } = request.params;
      const answer = await logbook.write(creating(request), async (writing) => {
        const found = await roundOf(writing, lotId, number);
        return { status: 201, body: { calibrations: await finishRound(writing, found, request.body.vesselIds) } };
      });
      return send(reply, answer);
    },
  );

  app.post(
    '/lots/:id/rounds/:number/zero-checks',
    { config: { access: BENCH }, schema: { params: ofRound, body: zeroCheckBody, response: { 201: zeroChecked } } },
    async (request, reply) => {
      const { id: lotId, number } = request.params;
      const answer = await logbook.write(creating(request), async (writing) => {
        const found = await roundOf(writing, lotId, number);
        return { status: 201, body: { number: await checkZero(writing, found, request.body) } };
      });
      return send(reply, answer);
    },
  );
};
