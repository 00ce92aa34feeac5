/** The tolerance strip and the marks of verdicts as lines on paper, from the geometry the screens draw. */
import type { StripGeometry, StripData, StripDot, StripHeight } from '../../../web/plots/tolerance-strip.ts';
import { stripGeometry } from '../../../web/plots/tolerance-strip.ts';
import { decimalsFor, decimalsForTolerance, fixed, signed } from '../../metrology/display.ts';
import type { Verdict } from '../../metrology/result.ts';
import { verdictWords } from '../words.ts';
import { INK, STYLES, type Style } from './ink.ts';
import type { Paper } from './paper.ts';

type Canvas = PDFKit.PDFDocument;

/** Points of paper for a pixel of the screen. */
const SCALE = 0.72;

export const stripHeight = (height: StripHeight): number => height * SCALE;

/** Draws the strip with its upper left corner at a place. */
export function drawStrip(
  paper: Paper,
  data: StripData,
  height: StripHeight,
  at: { x: number; y: number; width: number },
): void {
  const geometry = stripGeometry(data, at.width / SCALE, height);
  const canvas = paper.document;
  canvas.save().translate(at.x, at.y).scale(SCALE);
  shapes(canvas, geometry);
  canvas.restore();
  labels(paper, geometry, data, at);
}

function shapes(canvas: Canvas, geometry: StripGeometry): void {
  const { axis, band, guard, top, nominalX, mean, whisker, simple, dots, dotRadius, broken, height } = geometry;
  const tall = axis.y - top;
  if (band) canvas.rect(band.x, top, band.width, tall).fill(INK.band);
  if (guard) canvas.rect(guard.x, top, guard.width, tall).fill(INK.guard);
  canvas.moveTo(axis.x1, axis.y).lineTo(axis.x2, axis.y).lineWidth(1).strokeColor(INK.line).stroke();
  const zigzag = (x: number, step: number): void => {
    canvas
      .moveTo(x, axis.y)
      .lineTo(x + step, axis.y - 4)
      .lineTo(x + 2 * step, axis.y + 4)
      .lineTo(x + 3 * step, axis.y);
    canvas.lineWidth(1).strokeColor(INK.line).stroke();
  };
  if (broken.low) zigzag(axis.x1, -3);
  if (broken.high) zigzag(axis.x2, 3);
  if (band) [band.x, band.x + band.width].forEach((x) => post(canvas, x, top, axis.y, height === 28 ? 2.5 : 4));
  canvas.moveTo(nominalX, top).lineTo(nominalX, axis.y).lineWidth(1).dash(2, { space: 3 });
  canvas.strokeColor(INK.quiet).stroke().undash();
  if (simple) lozenge(canvas, simple);
  if (mean)
    canvas
      .moveTo(mean.x, mean.y1)
      .lineTo(mean.x, mean.y2 + 3)
      .lineWidth(2)
      .strokeColor(INK.water)
      .stroke();
  if (whisker) drawWhisker(canvas, whisker);
  dots.forEach((dot) => drawDot(canvas, dot, dotRadius));
}

function post(canvas: Canvas, x: number, top: number, foot: number, reach: number): void {
  canvas
    .moveTo(x, top)
    .lineTo(x, foot)
    .moveTo(x - reach, foot)
    .lineTo(x + reach, foot);
  canvas.lineWidth(1.5).strokeColor(INK.quiet).stroke();
}

function lozenge(canvas: Canvas, { x, y, size }: { x: number; y: number; size: number }): void {
  canvas.polygon([x - size, y], [x, y - size], [x + size, y], [x, y + size]).lineWidth(1.5);
  canvas.fillAndStroke(INK.card, INK.fail);
}

function drawWhisker(canvas: Canvas, { x1, x2, y, cutLow, cutHigh }: NonNullable<StripGeometry['whisker']>): void {
  canvas.moveTo(x1, y).lineTo(x2, y);
  if (!cutLow) canvas.moveTo(x1, y - 3).lineTo(x1, y + 3);
  if (!cutHigh) canvas.moveTo(x2, y - 3).lineTo(x2, y + 3);
  canvas.lineWidth(1.5).strokeColor(INK.water).stroke();
}

function drawDot(canvas: Canvas, { kind, x, y }: StripDot, radius: number): void {
  if (kind === 'excluded') {
    canvas
      .circle(x, y, radius - 0.5)
      .lineWidth(1.25)
      .fillAndStroke(INK.card, INK.quiet);
    canvas
      .moveTo(x - radius, y + radius)
      .lineTo(x + radius, y - radius)
      .lineWidth(1.25)
      .strokeColor(INK.quiet)
      .stroke();
    return;
  }
  canvas.circle(x, y, radius).lineWidth(0.75).fillAndStroke(INK.ink, INK.card);
}

function labels(paper: Paper, geometry: StripGeometry, data: StripData, at: { x: number; y: number }): void {
  const decimals = decimalsOf(data);
  const label: Style = STYLES.smallQuiet;
  for (const { at: where, x, y, volumeMl } of geometry.labels) {
    const text = where === 'nominal' ? fixed(volumeMl, decimals) : signed(volumeMl - data.nominalMl, decimals);
    paper.set(text, at.x + x * SCALE - 40, at.y + (y - 11) * SCALE, label, 'center', 80);
  }
  for (const { side, volumeMl, x } of geometry.edges) {
    const text = signed(volumeMl - data.nominalMl, decimals);
    const y = at.y + (geometry.axis.y - 7) * SCALE;
    if (side === 'low') paper.set(text, at.x + (x - 12) * SCALE - 80, y, STYLES.smallStrong, 'right', 80);
    else paper.set(text, at.x + (x + 12) * SCALE, y, STYLES.smallStrong);
  }
}

/** The limits are read with their own digits, however large U is. */
const decimalsOf = ({ toleranceMl, expandedUncertaintyMl: u, nominalMl }: StripData): number => {
  const least = decimalsForTolerance(toleranceMl ?? nominalMl / 1000);
  return Math.max(u ? Math.max(0, Math.min(8, decimalsFor(u, 2))) : least, least);
};

const POSTS = [7, 19] as const;
const BEADS: Record<Verdict, number | null> = {
  pass: 13,
  'conditional-pass': 15.2,
  'conditional-fail': 22.8,
  fail: 26.5,
  'not-decidable': null,
  'none-stated': 13,
};

export const verdictColour: Record<Verdict, string> = {
  pass: INK.pass,
  'conditional-pass': INK.conditional,
  'conditional-fail': INK.conditional,
  fail: INK.fail,
  'not-decidable': INK.undecided,
  'none-stated': INK.quiet,
};

/** The mark of a verdict, told apart by shape, with its upper left corner at a place; it is 26 × 18 before scaling. */
export function drawVerdictMark(canvas: Canvas, verdict: Verdict, at: { x: number; y: number }, scale: number): void {
  const colour = verdictColour[verdict];
  canvas.save().translate(at.x, at.y).scale(scale);
  canvas.lineWidth(1.8).strokeColor(colour);
  if (verdict !== 'none-stated')
    for (const x of POSTS)
      canvas
        .moveTo(x, 3)
        .lineTo(x, 15)
        .moveTo(x - 2, 15)
        .lineTo(x + 2, 15)
        .stroke();
  if (verdict === 'not-decidable') canvas.moveTo(2, 9).lineTo(24, 9).dash(3, { space: 3 }).stroke().undash();
  if (verdict === 'none-stated') canvas.moveTo(2, 9).lineTo(24, 9).stroke();
  if (verdict === 'fail') canvas.moveTo(19, 9).lineTo(24, 9).stroke();
  const bead = BEADS[verdict];
  if (bead !== null) canvas.circle(bead, 9, 3).fill(colour);
  canvas.restore();
}

/** Mark and word of a verdict. */
export function drawVerdict(paper: Paper, verdict: Verdict, at: { x: number; y: number }, style: Style): void {
  const scale = (style.size * 1.25) / 18;
  const colour = verdictColour[verdict];
  drawVerdictMark(paper.document, verdict, { x: at.x, y: at.y + (style.leading - 18 * scale) / 2 }, scale);
  paper.set(verdictWords[verdict], at.x + 31 * scale, at.y, { ...style, font: 'strong', colour });
}

/** The strip in one sentence, without a verdict. */
export function stripSentence(data: StripData, coverage: string): string {
  const { meanMl, nominalMl, toleranceMl, expandedUncertaintyMl: u, excludedMl = [] } = data;
  const decimals = u ? Math.max(0, Math.min(8, decimalsFor(u, 2))) : decimalsOf(data);
  if (meanMl == null) return 'No trial counts.';
  const parts = [`Mean ${fixed(meanMl, decimals)} mL, bias ${signed(meanMl - nominalMl, decimals)} mL`];
  if (u) parts.push(`U ${fixed(u, decimals)} mL (${coverage})`);
  parts.push(
    toleranceMl === null
      ? 'no tolerance drawn'
      : `tolerance ±${fixed(toleranceMl, decimalsForTolerance(toleranceMl))} mL`,
  );
  if (excludedMl.length > 0)
    parts.push(excludedMl.length === 1 ? '1 trial excluded' : `${excludedMl.length} trials excluded`);
  return `${parts.join(', ')}.`;
}
