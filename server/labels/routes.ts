import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { Logbook } from '../db/logbook.ts';
import { EVERYONE } from '../people/access.ts';
import { invalid, notFound } from '../problem.ts';
import { labelChoice, labelList, labelQuery } from './contract.ts';
import { chosenVessels } from './view-choice.ts';
import { sheetOf, sheetRefusals } from './view-sheet.ts';
import { labelsOf } from './view.ts';

const PDF = 'application/pdf';

/** Sheets of labels. They are made anew at each request and kept nowhere. */
export const labelRoutes: FastifyPluginAsyncZod<{ logbook: Logbook; clock: () => Date }> = async (app, options) => {
  const { logbook, clock } = options;
  app.get(
    '/labels',
    { config: { access: EVERYONE }, schema: { querystring: labelChoice, response: { 200: labelList } } },
    async ({ query }) => logbook.read(async (db) => ({ items: await labelsOf(db, await chosenVessels(db, query)) })),
  );

  app.get(
    '/labels.pdf',
    { config: { access: EVERYONE }, schema: { querystring: labelQuery, produces: [PDF] } },
    async (request, reply) => {
      const { query } = request;
      const refusals = sheetRefusals(query);
      if (refusals.length > 0) throw invalid(refusals);
      const labels = await logbook.read(async (db) => labelsOf(db, await chosenVessels(db, query)));
      if (labels.length === 0) throw notFound('vessel');
      return reply
        .type(PDF)
        .header('content-disposition', 'inline; filename="labels.pdf"')
        .send(await sheetOf(query, labels, clock()));
    },
  );
};
