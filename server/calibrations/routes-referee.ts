import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { randomInt } from 'node:crypto';
import { z } from 'zod';
import type { Logbook } from '../db/logbook.ts';
import { sameDecimal } from '../metrology/decimal.ts';
import { EVERYONE } from '../people/access.ts';
import { invalid, notFound } from '../problem.ts';
import { id } from '../wire.ts';
import { refereeReply } from './contract-result.ts';
import { refereeBody } from './contract.ts';
import { askReferee } from './referee.ts';
import { findForResult } from './store-pool.ts';

const LARGEST_SEED = 2 ** 31 - 1;

/** Draws the whole model of one point with a named seed; the same seed gives the same answer. Nothing is stored. */
export const refereeRoute: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.post(
    '/calibrations/:id/referee',
    {
      config: { access: EVERYONE },
      schema: { params: z.object({ id }), body: refereeBody, response: { 200: refereeReply } },
    },
    async (request) => {
      const { pointMl } = request.body;
      const stored = await logbook.read((db) => findForResult(db, request.params.id));
      if (!stored) throw notFound('calibration');
      const index = stored.record.points.findIndex((point) => sameDecimal(point, pointMl));
      if (index < 0)
        throw invalid([{ pointer: '#/pointMl', detail: `${pointMl} mL is not a test point of this calibration.` }]);
      const seed = request.body.seed ?? randomInt(LARGEST_SEED);
      const result = await askReferee(stored.record, index, seed);
      if (!result) throw invalid([{ pointer: '#/pointMl', detail: `No trial counts at ${pointMl} mL yet.` }]);
      return { pointMl, seed, ...result };
    },
  );
};
