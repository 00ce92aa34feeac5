import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { Logbook } from '../db/logbook.ts';
import { EVERYONE } from '../people/access.ts';
import { notFound } from '../problem.ts';
import { id } from '../wire.ts';
import { termQuery } from './contract.ts';
import { makePdf } from './pdf/making.ts';
import { historyOf, termOf } from './view-summaries.ts';

const PDF = 'application/pdf';

/** Summaries on paper. They are made anew at each request and kept nowhere. */
export const summaryRoutes: FastifyPluginAsyncZod<{ logbook: Logbook; clock: () => Date }> = async (app, options) => {
  const { logbook, clock } = options;
  app.get(
    '/vessels/:id/history.pdf',
    { config: { access: EVERYONE }, schema: { params: z.object({ id }), produces: [PDF] } },
    async (request, reply) => {
      const input = await logbook.read((db) => historyOf(db, request.params.id, clock()));
      if (input === null) throw notFound('vessel');
      return reply
        .type(PDF)
        .header('content-disposition', 'inline; filename="history.pdf"')
        .send(await makePdf({ kind: 'history', input }));
    },
  );

  app.get(
    '/terms/summary.pdf',
    { config: { access: EVERYONE }, schema: { querystring: termQuery, produces: [PDF] } },
    async (request, reply) => {
      const input = await logbook.read((db) => termOf(db, request.query, clock()));
      return reply
        .type(PDF)
        .header('content-disposition', `inline; filename="term-${input.from}-${input.to}.pdf"`)
        .send(await makePdf({ kind: 'term', input }));
    },
  );
};
