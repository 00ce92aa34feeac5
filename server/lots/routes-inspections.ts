import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { Logbook } from '../db/logbook.ts';
import { BENCH } from '../people/access.ts';
import { creating, send } from '../requests.ts';
import { id } from '../wire.ts';
import { inspectionBody, inspectionSaved } from './contract.ts';
import { inspect } from './inspecting.ts';

export const inspectionRoutes: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.post(
    '/vessels/:id/inspections',
    {
      config: { access: BENCH },
      schema: { params: z.object({ id }), body: inspectionBody, response: { 201: inspectionSaved } },
    },
    async (request, reply) => {
      const answer = await logbook.write(creating(request), async (writing) => ({
        status: 201,
        body: await inspect(writing, request.params.id, request.body),
      }));
      return send(reply, answer);
    },
  );
};
