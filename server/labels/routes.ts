import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { sheetProblems, type SheetProblem } from '../../web/plots/label-sheet.ts';
import { makePdf } from '../certificates/pdf/making.ts';
import type { Reading } from '../db/logbook.ts';
import type { Logbook } from '../db/logbook.ts';
import { findLot, vesselsOfLots } from '../lots/store.ts';
import { EVERYONE } from '../people/access.ts';
import { invalid, notFound, type FieldProblem } from '../problem.ts';
import { VERSION } from '../version.ts';
import { labelQuery, MOST_LABELS, type LabelQuery } from './contract.ts';
import { labelsOf } from './view.ts';

const PDF = 'application/pdf';

const tenth = (mm: number): string => String(Math.round(10 * mm) / 10);

const SAYS: Record<SheetProblem['field'], (problem: SheetProblem) => string> = {
  columns: ({ needs, has }) =>
    `The labels need ${tenth(needs)} mm across, the sheet has ${tenth(has)} mm. Fewer columns, or smaller labels?`,
  rows: ({ needs, has }) =>
    `The labels need ${tenth(needs)} mm down, the sheet has ${tenth(has)} mm. Fewer rows, or lower labels?`,
  firstLabel: ({ has }) => `A sheet has ${has} labels.`,
};

const refusalsOf = (query: LabelQuery): FieldProblem[] =>
  sheetProblems(query).map((problem) => ({ pointer: `#/${problem.field}`, detail: SAYS[problem.field](problem) }));

/** Ids of the vessels asked for, those of a lot in the order of their tags. */
const vesselIds = async (db: Reading, { vessels, lot }: LabelQuery): Promise<string[]> => {
  if (lot === undefined) return vessels ?? [];
  if (!(await findLot(db, lot))) throw notFound('lot');
  return (await vesselsOfLots(db, [lot])).map(({ id }) => id).slice(0, MOST_LABELS);
};

/** Sheets of labels. They are made anew at each request and kept nowhere. */
export const labelRoutes: FastifyPluginAsyncZod<{ logbook: Logbook; clock: () => Date }> = async (app, options) => {
  const { logbook, clock } = options;
  app.get(
    '/labels.pdf',
    { config: { access: EVERYONE }, schema: { querystring: labelQuery, produces: [PDF] } },
    async (request, reply) => {
      const { query } = request;
      const refusals = refusalsOf(query);
      if (refusals.length > 0) throw invalid(refusals);
      const labels = await logbook.read(async (db) => labelsOf(db, await vesselIds(db, query)));
      if (labels.length === 0) throw notFound('vessel');
      const { code, outlines, vessels: _vessels, lot: _lot, ...layout } = query;
      const input = { layout, code, labels, outlines: outlines === 'true', madeAt: clock().toISOString() };
      return reply
        .type(PDF)
        .header('content-disposition', 'inline; filename="labels.pdf"')
        .send(await makePdf({ kind: 'labels', input: { ...input, program: VERSION } }));
    },
  );
};
