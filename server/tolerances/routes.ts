import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { Logbook } from '../db/logbook.ts';
import { EVERYONE, KEEPER } from '../people/access.ts';
import { invalid } from '../problem.ts';
import { creating, send } from '../requests.ts';
import { confirmation, confirmationBody, confirmationList } from './contract.ts';
import { confirmTolerance, rowNamed } from './confirming.ts';
import { listConfirmations } from './store.ts';

/**
 * Rows of the tolerance table that were not read in the standard may judge, but a keeper who has the standard at hand
 * can say that the value is right: edition, where it was seen, who, when.
 */
export const toleranceRoutes: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.get(
    '/tolerances/confirmations',
    { config: { access: EVERYONE }, schema: { response: { 200: confirmationList } } },
    async () => logbook.read(async (db) => ({ items: await listConfirmations(db) })),
  );

  app.post(
    '/tolerances/confirmations',
    { config: { access: KEEPER }, schema: { body: confirmationBody, response: { 201: confirmation } } },
    async (request, reply) => {
      const { body } = request;
      const row = rowNamed(body);
      if (!row) throw invalid([{ pointer: '#/standard', detail: 'There is no such row in the tolerance table.' }]);
      const answer = await logbook.write(creating(request), async (writing) => ({
        status: 201,
        body: await confirmTolerance(writing, row, body.whereSeen),
      }));
      return send(reply, answer);
    },
  );
};
