import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { limitText } from './view-basis.ts';
import type { Logbook } from '../db/logbook.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import type { ToleranceRow } from '../metrology/tolerance.ts';
import { EVERYONE, KEEPER } from '../people/access.ts';
import { invalid } from '../problem.ts';
import { creating, send } from '../requests.ts';
import { confirmation, confirmationBody, confirmationList, type ConfirmationBody } from './contract.ts';
import { insertConfirmation, listConfirmations } from './store.ts';

const numberOrNull = (text: string | null): number | null => (text === null ? null : Number(text));

const rowNamed = (body: ConfirmationBody): ToleranceRow | undefined =>
  toleranceRows.find(
    (row) =>
      row.standard === body.standard &&
      row.edition === body.edition &&
      row.kind === body.kind &&
      row.class === body.class &&
      row.nominalMl === numberOrNull(body.nominalVolumeMl) &&
      row.divisionMl === numberOrNull(body.divisionMl),
  );

/**
 * Rows of the tolerance table that were not read in the standard may judge, but a keeper who has the standard at hand
 * can say that the value is right: edition, where it was seen, who, when.
 */
export const toleranceRoutes: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.get(
    '/tolerances/confirmations',
    { config: { access: EVERYONE }, schema: { response: { 200: confirmationList } } },
    async () => logbook.read(async (db) => ({ items: await listConfirmations(db) })),
  );

  app.post(
    '/tolerances/confirmations',
    { config: { access: KEEPER }, schema: { body: confirmationBody, response: { 201: confirmation } } },
    async (request, reply) => {
      const { body } = request;
      const row = rowNamed(body);
      if (!row) throw invalid([{ pointer: '#/standard', detail: 'There is no such row in the tolerance table.' }]);
      const answer = await logbook.write(creating(request), async ({ trx, at, actor, journal }) => {
        const { standard, edition, kind, whereSeen } = body;
        const given = {
          standard,
          edition,
          kind,
          class: body.class,
          nominalVolumeMl: row.nominalMl,
          divisionMl: row.divisionMl,
          limit: limitText(row),
          whereSeen,
          at,
          by: actor,
        };
        await insertConfirmation(trx, given);
        journal({
          act: 'tolerance-confirmed',
          object: `tolerance/${[standard, edition, kind, body.class, row.nominalMl ?? '', row.divisionMl ?? ''].join('|')}`,
          before: null,
          after: { ...body, limit: given.limit },
        });
        return { status: 201, body: given };
      });
      return send(reply, answer);
    },
  );
};
