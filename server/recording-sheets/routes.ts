import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { Logbook } from '../db/logbook.ts';
import { chosenVessels } from '../labels/view-choice.ts';
import { EVERYONE } from '../people/access.ts';
import { recordingSheetQuery } from './contract.ts';
import { setSheets, sheetInput } from './view.ts';

const PDF = 'application/pdf';

/** Blank sheets for the bench. They are made anew at each request and kept nowhere. */
export const recordingSheetRoutes: FastifyPluginAsyncZod<{ logbook: Logbook; clock: () => Date }> = async (
  app,
  { logbook, clock },
) => {
  app.get(
    '/recording-sheets.pdf',
    { config: { access: EVERYONE }, schema: { querystring: recordingSheetQuery, produces: [PDF] } },
    async ({ query }, reply) => {
      const input = await logbook.read(async (db) => sheetInput(db, query, await chosenVessels(db, query), clock()));
      return reply
        .type(PDF)
        .header('content-disposition', 'inline; filename="recording-sheets.pdf"')
        .send(await setSheets(input));
    },
  );
};
