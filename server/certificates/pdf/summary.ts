/** Rows of calibrations, as histories and terms print them. */
import type { CalibrationResult, PointResult } from '../../metrology/result.ts';
import type { ToleranceBasis } from '../issued.ts';
import { pointFigures, printedVerdict, withoutVerdict } from '../statements.ts';
import { originWords, verdictWords } from '../words.ts';
import { stripOf } from './results.ts';
import type { Paper, PaperInput } from './paper.ts';
import { drawStrip, stripHeight, stripSentence } from './strip.ts';
import type { Cell, Column } from './table.ts';

/** What every summary is told beside its own rows. */
export interface SummaryHead {
  laboratoryName: string | null;
  demonstration: boolean;
  /** Server time; said on the paper and written into the file. */
  madeAt: string;
  program: string;
}

/** A calibration as it stands; an issued one as it was issued. */
export interface SummarisedCalibration {
  performedOn: string;
  /** Null where the readings were typed at the bench. */
  origin: 'sheet' | 'paper' | null;
  state: string;
  result: CalibrationResult;
  toleranceBasis: ToleranceBasis;
  /** Newest first. */
  certificates: { number: string; state: string }[];
}

export const paperInput = (
  head: SummaryHead,
  title: string,
  words: { laboratory: string; banner: string; made: string },
): PaperInput => ({
  title,
  subject: title,
  createdAt: head.madeAt,
  program: `Tarebook ${head.program}`,
  running: { left: words.laboratory, right: title },
  foot: words.made,
  banner: head.demonstration ? words.banner : null,
});

export const FIGURE_COLUMNS: readonly Column[] = [
  { head: 'Point mL', share: 6, decimal: true },
  { head: 'Mean mL', share: 7.5, decimal: true },
  { head: 'Bias mL', share: 7, decimal: true },
  { head: 'U mL', share: 6, decimal: true },
  { head: 'n', share: 3, align: 'right' },
  { head: 'Verdict', share: 10 },
  { head: 'Strip', share: 20 },
];

export function figureCells(paper: Paper, calibration: SummarisedCalibration, point: PointResult): Cell[] {
  const figures = pointFigures(point);
  const verdict = printedVerdict(calibration, point.verdict);
  const strip = stripOf(calibration, point);
  return [
    figures.point,
    figures.mean,
    figures.bias,
    figures.expanded,
    String(point.n),
    verdict === null ? withoutVerdict(calibration) : verdictWords[verdict],
    {
      height: stripHeight(28),
      alt: stripSentence(strip, `k = ${figures.factor}`),
      draw: (x, y, width) => drawStrip(paper, strip, 28, { x, y, width }),
    },
  ];
}

/** Where its readings come from, if not from the bench; stands below its first row. */
export const originNotes = ({ origin }: SummarisedCalibration): string[] =>
  origin === null ? [] : [`Readings ${originWords[origin]}.`];

export const certificateWords = ({ certificates }: SummarisedCalibration): string =>
  certificates.length === 0 ? 'none' : certificates.map(({ number, state }) => `${number} (${state})`).join(', ');
