import type { FastifyReply, FastifyRequest } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import type { Logbook, Reading } from '../db/logbook.ts';
import { CLASS_PAPER, EVERYONE } from '../people/access.ts';
import { notFound, Problem } from '../problem.ts';
import { experimentParams } from './contract.ts';
import { reportQuery, worksheetQuery } from './contract-class.ts';
import { dataTable } from './papers/data-table.ts';
import { setReport, setSheet, setWorksheet } from './papers/set.ts';
import { requireOwnExperiment, requireOwnGroup } from './rights.ts';
import { findExperiment, type StoredExperiment } from './store.ts';
import { paperInputOf, shownDataOf } from './view-papers.ts';

interface PaperServices {
  logbook: Logbook;
  clock: () => Date;
}

const CSV = 'text/csv';
const PDF = 'application/pdf';

const storedIn = async (db: Reading, id: string): Promise<StoredExperiment> => {
  const stored = await findExperiment(db, id);
  if (!stored) throw notFound('experiment');
  return stored;
};

const sendPdf = (reply: FastifyReply, name: string, bytes: Buffer): FastifyReply =>
  reply.type(PDF).header('content-disposition', `inline; filename="${name}.pdf"`).send(bytes);

/** The group whose page alone is asked for; null for the whole report, which is for nobody of the class. */
const groupAsked = (request: FastifyRequest, id: string, group: string | undefined): string | null => {
  requireOwnExperiment(request, id);
  const asked = group ?? request.classSession?.groupId ?? null;
  if (asked !== null) requireOwnGroup(request, { id, group: asked });
  return asked;
};

const report: FastifyPluginAsyncZod<PaperServices> = async (app, { logbook, clock }) => {
  /** Groups whose page is being made for their own phone: one at a time, so that no phone holds up the others. */
  const underWay = new Set<string>();
  app.get(
    '/experiments/:id/report.pdf',
    {
      config: { access: CLASS_PAPER, classListener: true },
      schema: { params: experimentParams, querystring: reportQuery, produces: [PDF] },
    },
    async (request, reply) => {
      const { id } = request.params;
      const groupId = groupAsked(request, id, request.query.group);
      const input = await logbook.read(async (db) => paperInputOf(db, await storedIn(db, id), clock()));
      const group = input.data.groups.find((one) => one.id === groupId);
      if (groupId !== null && !group) throw notFound('group');
      const name = group ? `class-${id}-group-${group.number}` : `class-${id}`;
      const phone = request.classSession?.groupId ?? null;
      if (phone === null) return sendPdf(reply, name, await setReport({ ...input, groupId }));
      if (underWay.has(phone))
        throw new Problem('state-conflict', { detail: 'Your page is being made already. Wait until it is there.' });
      underWay.add(phone);
      try {
        return await sendPdf(reply, name, await setReport({ ...input, groupId }));
      } finally {
        underWay.delete(phone);
      }
    },
  );
};

const table: FastifyPluginAsyncZod<PaperServices> = async (app, { logbook }) => {
  app.get(
    '/experiments/:id/data.csv',
    { config: { access: EVERYONE }, schema: { params: experimentParams, produces: [CSV] } },
    async (request, reply) => {
      const { id } = request.params;
      const data = await logbook.read(async (db) => shownDataOf(db, await storedIn(db, id)));
      return reply
        .type(`${CSV}; charset=utf-8; header=present`)
        .header('content-disposition', `attachment; filename="class-${id}.csv"`)
        .send(dataTable(data));
    },
  );
};

const byHand: FastifyPluginAsyncZod<PaperServices> = async (app, { logbook, clock }) => {
  app.get(
    '/experiments/:id/worksheet.pdf',
    {
      config: { access: EVERYONE },
      schema: { params: experimentParams, querystring: worksheetQuery, produces: [PDF] },
    },
    async (request, reply) => {
      const { id } = request.params;
      const answers = request.query.answers === 'true';
      const input = await logbook.read(async (db) => paperInputOf(db, await storedIn(db, id), clock()));
      const name = answers ? `class-${id}-answers` : `class-${id}-worksheet`;
      return sendPdf(reply, name, await setWorksheet({ ...input, answers }));
    },
  );

  app.get(
    '/experiments/:id/sheet.pdf',
    { config: { access: EVERYONE }, schema: { params: experimentParams, produces: [PDF] } },
    async (request, reply) => {
      const { id } = request.params;
      const input = await logbook.read(async (db) => paperInputOf(db, await storedIn(db, id), clock()));
      return sendPdf(reply, `class-${id}-sheets`, await setSheet(input));
    },
  );
};

/** What a class takes away. Made anew at each request and kept nowhere. */
export const paperRoutes: FastifyPluginAsyncZod<PaperServices> = async (app, services) => {
  await table(app, services);
  await report(app, services);
  await byHand(app, services);
};
