import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { z } from 'zod';
import { RECORDS } from '../people/access.ts';
import { invalid, Problem } from '../problem.ts';
import { exportPlan, exportProgress, exportQuery, planQuery, progressParams } from './contract.ts';
import type { Exporting } from './exporting.ts';
import type { Filter } from './selection.ts';

const filterOf = ({ vessel, lot, from, to }: z.infer<typeof planQuery>): Filter => ({
  vessel: vessel ?? null,
  lot: lot ?? null,
  from: from ?? null,
  to: to ?? null,
});

/** Taking the logbook away: what it would hold, the zip itself, and how far it has come. */
export const exportRoutes: FastifyPluginAsyncZod<{ exporting: Exporting; clock: () => Date }> = async (
  app,
  options,
) => {
  const { exporting, clock } = options;
  const refuseUnknown = (filter: Filter): void => {
    const unknown = exporting.unknownIn(filter);
    if (unknown === 'vessel')
      throw invalid([{ pointer: '#/vessel', detail: `No vessel bears the tag ${filter.vessel}, or ever did.` }]);
    if (unknown === 'lot') throw invalid([{ pointer: '#/lot', detail: `No lot has the name ${filter.lot}.` }]);
  };

  app.get(
    '/export/plan',
    { config: { access: RECORDS }, schema: { querystring: planQuery, response: { 200: exportPlan } } },
    async ({ query }) => {
      const filter = filterOf(query);
      refuseUnknown(filter);
      return exporting.plan(filter, query.certificates === 'true');
    },
  );

  app.get(
    '/export/progress/:token',
    { config: { access: RECORDS }, schema: { params: progressParams, response: { 200: exportProgress } } },
    async (request) => exporting.progress(request.params.token),
  );

  app.get(
    '/export',
    { config: { access: RECORDS }, schema: { querystring: exportQuery, produces: ['application/zip'] } },
    async (request, reply) => {
      const { watch = null, ...query } = request.query;
      const filter = filterOf(query);
      refuseUnknown(filter);
      const at = clock();
      reply
        .type('application/zip')
        .header(
          'content-disposition',
          `attachment; filename="tarebook-${at.toISOString().replaceAll(/[:.]/g, '-')}.zip"`,
        );
      // Whoever asks only whether there is one gets no thread.
      if (request.method === 'HEAD') return reply.send('');
      if (exporting.isBusy)
        throw new Problem('state-conflict', { detail: 'Two exports are being made already. Wait until one is whole.' });
      return reply.send(
        exporting.begin(
          {
            filter,
            certificates: query.certificates === 'true',
            workbook: query.workbook === 'true',
            at,
          },
          watch,
        ),
      );
    },
  );
};
