/** A sheet of labels as asked for: what is wrong with it, and the file. */
import { sheetProblems, type SheetProblem } from '../../web/plots/label-sheet.ts';
import { makePdf } from '../certificates/pdf/making.ts';
import type { FieldProblem } from '../problem.ts';
import { VERSION } from '../version.ts';
import type { LabelFacts, LabelQuery } from './contract.ts';

const tenth = (mm: number): string => String(Math.round(10 * mm) / 10);

const SAYS: Record<SheetProblem['field'], (problem: SheetProblem) => string> = {
  columns: ({ needs, has }) =>
    `The labels need ${tenth(needs)} mm across, the sheet has ${tenth(has)} mm. Fewer columns, or smaller labels?`,
  rows: ({ needs, has }) =>
    `The labels need ${tenth(needs)} mm down, the sheet has ${tenth(has)} mm. Fewer rows, or lower labels?`,
  firstLabel: ({ has }) => `A sheet has ${has} labels.`,
};

export const sheetRefusals = (query: LabelQuery): FieldProblem[] =>
  sheetProblems(query).map((problem) => ({ pointer: `#/${problem.field}`, detail: SAYS[problem.field](problem) }));

export const sheetOf = (query: LabelQuery, labels: LabelFacts[], now: Date) => {
  const { code, outlines, vessels: _vessels, lot: _lot, ...layout } = query;
  const input = { layout, code, labels, outlines: outlines === 'true', madeAt: now.toISOString(), program: VERSION };
  return makePdf({ kind: 'labels', input });
};
