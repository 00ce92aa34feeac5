/** One label: the code on the left, beside it the tag, the verdict, until when, and since when. */
import { INK, type Style } from '../certificates/pdf/ink.ts';
import { drawVerdictMark, verdictColour } from '../certificates/pdf/strip.ts';
import { linesOf, printable, useStyle } from '../certificates/pdf/type.ts';
import { verdictWords } from '../certificates/words.ts';
import type { Verdict } from '../metrology/result.ts';
import type { Square } from './square.ts';

type Canvas = PDFKit.PDFDocument;

export interface LabelFacts {
  tag: string;
  /** Of the last completed calibration; null where none may be printed. */
  verdict: Verdict | null;
  /** ISO days; null where there is none. */
  performedOn: string | null;
  dueOn: string | null;
}

export interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** Lengths in points. No text is smaller than 7 points. */
const PADDING = 3.4;
const SMALL: Style = { font: 'regular', size: 7, colour: INK.ink, leading: 8.8 };
const LARGEST_TAG = 12;
const TAG_LEADING = 1.22;
/** Of the width; what is left is for the text. */
const LARGEST_CODE = 0.45;
/** Wider than a label needs: a code larger than this is no better to read. */
const WIDEST_CODE = 62;

const MARK = { width: 28, height: 18 };

const drawCode = (canvas: Canvas, { side, dark }: Square, at: Box): void => {
  const step = at.width / side;
  for (const [column, row] of dark) canvas.rect(at.x + column * step, at.y + row * step, step, step);
  // One path: single squares would leave hair lines between them.
  canvas.fill('#000000');
};

/** The tag as large as it fits in one line; in lines of 7 points where it does not. */
const tagLines = (canvas: Canvas, tag: string, width: number, height: number): { style: Style; lines: string[] } => {
  for (let size = LARGEST_TAG; size >= SMALL.size; size -= 0.5) {
    const style: Style = { ...SMALL, font: 'strong', size, leading: size * TAG_LEADING };
    useStyle(canvas, style);
    const others = height - style.leading >= 3 * SMALL.leading || size === SMALL.size;
    if (others && canvas.widthOfString(printable(canvas, tag)) <= width) return { style, lines: [tag] };
  }
  const style: Style = { ...SMALL, font: 'strong' };
  const most = Math.max(1, Math.floor(height / style.leading));
  const lines = linesOf(canvas, tag, width, style);
  return { style, lines: lines.length > most ? [...lines.slice(0, most - 1), '…'] : lines };
};

const set = (canvas: Canvas, text: string, x: number, y: number, style: Style): void => {
  useStyle(canvas, style);
  canvas.text(printable(canvas, text), x, y + (style.leading - style.size * 1.36) / 2, { lineBreak: false });
};

const setVerdict = (canvas: Canvas, verdict: Verdict, x: number, y: number): void => {
  const scale = (SMALL.leading - 1) / MARK.height;
  drawVerdictMark(canvas, verdict, { x, y: y + 0.5 }, scale);
  set(canvas, verdictWords[verdict], x + MARK.width * scale + 2, y, {
    ...SMALL,
    font: 'strong',
    colour: verdictColour[verdict],
  });
};

/** Where not all lines fit, the day goes first, then the day due; the tag stays. */
export const drawLabel = (canvas: Canvas, facts: LabelFacts, square: Square, box: Box): void => {
  const inner = box.height - 2 * PADDING;
  const side = Math.min(inner, box.width * LARGEST_CODE, WIDEST_CODE);
  drawCode(canvas, square, { x: box.x + PADDING, y: box.y + (box.height - side) / 2, width: side, height: side });
  const x = box.x + 1.5 * PADDING + side;
  const { style, lines } = tagLines(canvas, facts.tag, box.x + box.width - PADDING - x, inner);
  const { verdict, dueOn, performedOn } = facts;
  const wanted: ((y: number) => void)[] = [
    ...(performedOn === null ? [(y: number) => set(canvas, 'not calibrated', x, y, SMALL)] : []),
    ...(verdict === null ? [] : [(y: number) => setVerdict(canvas, verdict, x, y)]),
    ...(dueOn === null ? [] : [(y: number) => set(canvas, `due ${dueOn}`, x, y, SMALL)]),
    ...(performedOn === null ? [] : [(y: number) => set(canvas, `on ${performedOn}`, x, y, SMALL)]),
  ];
  const tagHeight = lines.length * style.leading;
  const shown = wanted.slice(0, Math.max(0, Math.floor((inner - tagHeight) / SMALL.leading + 0.01)));
  let y = box.y + (box.height - tagHeight - shown.length * SMALL.leading) / 2;
  for (const line of lines) {
    set(canvas, line, x, y, style);
    y += style.leading;
  }
  for (const draw of shown) {
    draw(y);
    y += SMALL.leading;
  }
};
