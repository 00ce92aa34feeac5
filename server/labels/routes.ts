import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { Logbook, Reading } from '../db/logbook.ts';
import { findLot, vesselsOfLots } from '../lots/store.ts';
import { EVERYONE } from '../people/access.ts';
import { invalid, notFound } from '../problem.ts';
import { labelChoice, labelList, labelQuery, MOST_LABELS, type LabelChoice } from './contract.ts';
import { sheetOf, sheetRefusals } from './view-sheet.ts';
import { labelsOf } from './view.ts';

const PDF = 'application/pdf';

/** Ids of the vessels asked for, those of a lot in the order of their tags. */
const vesselIds = async (db: Reading, { vessels, lot }: LabelChoice): Promise<string[]> => {
  if (lot === undefined) return vessels ?? [];
  if (!(await findLot(db, lot))) throw notFound('lot');
  return (await vesselsOfLots(db, [lot])).map(({ id }) => id).slice(0, MOST_LABELS);
};

/** Sheets of labels. They are made anew at each request and kept nowhere. */
export const labelRoutes: FastifyPluginAsyncZod<{ logbook: Logbook; clock: () => Date }> = async (app, options) => {
  const { logbook, clock } = options;
  app.get(
    '/labels',
    { config: { access: EVERYONE }, schema: { querystring: labelChoice, response: { 200: labelList } } },
    async ({ query }) => logbook.read(async (db) => ({ items: await labelsOf(db, await vesselIds(db, query)) })),
  );

  app.get(
    '/labels.pdf',
    { config: { access: EVERYONE }, schema: { querystring: labelQuery, produces: [PDF] } },
    async (request, reply) => {
      const { query } = request;
      const refusals = sheetRefusals(query);
      if (refusals.length > 0) throw invalid(refusals);
      const labels = await logbook.read(async (db) => labelsOf(db, await vesselIds(db, query)));
      if (labels.length === 0) throw notFound('vessel');
      return reply
        .type(PDF)
        .header('content-disposition', 'inline; filename="labels.pdf"')
        .send(await sheetOf(query, labels, clock()));
    },
  );
};
