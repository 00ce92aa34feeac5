import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { Logbook } from '../db/logbook.ts';
import { COMPUTING, EVERYONE } from '../people/access.ts';
import { notFound } from '../problem.ts';
import { id } from '../wire.ts';
import { benchSheetBody } from './contract-bench.ts';
import { Gathering } from './gathering.ts';
import type { PreparationPaper } from './papers/facts.ts';
import { benchSheet, setBenchSheet } from './view-bench.ts';
import { preparationPaper, setLabel, setSheet } from './view-papers.ts';

interface PaperOptions {
  logbook: Logbook;
  clock: () => Date;
}

const PDF = 'application/pdf';
const params = z.object({ id });
const schema = { params, produces: [PDF] };

/** Label and sheet of a solution, and blank sheets for one that is planned: made at each request and kept nowhere. */
export const preparationPaperRoutes: FastifyPluginAsyncZod<PaperOptions> = async (app, { logbook, clock }) => {
  const inputOf = async (preparationId: string): Promise<PreparationPaper> => {
    const input = await logbook.read((db) => preparationPaper(db, preparationId, clock()));
    if (!input) throw notFound('preparation');
    return input;
  };

  app.get('/preparations/:id/label.pdf', { config: { access: EVERYONE }, schema }, async (request, reply) => {
    const input = await inputOf(request.params.id);
    return reply
      .type(PDF)
      .header('content-disposition', `inline; filename="${input.preparation.number}-label.pdf"`)
      .send(await setLabel(input));
  });

  app.get('/preparations/:id/sheet.pdf', { config: { access: EVERYONE }, schema }, async (request, reply) => {
    const input = await inputOf(request.params.id);
    return reply
      .type(PDF)
      .header('content-disposition', `inline; filename="${input.preparation.number}.pdf"`)
      .send(await setSheet(input));
  });

  app.post(
    '/solutions/bench-sheet.pdf',
    { config: { access: COMPUTING }, schema: { body: benchSheetBody, produces: [PDF] } },
    async (request, reply) => {
      const by = { actor: request.actor, now: clock() };
      const input = await logbook.read((db) =>
        benchSheet(new Gathering(db, { ...by, base: '#/plan' }), request.body, by),
      );
      return reply
        .type(PDF)
        .header('content-disposition', 'inline; filename="bench-sheet.pdf"')
        .send(await setBenchSheet(input));
    },
  );
};
