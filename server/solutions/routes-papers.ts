import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { makePdf } from '../certificates/pdf/making.ts';
import { summaryHead } from '../certificates/view-summaries.ts';
import { localDay } from '../clock.ts';
import type { Logbook } from '../db/logbook.ts';
import { EVERYONE } from '../people/access.ts';
import { notFound } from '../problem.ts';
import { id } from '../wire.ts';
import type { PreparationPaper } from './papers/facts.ts';
import { findPreparation } from './store.ts';
import { preparationOnWire } from './view.ts';

interface PaperOptions {
  logbook: Logbook;
  clock: () => Date;
}

const PDF = 'application/pdf';
const params = z.object({ id });
const schema = { params, produces: [PDF] };

/** Label and sheet of a solution. They are made anew at each request and kept nowhere. */
export const preparationPaperRoutes: FastifyPluginAsyncZod<PaperOptions> = async (app, { logbook, clock }) => {
  const inputOf = (preparationId: string): Promise<PreparationPaper> =>
    logbook.read(async (db) => {
      const stored = await findPreparation(db, preparationId);
      if (!stored) throw notFound('preparation');
      const now = clock();
      return { ...(await summaryHead(db, now)), preparation: await preparationOnWire(db, stored, localDay(now)) };
    });

  app.get('/preparations/:id/label.pdf', { config: { access: EVERYONE }, schema }, async (request, reply) => {
    const input = await inputOf(request.params.id);
    return reply
      .type(PDF)
      .header('content-disposition', `inline; filename="${input.preparation.number}-label.pdf"`)
      .send(await makePdf({ kind: 'preparation-label', input }));
  });

  app.get('/preparations/:id/sheet.pdf', { config: { access: EVERYONE }, schema }, async (request, reply) => {
    const input = await inputOf(request.params.id);
    return reply
      .type(PDF)
      .header('content-disposition', `inline; filename="${input.preparation.number}.pdf"`)
      .send(await makePdf({ kind: 'preparation-sheet', input }));
  });
};
