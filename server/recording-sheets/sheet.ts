/** Blank recording sheets as PDF: what is known is filled in, the rest is there to be written by hand. */
import { grid, options, writingLine, type GridColumn, type RowMark } from '../certificates/pdf/by-hand.ts';
import { factColumns } from '../certificates/pdf/facts.ts';
import { sheetHead, sheetTitle } from '../certificates/pdf/head.ts';
import { INK, STYLES, type SheetSize } from '../certificates/pdf/ink.ts';
import { Paper } from '../certificates/pdf/paper.ts';
import { paperInput, type SummaryHead } from '../certificates/pdf/summary.ts';
import { DEMONSTRATION, moment, NO_LABORATORY } from '../certificates/statements.ts';
import { drawSquare, squareOf, type Square } from '../labels/square.ts';
import type { SheetForm } from './contract.ts';
import { compactTable, trialTable, type SheetVessel } from './tables.ts';
import { cautionWords, INSPECTED, OWN_RULES, RECEIVER, RULES, type CautionName } from './words.ts';

export interface RecordingSheetInput extends SummaryHead {
  form: SheetForm;
  sheet: SheetSize;
  /** Rows at each point. */
  trials: number;
  vessels: readonly SheetVessel[];
  /** Name of the delivery, or how many vessels. */
  about: string;
}

const TITLE = 'Recording sheet';
/** Lengths in points. */
const CODE = 60;
const BLANK = 22;

/** What is written once; which sheet it is begins with what it is about. */
const blankColumns = (about: string): readonly (readonly GridColumn[])[] => [
  [
    { head: `Sheet ${about} /`, share: 10 },
    { head: 'Date, year-month-day', share: 10 },
    { head: 'Weighed by', share: 10 },
    { head: 'Balance', share: 9 },
    { head: 'Thermometer', share: 9 },
  ],
  [
    { head: 'Air temperature °C', share: 10 },
    { head: 'Air pressure hPa, at the balance', share: 12 },
    { head: 'Relative humidity %', share: 10 },
    { head: 'Water, its grade', share: 10 },
  ],
];

const markOf = (paper: Paper, { tag }: SheetVessel, square: Square, side: number): RowMark => ({
  ...{ alt: `QR code of the tag ${tag}`, side },
  draw: (x, y) => drawSquare(paper.document, square, { x, y, side }),
});

/** The same input gives the same bytes. */
export async function recordingSheetPdf(input: RecordingSheetInput): Promise<Buffer> {
  const laboratory = input.laboratoryName ?? NO_LABORATORY;
  const made = `Vessels as the record stood on ${moment(input.madeAt)}`;
  const paper = new Paper({
    ...paperInput(input, TITLE, { laboratory, banner: DEMONSTRATION, made }),
    sheet: input.sheet,
  });
  const squares = await Promise.all(input.vessels.map(({ tag }) => squareOf(tag, 'qr')));
  const marked = input.vessels.map((vessel, at) => ({ vessel, square: squares[at]! }));
  if (input.form === 'compact') compactSheet(paper, input, marked);
  else
    marked.forEach((one, at) => {
      if (at > 0) paper.newPage();
      vesselSheet(paper, input, one);
    });
  return paper.finish();
}

interface Marked {
  vessel: SheetVessel;
  square: Square;
}

function vesselSheet(paper: Paper, { trials }: RecordingSheetInput, { vessel, square }: Marked): void {
  paper.name(`${TITLE} ${vessel.tag}`);
  const code = markOf(paper, vessel, square, CODE);
  sheetHead(paper, { title: vessel.tag, lead: `${TITLE} · ${vessel.what}`, code });
  const half = Math.ceil(vessel.facts.length / 2);
  const columns = [vessel.facts.slice(0, half), vessel.facts.slice(half)];
  factColumns(
    paper,
    columns.map((facts) => [{ heading: null, facts }]),
  );
  blanks(paper, vessel.tag, [vessel]);
  paper.paragraph('Looked at before the first trial:', STYLES.strong, 1);
  options(
    paper,
    INSPECTED.map((text) => ({ text, ticked: false })),
  );
  rules(paper, [vessel]);
  trialTable(paper, vessel, trials);
  writingLine(paper, 'Note:');
}

function compactSheet(paper: Paper, input: RecordingSheetInput, marked: readonly Marked[]): void {
  const { vessels, about, trials } = input;
  paper.name(`${TITLE} ${about}`);
  sheetTitle(paper, about);
  const kinds = [...new Set(vessels.map(({ facts }) => facts.map(([, value]) => value).join(' · ')))];
  const same = kinds.length === 1 && kinds[0] !== undefined ? ` · ${kinds[0]}` : '';
  paper.paragraph(`${TITLE}${same}`, STYLES.strong, 2);
  paper.decorate(() => paper.rule(paper.y, INK.water, 1.4));
  paper.space(8);
  blanks(paper, about, vessels);
  paper.paragraph(`Fit: ${INSPECTED.join(', ')}. Tick it before the first trial.`, STYLES.small, 2);
  rules(paper, vessels);
  const rows = marked.map(({ vessel, square }) => ({
    vessel,
    markOf: (side: number) => markOf(paper, vessel, square, side),
  }));
  compactTable(paper, rows, { trials, isSame: same !== '' });
}

/** What is written once for all trials. */
function blanks(paper: Paper, about: string, vessels: readonly SheetVessel[]): void {
  for (const columns of blankColumns(about)) grid(paper, columns, [columns.map(() => '')], BLANK);
  if (!vessels.some(({ isPiston }) => isPiston)) return;
  const tip = [
    { head: 'Tip', share: 1 },
    { head: 'Channel', share: 1 },
  ];
  grid(paper, tip, [['', '']], BLANK);
}

/** How to write on it, and what can happen meanwhile. */
function rules(paper: Paper, vessels: readonly SheetVessel[]): void {
  const delivers = vessels.some(({ basis }) => basis === 'deliver');
  paper.paragraph([RULES, ...(delivers ? [RECEIVER] : [])].join(' '), STYLES.small, 2);
  const names = new Set(vessels.flatMap(({ cautions }) => cautions));
  const said = (Object.keys(cautionWords) as CautionName[]).filter((name) => names.has(name));
  const sentences = said.map((name) => `${cautionWords[name].title} ${cautionWords[name].what}`);
  paper.paragraph([OWN_RULES, ...sentences].join(' '), STYLES.small, 5);
}
