import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { localDay } from '../clock.ts';
import type { Logbook } from '../db/logbook.ts';
import { BENCH, EVERYONE } from '../people/access.ts';
import { creating, send } from '../requests.ts';
import { mappings, oldSheetBody, oldSheetPreview, oldSheetTaken } from './contract.ts';
import { listMappings } from './store.ts';
import { judgeList, previewOf, takeOverList } from './taking.ts';

interface OldSheetOptions {
  logbook: Logbook;
  clock: () => Date;
}

/** Readings from paper, shown before they are taken over, and marked as such for ever. */
export const oldSheetRoutes: FastifyPluginAsyncZod<OldSheetOptions> = async (app, { logbook, clock }) => {
  app.post(
    '/old-sheets',
    {
      config: { access: BENCH },
      schema: { body: oldSheetBody, response: { 200: oldSheetPreview, 201: oldSheetTaken } },
    },
    async (request, reply) => {
      const body = request.body;
      const today = localDay(clock());
      if (body.dryRun)
        return reply.code(200).send(await logbook.read(async (db) => previewOf(await judgeList(db, body, today))));
      const asked = creating(request);
      const answer = await logbook.write(asked, async (writing) => ({
        status: 201,
        body: await takeOverList(writing, body, asked.key.value, today),
      }));
      return send(reply, answer);
    },
  );

  app.get(
    '/old-sheets/mappings',
    { config: { access: EVERYONE }, schema: { response: { 200: mappings } } },
    async () => ({ items: await logbook.read(listMappings) }),
  );
};
