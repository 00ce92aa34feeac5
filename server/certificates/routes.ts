import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { findForResult } from '../calibrations/store-pool.ts';
import type { Logbook } from '../db/logbook.ts';
import { BENCH, EVERYONE } from '../people/access.ts';
import { notFound, Problem } from '../problem.ts';
import { creating, decodeCursor, encodeCursor } from '../requests.ts';
import { certificate, certificateNumber, certificatePage, certificateQuery, rendered } from './contract.ts';
import { fileContent, filesOf } from './store-files.ts';
import { findCertificate, listCertificates } from './store.ts';
import { renderCertificate } from './view-rendering.ts';
import { certificateItem, certificateOnWire } from './view.ts';

const params = z.object({ number: certificateNumber });
const MEDIA = { pdf: 'application/pdf', xml: 'application/xml; charset=utf-8' } as const;

const lists: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  app.get(
    '/certificates',
    { config: { access: EVERYONE }, schema: { querystring: certificateQuery, response: { 200: certificatePage } } },
    async (request) => {
      const { search, state, cursor, limit } = request.query;
      const before = cursor === undefined ? undefined : decodeCursor(cursor, 1)[0];
      const found = await logbook.read((db) => listCertificates(db, { search, state, before, limit: limit + 1 }));
      const shown = found.slice(0, limit);
      const last = shown.at(-1);
      return {
        items: shown.map(certificateItem),
        next: found.length > limit && last ? encodeCursor([last.number]) : null,
      };
    },
  );
};

export const certificateRoutes: FastifyPluginAsyncZod<{ logbook: Logbook }> = async (app, { logbook }) => {
  await lists(app, { logbook });
  app.get(
    '/certificates/:number',
    { config: { access: EVERYONE }, schema: { params, response: { 200: certificate } } },
    async (request) =>
      logbook.read(async (db) => {
        const stored = await findCertificate(db, request.params.number);
        if (!stored) throw notFound('certificate');
        const present = await findForResult(db, stored.calibrationId);
        const files = await filesOf(db, stored.number);
        return certificateOnWire(stored, files, present?.state === 'issued' ? present : null);
      }),
  );

  app.get(
    '/certificates/:number/:format',
    {
      config: { access: EVERYONE },
      schema: { params: params.extend({ format: z.enum(['pdf', 'xml']) }), produces: Object.values(MEDIA) },
    },
    async (request, reply) => {
      const { number, format } = request.params;
      const { known, content } = await logbook.read(async (db) => ({
        known: await findCertificate(db, number),
        content: await fileContent(db, number, format),
      }));
      if (!known) throw notFound('certificate');
      if (content === null)
        throw new Problem('not-found', { detail: `Certificate ${number} has no ${format} yet. Have it made first.` });
      return reply
        .type(MEDIA[format])
        .header('content-disposition', `${format === 'pdf' ? 'inline' : 'attachment'}; filename="${number}.${format}"`)
        .send(content);
    },
  );

  app.post(
    '/certificates/:number/rendering',
    { config: { access: BENCH }, schema: { params, response: { 201: rendered } } },
    async (request, reply) => {
      const { number } = request.params;
      creating(request);
      if (!(await logbook.read((db) => findCertificate(db, number)))) throw notFound('certificate');
      const files = await renderCertificate(logbook, number, { actor: request.actor, requestId: request.id });
      return reply.code(201).send({ number, files });
    },
  );
};
