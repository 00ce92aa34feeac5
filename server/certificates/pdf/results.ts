/** What was found: figures of each test point, strips, the verdict and the rule that made it. */
import type { StripData, StripHeight } from '../../../web/plots/tolerance-strip.ts';
import { sameDecimal } from '../../metrology/decimal.ts';
import { decimalsFor, fixed, roundedResult } from '../../metrology/display.ts';
import type { PointResult } from '../../metrology/result.ts';
import type { Issued } from '../issued.ts';
import {
  countWords,
  OF_THE_MEAN,
  percentOf,
  pointFigures,
  printedToleranceMl,
  printedVerdict,
  toleranceText,
  verdictRemarks,
  verdictStatement,
  withoutVerdict,
} from '../statements.ts';
import { ruleWords, verdictWords } from '../words.ts';
import { MEASURE, PAGE, STYLES } from './ink.ts';
import type { Paper } from './paper.ts';
import { drawStrip, drawVerdict, stripHeight, stripSentence } from './strip.ts';
import { table, type Cell, type Column } from './table.ts';

/** Up to this many points each get a strip of their own; more stand as small strips in the table. */
const MOST_OWN_STRIPS = 5;

export function stripOf(issued: Pick<Issued, 'toleranceBasis' | 'result'>, point: PointResult): StripData {
  const { trials, decisionRule } = issued.result;
  const toleranceMl = printedToleranceMl(issued, point);
  const u = point.expandedUncertaintyMl;
  const at = trials.filter((trial) => sameDecimal(trial.pointMl, point.pointMl));
  return {
    nominalMl: Number(point.pointMl),
    toleranceMl,
    guardedMl: decisionRule === 'guarded' && toleranceMl !== null && u !== null ? Math.max(0, toleranceMl - u) : null,
    volumesMl: at.filter(({ exclusion }) => exclusion == null).map(({ volumeMl }) => volumeMl),
    excludedMl: at.filter(({ exclusion }) => exclusion != null).map(({ volumeMl }) => volumeMl),
    meanMl: point.meanMl,
    expandedUncertaintyMl: u,
  };
}

export function results(paper: Paper, issued: Issued): void {
  const { points, difference } = issued.result;
  const own = points.length <= MOST_OWN_STRIPS;
  paper.section('Result', 150);
  verdictLine(paper, issued);
  figures(paper, issued, !own);
  const k = percentOf(issued.record.coverageProbability ?? '0.9545');
  paper.paragraph(
    `U is the expanded uncertainty k · u for a coverage probability of ${k}. ${OF_THE_MEAN} u, one use: the standard uncertainty of one single use of the vessel. Volumes hold at the reference temperature of ${issued.record.vessel.referenceTemperatureC} °C.`,
    STYLES.small,
  );
  if (difference !== null) paper.paragraph(differenceStatement(issued), STYLES.body);
  if (own) points.forEach((point) => ownStrip(paper, issued, point));
  legend(paper, issued);
}

function verdictLine(paper: Paper, issued: Issued): void {
  const verdict = printedVerdict(issued, issued.result.verdict);
  const y = paper.y;
  if (verdict !== null)
    paper.draw('P', () => drawVerdict(paper, verdict, { x: PAGE.left, y }, { ...STYLES.lead, size: 13 }));
  else paper.draw('P', () => paper.set(firstLetterUp(withoutVerdict(issued)), PAGE.left, y, STYLES.lead));
  paper.y = y + STYLES.lead.leading + 4;
  paper.paragraph(firstLetterUp(verdictStatement(issued)));
  verdictRemarks(issued).forEach((remark) => paper.paragraph(remark, STYLES.strong));
}

const firstLetterUp = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

function figures(paper: Paper, issued: Issued, withStrips: boolean): void {
  const { points } = issued.result;
  const judged = points.some((point) => printedVerdict(issued, point.verdict) !== null);
  const columns: Column[] = [
    { head: 'Test point mL', share: 6, decimal: true },
    { head: 'Mean volume mL', share: 8, decimal: true },
    { head: 'Bias mL', share: 7, decimal: true },
    { head: 'Spread s mL', share: 7, decimal: true },
    { head: 'U of the mean mL', share: 7.5, decimal: true },
    { head: 'k', share: 5.4, decimal: true },
    { head: 'u, one use mL', share: 7, decimal: true },
    { head: 'n counted of recorded of planned', share: 10, align: 'right' },
    ...(judged
      ? ([
          { head: 'Tolerance', share: 9, align: 'right' },
          { head: 'Verdict', share: 12 },
        ] as const)
      : []),
    ...(withStrips ? [{ head: 'Strip', share: 20 }] : []),
  ];
  const rows = points.map((point) => {
    const f = pointFigures(point);
    const verdict = printedVerdict(issued, point.verdict);
    const cells: Cell[] = [f.point, f.mean, f.bias, f.spread, f.expanded, f.factor, f.single, counts(issued, point)];
    if (judged)
      cells.push(
        point.toleranceMl === null ? '–' : toleranceText(point.toleranceMl),
        verdict === null ? '–' : verdictWords[verdict],
      );
    if (withStrips) cells.push(stripCell(paper, issued, point));
    return { cells };
  });
  table(paper, columns, rows);
}

const counts = (issued: Issued, { n, nRecorded }: PointResult): string =>
  `${n} of ${nRecorded} of ${issued.record.plannedTrials ?? '–'}`;

const coverageOf = (point: PointResult): string => `k = ${pointFigures(point).factor}`;

function stripCell(paper: Paper, issued: Issued, point: PointResult): Cell {
  const data = stripOf(issued, point);
  return {
    height: stripHeight(28),
    alt: stripSentence(data, coverageOf(point)),
    draw: (x, y, width) => drawStrip(paper, data, 28, { x, y, width }),
  };
}

function ownStrip(paper: Paper, issued: Issued, point: PointResult): void {
  const height: StripHeight = issued.result.points.length === 1 ? 160 : 96;
  const data = stripOf(issued, point);
  const drawn = stripHeight(height);
  const sentence = stripSentence(data, coverageOf(point));
  paper.need(drawn + STYLES.small.leading + 12);
  const y = paper.y + 2;
  const bbox: [number, number, number, number] = [PAGE.left, y, PAGE.left + MEASURE, y + drawn];
  paper.draw('Figure', () => drawStrip(paper, data, height, { x: PAGE.left, y, width: MEASURE }), {
    alt: `Test point ${point.pointMl} mL. ${sentence}`,
    bbox,
    placement: 'Block',
  });
  paper.y = y + drawn;
  const verdict = printedVerdict(issued, point.verdict);
  const end = verdict === null ? '' : ` ${firstLetterUp(verdictWords[verdict])}.`;
  const text = `${point.pointMl} mL: ${sentence}${end} ${firstLetterUp(countWords(point, issued.record.plannedTrials))}.`;
  paper.paragraph(text, STYLES.smallQuiet, 6);
}

function legend(paper: Paper, issued: Issued): void {
  const judged = issued.result.points.some((point) => printedToleranceMl(issued, point) !== null);
  const band = judged
    ? ` Band between the posts: tolerance${issued.result.decisionRule === 'guarded' ? '; its darker part: where a mean passes' : ''}.`
    : '';
  paper.paragraph(
    `Strips: one axis in mL around the nominal volume. Dot: a trial; hollow and struck: excluded. Bar with whiskers: mean ± U.${band} What lies beyond the axis stands at its broken end with its value.`,
    STYLES.smallQuiet,
  );
}

export function differenceStatement(issued: Issued): string {
  const { difference } = issued.result;
  if (difference === null) return '';
  const { valueMl, expandedUncertaintyMl: u } = difference;
  const verdict = printedVerdict(issued, difference.verdict);
  const value = u > 0 ? roundedResult(valueMl, u).value : fixed(valueMl, 4);
  const uncertainty = u > 0 ? fixed(u, Math.max(0, decimalsFor(u, 2))) : '0';
  return `Difference between the errors of any two points, at most ${value} mL with U ${uncertainty} mL${verdict === null ? '' : `: ${verdictWords[verdict]}`}.`;
}

/** Rule and risk, chosen before the first weighing. */
export function decisionRule(paper: Paper, issued: Issued): void {
  if (printedVerdict(issued, issued.result.verdict) === null) return;
  const words = ruleWords[issued.result.decisionRule];
  paper.section('Decision rule');
  paper.paragraph(`${firstLetterUp(words.name)}. ${words.rule}`);
  paper.paragraph(`Risk: ${words.risk}`);
}
