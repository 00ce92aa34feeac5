/** A blank sheet for the bench: what is wanted, with which ware, step by step, and room to write at each. */
import { grid, writingLine, type GridColumn } from '../../certificates/pdf/by-hand.ts';
import { factColumns } from '../../certificates/pdf/facts.ts';
import { sheetTitle } from '../../certificates/pdf/head.ts';
import { INK, STYLES, type SheetSize } from '../../certificates/pdf/ink.ts';
import { Paper } from '../../certificates/pdf/paper.ts';
import { paperInput, type SummaryHead } from '../../certificates/pdf/summary.ts';
import { DEMONSTRATION, moment, NO_LABORATORY, type Fact } from '../../certificates/statements.ts';
import { HAZARDS_BY_HAND } from './facts.ts';

export interface BenchStep {
  what: string;
  /** What is written beside it, with its unit; empty where nothing is read. */
  reading: string;
}

/** Steps in their order, under a heading where there is more than one solution. */
interface BenchWork {
  heading: string | null;
  steps: readonly BenchStep[];
}

export interface BenchContent {
  title: string;
  way: string;
  facts: readonly (readonly Fact[])[];
  before: string;
  works: readonly BenchWork[];
  /** Readings of titrations: heads, and how many rows. */
  titrations: { heads: readonly string[]; rows: number } | null;
  after: string;
  /** What the plan found, in words. */
  findings: readonly string[];
}

export interface BenchSheetInput extends SummaryHead, BenchContent {
  sheet: SheetSize;
}

const TITLE = 'Sheet for the bench';
const RULES =
  'The laboratory’s own rules come first. Write what the displays show, with all digits. Strike a slip out with one line and write beside it. Then type the readings into the record.';
/** Heights to write in, in points. */
const BLANK = 24;
const STEP = 26;

const BLANKS: readonly (readonly GridColumn[])[] = [
  [
    { head: 'Date, year-month-day', share: 10 },
    { head: 'Made by', share: 10 },
    { head: 'Balance', share: 8 },
    { head: 'Solution °C', share: 8 },
    { head: 'Water, its grade', share: 9 },
  ],
  [
    { head: 'Lots', share: 20 },
    { head: 'Air °C', share: 7 },
    { head: 'Air hPa', share: 7 },
    { head: 'Humidity %', share: 7 },
    { head: 'Expires', share: 10 },
  ],
];

/** The same input gives the same bytes. */
export const benchSheetPdf = async (input: BenchSheetInput): Promise<Buffer> => {
  const laboratory = input.laboratoryName ?? NO_LABORATORY;
  const made = `Planned with the record as it stood on ${moment(input.madeAt)}`;
  const paper = new Paper({
    ...paperInput(input, `${TITLE}: ${input.title}`, { laboratory, banner: DEMONSTRATION, made }),
    sheet: input.sheet,
  });
  sheetTitle(paper, input.title);
  paper.paragraph(`${TITLE} · ${input.way}`, STYLES.strong, 2);
  paper.decorate(() => paper.rule(paper.y, INK.water, 1.4));
  paper.space(8);
  factColumns(
    paper,
    input.facts.map((facts) => [{ heading: null, facts }]),
  );
  for (const detail of input.findings) paper.item(detail);
  paper.space(2);
  paper.paragraph([RULES, input.before].join(' '), STYLES.small, 5);
  for (const columns of BLANKS) grid(paper, columns, [columns.map(() => '')], BLANK);
  for (const work of input.works) workTable(paper, work);
  titrationTable(paper, input);
  if (input.after !== '') paper.paragraph(input.after, STYLES.small, 3);
  writingLine(paper, HAZARDS_BY_HAND);
  writingLine(paper, 'Note:');
  return paper.finish();
};

function workTable(paper: Paper, { heading, steps }: BenchWork): void {
  if (steps.length === 0) return;
  if (heading !== null) paper.section(heading);
  const columns = [
    { head: 'Step', share: 2 },
    { head: 'What to do', share: 24 },
    { head: 'Reading', share: 10 },
    { head: 'Done', share: 3 },
  ];
  grid(
    paper,
    columns,
    steps.map(({ what, reading }, at) => [String(at + 1), what, reading]),
    STEP,
  );
}

function titrationTable(paper: Paper, { titrations }: BenchContent): void {
  if (titrations === null) return;
  paper.section('Titrations');
  const columns = [
    { head: 'Titration', share: 5 },
    ...titrations.heads.map((head) => ({ head, share: 9 })),
    { head: 'Note', share: 16 },
  ];
  grid(
    paper,
    columns,
    Array.from({ length: titrations.rows }, (_, at) => [String(at + 1)]),
    STEP,
  );
}
