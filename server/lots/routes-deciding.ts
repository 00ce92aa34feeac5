import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { Logbook } from '../db/logbook.ts';
import type { Writing } from '../db/write.ts';
import { BENCH } from '../people/access.ts';
import { notFound } from '../problem.ts';
import { creating, send } from '../requests.ts';
import { id } from '../wire.ts';
import { lotDecisionBody, lotDecisionSaved, vesselDecisionsBody, vesselDecisionsSaved } from './contract-decision.ts';
import { decideLot, decideVessels } from './deciding.ts';
import { findLot, type StoredLot } from './store.ts';

const params = z.object({ id });

const lotNamed = async ({ trx }: Writing, lotId: string): Promise<StoredLot> => {
  const lot = await findLot(trx, lotId);
  if (!lot) throw notFound('lot');
  return lot;
};

export const decidingRoutes: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.post(
    '/lots/:id/decisions',
    { config: { access: BENCH }, schema: { params, body: lotDecisionBody, response: { 201: lotDecisionSaved } } },
    async (request, reply) => {
      const answer = await logbook.write(creating(request), async (writing) => {
        const lot = await lotNamed(writing, request.params.id);
        return { status: 201, body: await decideLot(writing, lot, request.body) };
      });
      return send(reply, answer);
    },
  );

  app.post(
    '/lots/:id/vessel-decisions',
    {
      config: { access: BENCH },
      schema: { params, body: vesselDecisionsBody, response: { 201: vesselDecisionsSaved } },
    },
    async (request, reply) => {
      const answer = await logbook.write(creating(request), async (writing) => {
        const lot = await lotNamed(writing, request.params.id);
        return { status: 201, body: await decideVessels(writing, lot, request.body) };
      });
      return send(reply, answer);
    },
  );
};
