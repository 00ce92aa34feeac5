/** Sheets to write on in a lesson without phones: a page for each group, entered afterwards. */
import { STYLES } from '../../certificates/pdf/ink.ts';
import type { Paper } from '../../certificates/pdf/paper.ts';
import type { ClassData } from '../contract-class.ts';
import { grid, type GridColumn } from '../../certificates/pdf/by-hand.ts';
import { beginPaper, cautions, heading, titleOf, type ClassPaperInput } from './class-paper.ts';
import { nameOf } from './shown-rows.ts';
import type { WareRow } from './figure-texts.ts';
import { groupWords, readingWords, SHEET_RULES, weighedWords } from './words.ts';

/** A hand writes between these, in points. */
const LEAST_ROW = 15;
const MOST_ROW = 23;
/** Head of the table and what stands below it. */
const BESIDE_ROWS = 28;

type SheetGroup = Pick<ClassData['groups'][number], 'number' | 'name'>;

/** As many as are expected, and every group there is. */
const groupsOf = ({ data, plan }: ClassPaperInput): SheetGroup[] => {
  const count = Math.max(plan.expectedGroups, ...data.groups.map(({ number }) => number));
  return Array.from({ length: count }, (_, at) => {
    const known = data.groups.find(({ number }) => number === at + 1);
    return { number: at + 1, name: known?.name ?? null };
  });
};

/** The same input gives the same bytes. */
export async function sheetPdf(input: ClassPaperInput): Promise<Buffer> {
  const paper = beginPaper(input, 'Recording sheet');
  groupsOf(input).forEach((group, at) => {
    if (at > 0) paper.newPage();
    sheetOf(paper, input, group);
  });
  return paper.finish();
}

function sheetOf(paper: Paper, input: ClassPaperInput, group: SheetGroup): void {
  const { data } = input;
  heading(paper, titleOf(input));
  paper.paragraph(data.question, STYLES.body, 2);
  paper.section(groupWords(group), 60);
  cautions(paper, input, STYLES.small);
  paper.paragraph(SHEET_RULES.join(' '), STYLES.small);
  foreseen(paper, input);
  weighings(paper, data);
}

const howOf = (row: WareRow): string => {
  const drops = row.drops === undefined ? '' : ` Count ${row.drops} drops for each filling.`;
  return `${nameOf(row)}\n${weighedWords[row.basis]}.${drops}`;
};

function foreseen(paper: Paper, { data, plan }: ClassPaperInput): void {
  const { prediction, within, sureness } = plan.asks;
  const columns: GridColumn[] = [
    { head: 'Ware, and how it is weighed', share: 18 },
    { head: 'How to read it', share: 20 },
    ...(prediction ? [{ head: 'We expect mL', share: 8 }] : []),
    ...(prediction && within ? [{ head: 'Each within ± mL', share: 8 }] : []),
    ...(prediction && sureness ? [{ head: 'A guess, fairly sure, sure?', share: 9 }] : []),
  ];
  grid(
    paper,
    columns,
    data.rows.map((row) => [howOf(row), readingWords(row.readingRule)]),
    LEAST_ROW,
  );
}

function weighings(paper: Paper, data: ClassData): void {
  const columns = [
    { head: 'Ware', share: 16 },
    { head: 'Trial', share: 4 },
    { head: 'Empty g', share: 10 },
    { head: 'Filled g', share: 10 },
    { head: 'Water °C', share: 7 },
    { head: 'Water spilt, wrong mark, anything odd?', share: 16 },
  ];
  const lines = data.rows.flatMap((row) =>
    Array.from({ length: row.trialsPerGroup }, (_, at) => [row.label, String(at + 1)]),
  );
  const { waterTemperatureC } = data.conditions;
  const height = (paper.room - BESIDE_ROWS) / Math.max(1, lines.length);
  grid(paper, columns, lines, Math.min(MOST_ROW, Math.max(LEAST_ROW, height)));
  if (waterTemperatureC !== undefined)
    paper.paragraph(`Water: ${waterTemperatureC} °C where you write none.`, STYLES.smallQuiet);
}
