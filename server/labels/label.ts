/** One label: the code on the left, beside it the tag, the verdict, until when, and since when. */
import { INK, type Style } from '../certificates/pdf/ink.ts';
import { drawVerdictMark, verdictColour } from '../certificates/pdf/strip.ts';
import { linesOf, printable, useStyle } from '../certificates/pdf/type.ts';
import { verdictWords } from '../certificates/words.ts';
import type { Verdict } from '../metrology/result.ts';
import type { LabelFacts } from './contract.ts';
import { drawSquare, type Square } from './square.ts';

type Canvas = PDFKit.PDFDocument;

export interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** Lengths in points. No text is smaller than 7 points. */
const PADDING = 3.4;
const SMALLEST = 7;
const LARGEST = 9.5;
const LARGEST_TAG = 13;
const LEADING = 1.26;
/** A code larger than 22 mm is no better to read. */
const WIDEST_CODE = 62;
/** Of a verdict, as it is drawn before scaling. */
const MARK = { width: 28, height: 18 };

const styleOf = (size: number, font: Style['font'] = 'regular', colour: string = INK.ink): Style => ({
  ...{ font, size, colour, leading: size * LEADING },
});

const set = (canvas: Canvas, text: string, x: number, y: number, style: Style): void => {
  useStyle(canvas, style);
  canvas.text(printable(canvas, text), x, y + (style.leading - style.size * 1.36) / 2, { lineBreak: false });
};

/** What stands below the tag, the most needed first; each line with its width at a size. */
interface Line {
  text: string;
  verdict: Verdict | null;
}

const linesBelow = ({ verdict, dueOn, performedOn }: LabelFacts): Line[] => [
  ...(performedOn === null ? [{ text: 'not calibrated', verdict: null }] : []),
  ...(verdict === null ? [] : [{ text: verdictWords[verdict], verdict }]),
  ...(dueOn === null ? [] : [{ text: `due ${dueOn}`, verdict: null }]),
  ...(performedOn === null ? [] : [{ text: `on ${performedOn}`, verdict: null }]),
];

const lineStyle = ({ verdict }: Line, size: number): Style =>
  verdict === null ? styleOf(size) : styleOf(size, 'strong', verdictColour[verdict]);

const markScale = (size: number): number => (size * LEADING - 1) / MARK.height;
const markWidth = ({ verdict }: Line, size: number): number =>
  verdict === null ? 0 : MARK.width * markScale(size) + 2;

const widthOf = (canvas: Canvas, line: Line, size: number): number => {
  useStyle(canvas, lineStyle(line, size));
  return markWidth(line, size) + canvas.widthOfString(line.text);
};

const setLine = (canvas: Canvas, line: Line, x: number, y: number, size: number): void => {
  if (line.verdict !== null) drawVerdictMark(canvas, line.verdict, { x, y: y + 0.5 }, markScale(size));
  set(canvas, line.text, x + markWidth(line, size), y, lineStyle(line, size));
};

/** Size of the lines: as large as leaves the code most of its place. */
const sizeFor = (canvas: Canvas, lines: readonly Line[], inner: Box): { size: number; width: number } => {
  for (let size = LARGEST; ; size -= 0.5) {
    const width = Math.max(0, ...lines.map((line) => widthOf(canvas, line, size)));
    const fits = (lines.length + 1) * size * LEADING <= inner.height && width <= inner.width * 0.55;
    if (fits || size <= SMALLEST) return { size, width };
  }
};

/** The tag as large as it fits in one line; in lines of the smallest size where it does not. */
const tagIn = (canvas: Canvas, tag: string, inner: Box, below: number): { style: Style; lines: string[] } => {
  for (let size = LARGEST_TAG; size >= SMALLEST; size -= 0.5) {
    const style = styleOf(size, 'strong');
    useStyle(canvas, style);
    const isRoom = style.leading + below <= inner.height || size === SMALLEST;
    if (isRoom && canvas.widthOfString(printable(canvas, tag)) <= inner.width) return { style, lines: [tag] };
  }
  const style = styleOf(SMALLEST, 'strong');
  const most = Math.max(1, Math.floor(inner.height / style.leading));
  const lines = linesOf(canvas, tag, inner.width, style);
  return { style, lines: lines.length > most ? [...lines.slice(0, most - 1), '…'] : lines };
};

/** Where not all lines fit, the day goes first, then the day due; the tag stays. */
export const drawLabel = (canvas: Canvas, facts: LabelFacts, square: Square, box: Box): void => {
  const [width, height] = [box.width - 2 * PADDING, box.height - 2 * PADDING];
  const inner = { x: box.x + PADDING, y: box.y + PADDING, width, height };
  const wanted = linesBelow(facts);
  const { size, width: textWidth } = sizeFor(canvas, wanted, inner);
  const side = Math.min(height, WIDEST_CODE, width - PADDING - textWidth);
  drawSquare(canvas, square, { x: inner.x, y: inner.y + (height - side) / 2, side });
  const x = inner.x + side + PADDING / 2;
  const leading = size * LEADING;
  const forTag = { ...inner, width: inner.x + width - x };
  const { style, lines } = tagIn(canvas, facts.tag, forTag, wanted.length * leading);
  const tagHeight = lines.length * style.leading;
  const shown = wanted.slice(0, Math.max(0, Math.floor((height - tagHeight) / leading + 0.01)));
  let y = inner.y + (height - tagHeight - shown.length * leading) / 2;
  for (const line of lines) {
    set(canvas, line, x, y, style);
    y += style.leading;
  }
  for (const line of shown) {
    setLine(canvas, line, x, y, size);
    y += leading;
  }
};
