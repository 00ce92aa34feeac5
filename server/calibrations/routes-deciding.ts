import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { Logbook } from '../db/logbook.ts';
import { decisionBody, decisionSaved } from '../glassware/contract-decisions.ts';
import { BENCH } from '../people/access.ts';
import { creating, send } from '../requests.ts';
import { id } from '../wire.ts';
import { decide } from './deciding.ts';

export const decidingRoute: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.post(
    '/vessels/:id/decisions',
    {
      config: { access: BENCH },
      schema: { params: z.object({ id }), body: decisionBody, response: { 201: decisionSaved } },
    },
    async (request, reply) => {
      const answer = await logbook.write(creating(request), async (writing) => ({
        status: 201,
        body: await decide(writing, request.params.id, request.body),
      }));
      return send(reply, answer);
    },
  );
};
