/** Everything that was found of one vessel, from its first calibration to its last, as a PDF file. */
import { DEMONSTRATION, moment, NO_LABORATORY, sentence, type Fact } from '../statements.ts';
import { factColumns } from './facts.ts';
import { INK, MEASURE, PAGE, STYLES } from './ink.ts';
import { Paper } from './paper.ts';
import {
  certificateWords,
  FIGURE_COLUMNS,
  figureCells,
  paperInput,
  originNotes,
  type SummarisedCalibration,
  type SummaryHead,
} from './summary.ts';
import { table, type Row } from './table.ts';

export interface HistoryInput extends SummaryHead {
  tag: string;
  /** The vessel as the register holds it now. */
  facts: readonly Fact[];
  /** Oldest first; the first is the entry into the register and has no reason. */
  revisions: readonly { version: number; at: string; by: string; reason: string | null }[];
  /** Newest first. */
  calibrations: readonly SummarisedCalibration[];
}

/** The same input gives the same bytes. */
export async function historyPdf(input: HistoryInput): Promise<Buffer> {
  const title = `History of ${input.tag}`;
  const laboratory = input.laboratoryName ?? NO_LABORATORY;
  const made = `As the record stood on ${moment(input.madeAt)}`;
  const paper = new Paper(paperInput(input, title, { laboratory, banner: DEMONSTRATION, made }));
  const top = paper.y + 2;
  paper.draw('H1', () => paper.set(title, PAGE.left, top, STYLES.title, 'left', MEASURE));
  paper.decorate(() => paper.rule(top + 31, INK.water, 1.4));
  paper.y = top + 38;
  paper.paragraph(`${laboratory}. ${made}. This is a summary; it is no certificate.`, STYLES.quiet, 6);
  const half = Math.ceil(input.facts.length / 2);
  factColumns(paper, [
    [{ heading: 'Vessel', facts: input.facts.slice(0, half) }],
    [{ heading: 'In the register', facts: input.facts.slice(half) }],
  ]);
  calibrations(paper, input);
  revisions(paper, input);
  return paper.finish();
}

function calibrations(paper: Paper, { calibrations: all }: HistoryInput): void {
  paper.section('Calibrations');
  if (all.length === 0) {
    paper.paragraph('None yet.');
    return;
  }
  const columns = [
    { head: 'Performed', share: 8 },
    { head: 'State', share: 7 },
    ...FIGURE_COLUMNS,
    { head: 'Certificate', share: 9 },
  ];
  const rows = all.flatMap((one): Row[] => {
    const { points } = one.result;
    if (points.length === 0)
      return [{ cells: [one.performedOn, one.state], notes: ['No trial recorded.', ...originNotes(one)] }];
    return points.map((point, at) => ({
      cells: [
        at === 0 ? one.performedOn : '',
        at === 0 ? one.state : '',
        ...figureCells(paper, one, point),
        at === 0 ? certificateWords(one) : '',
      ],
      notes: at === 0 ? originNotes(one) : [],
    }));
  });
  table(paper, columns, rows);
}

function revisions(paper: Paper, { revisions: all }: HistoryInput): void {
  paper.section('Changes in the register');
  const columns = [
    { head: 'Version', share: 3, align: 'right' },
    { head: 'Time', share: 7 },
    { head: 'By', share: 7 },
    { head: 'Reason', share: 16 },
  ] as const;
  const rows = all.map(({ version, at, by, reason }) => ({
    cells: [String(version), moment(at), by, reason === null ? 'entered' : sentence(reason)],
  }));
  table(paper, columns, rows);
}
