import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { Logbook } from '../db/logbook.ts';
import { EVERYONE } from '../people/access.ts';
import { notFound } from '../problem.ts';
import { experimentParams } from './contract.ts';
import { dataTable } from './papers/data-table.ts';
import { findExperiment } from './store.ts';
import { shownDataOf } from './view-papers.ts';

const CSV = 'text/csv';

/** What a class takes away. Made anew at each request and kept nowhere. */
export const paperRoutes: FastifyPluginAsyncZod<{ logbook: Logbook; clock: () => Date }> = async (app, options) => {
  const { logbook } = options;
  app.get(
    '/experiments/:id/data.csv',
    { config: { access: EVERYONE }, schema: { params: experimentParams, produces: [CSV] } },
    async (request, reply) => {
      const data = await logbook.read(async (db) => {
        const stored = await findExperiment(db, request.params.id);
        if (!stored) throw notFound('experiment');
        return shownDataOf(db, stored);
      });
      return reply
        .type(`${CSV}; charset=utf-8; header=present`)
        .header('content-disposition', `attachment; filename="class-${data.id}.csv"`)
        .send(dataTable(data));
    },
  );
};
