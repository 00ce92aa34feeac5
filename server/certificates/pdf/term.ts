/** What a range of days brought: each vessel's last calibration in it, what needs care first, as a PDF file. */
import type { Verdict } from '../../metrology/result.ts';
import { DEMONSTRATION, moment, NO_LABORATORY, printedVerdict, type Fact } from '../statements.ts';
import { factColumns } from './facts.ts';
import { INK, MEASURE, PAGE, STYLES } from './ink.ts';
import { Paper } from './paper.ts';
import {
  FIGURE_COLUMNS,
  figureCells,
  paperInput,
  originNotes,
  type SummarisedCalibration,
  type SummaryHead,
} from './summary.ts';
import { table, type Row } from './table.ts';

export interface TermVessel {
  tag: string;
  /** Kind and volume in words. */
  what: string;
  /** The last one in the range. */
  calibration: SummarisedCalibration;
}

export interface TermInput extends SummaryHead {
  /** Calendar days, both included. */
  from: string;
  to: string;
  counts: readonly Fact[];
  vessels: readonly TermVessel[];
  /** Instruments in use whose certificate is overdue when the paper is made. */
  overdue: readonly { tag: string; kind: string; dueOn: string }[];
  certificates: readonly { number: string; tag: string; issuedOn: string; state: string }[];
}

const CARE: Record<Verdict, number> = {
  fail: 0,
  'conditional-fail': 1,
  'not-decidable': 2,
  'conditional-pass': 3,
  pass: 5,
  'none-stated': 4,
};

const care = ({ calibration }: TermVessel): number => {
  const verdict = printedVerdict(calibration, calibration.result.verdict);
  return verdict === null ? CARE['none-stated'] : CARE[verdict];
};

/** The same input gives the same bytes. */
export async function termPdf(input: TermInput): Promise<Buffer> {
  const title = `Calibrations ${input.from} to ${input.to}`;
  const laboratory = input.laboratoryName ?? NO_LABORATORY;
  const made = `As the record stood on ${moment(input.madeAt)}`;
  const paper = new Paper(paperInput(input, title, { laboratory, banner: DEMONSTRATION, made }));
  const top = paper.y + 2;
  paper.draw('H1', () => paper.set(title, PAGE.left, top, STYLES.title, 'left', MEASURE));
  paper.decorate(() => paper.rule(top + 31, INK.water, 1.4));
  paper.y = top + 38;
  paper.paragraph(`${laboratory}. ${made}. This is a summary; it is no certificate.`, STYLES.quiet, 6);
  factColumns(paper, [[{ heading: 'In numbers', facts: input.counts }]]);
  vessels(paper, input);
  overdue(paper, input);
  certificates(paper, input);
  return paper.finish();
}

function vessels(paper: Paper, input: TermInput): void {
  paper.section('Vessels');
  paper.paragraph(
    'The last calibration of each vessel in these days. What failed stands first, then what could not be decided.',
    STYLES.smallQuiet,
  );
  if (input.vessels.length === 0) {
    paper.paragraph('None was calibrated.');
    return;
  }
  const columns = [{ head: 'Vessel', share: 17 }, { head: 'Performed', share: 8.5 }, ...FIGURE_COLUMNS];
  const sorted = [...input.vessels].sort((a, b) => care(a) - care(b) || (a.tag < b.tag ? -1 : 1));
  const rows = sorted.flatMap(({ tag, what, calibration }): Row[] =>
    calibration.result.points.map((point, at) => ({
      cells: [
        at === 0 ? `${tag}\n${what}` : '',
        at === 0 ? `${calibration.performedOn}\n${calibration.state}` : '',
        ...figureCells(paper, calibration, point),
      ],
      notes: at === 0 ? originNotes(calibration) : [],
    })),
  );
  table(paper, columns, rows);
}

function overdue(paper: Paper, input: TermInput): void {
  paper.section('Overdue instruments');
  const columns = [
    { head: 'Tag', share: 5 },
    { head: 'Kind', share: 6 },
    { head: 'Due since', share: 6 },
  ];
  if (input.overdue.length === 0) paper.paragraph('None.');
  else
    table(
      paper,
      columns,
      input.overdue.map(({ tag, kind, dueOn }) => ({ cells: [tag, kind, dueOn] })),
    );
}

function certificates(paper: Paper, input: TermInput): void {
  paper.section('Certificates issued');
  const columns = [
    { head: 'Number', share: 5 },
    { head: 'Vessel', share: 6 },
    { head: 'Issued', share: 5 },
    { head: 'State', share: 5 },
  ];
  const rows = input.certificates.map(({ number, tag, issuedOn, state }) => ({
    cells: [number, tag, issuedOn, state],
  }));
  if (rows.length === 0) paper.paragraph('None.');
  else table(paper, columns, rows);
}
