import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { localDay } from '../clock.ts';
import type { Logbook } from '../db/logbook.ts';
import { withoutGaps } from '../journal/values.ts';
import { BENCH } from '../people/access.ts';
import { invalid, notFound } from '../problem.ts';
import { creating, send } from '../requests.ts';
import { id } from '../wire.ts';
import { instrumentCheck, instrumentCheckBody, type InstrumentKind } from './contract.ts';
import { checksOf, findInstrument, insertCheck } from './store.ts';
import { checkOnWire } from './view.ts';

const UNITS: Record<InstrumentKind, string> = { balance: 'g', thermometer: '°C', barometer: 'hPa', hygrometer: '%' };

/** Checks between certificates: a check weight on a balance, an ice point, a neighbour's barometer. */
export const checkRoute: FastifyPluginAsyncZod<{ logbook: Logbook; clock: () => Date }> = async (app, options) => {
  const { logbook, clock } = options;
  app.post(
    '/instruments/:id/checks',
    {
      config: { access: BENCH },
      schema: { params: z.object({ id }), body: instrumentCheckBody, response: { 201: instrumentCheck } },
    },
    async (request, reply) => {
      const { referenceValue, reading, performedOn, note } = request.body;
      const answer = await logbook.write(creating(request), async ({ trx, at, actor, journal }) => {
        const instrument = await findInstrument(trx, request.params.id);
        if (!instrument) throw notFound('instrument');
        const today = localDay(clock());
        if (performedOn !== undefined && performedOn > today)
          throw invalid([
            { pointer: '#/performedOn', detail: `${performedOn} lies in the future; today is ${today}.` },
          ]);
        const [last] = await checksOf(trx, instrument.id);
        const check = {
          number: (last?.number ?? 0) + 1,
          performedOn: performedOn ?? today,
          referenceValue,
          reading,
          unit: UNITS[instrument.facts.kind],
          note: note || null,
          at,
          by: actor,
        };
        await insertCheck(trx, instrument.id, check);
        journal({
          act: 'instrument-checked',
          object: `instrument/${instrument.id}`,
          before: null,
          after: withoutGaps({
            ...request.body,
            number: check.number,
            performedOn: check.performedOn,
            unit: check.unit,
          }),
        });
        return { status: 201, body: checkOnWire(check) };
      });
      return send(reply, answer);
    },
  );
};
