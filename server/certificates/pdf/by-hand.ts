/** What is filled in by hand: tables with room to write, boxes to tick, lines to write on. */
import { INK, MEASURE, PAGE, STYLES } from './ink.ts';
import type { Paper, Structure } from './paper.ts';
import { linesOf } from './type.ts';

const PAD = 3;
const BOX = 7;
const LINE = 20;

export interface GridColumn {
  head: string;
  /** Share of the width. */
  share: number;
}

interface Placed {
  head: string;
  x: number;
  width: number;
}

function place(columns: readonly GridColumn[]): Placed[] {
  const shares = columns.reduce((sum, { share }) => sum + share, 0);
  let x: number = PAGE.left;
  return columns.map(({ head, share }) => {
    const width = (share / shares) * MEASURE;
    x += width;
    return { head, x: x - width, width };
  });
}

/** A picture at the right end of the first cell. */
export interface RowMark {
  alt: string;
  /** Length of a side, in points. */
  side: number;
  draw: (x: number, y: number) => void;
}

export type GridRow = readonly string[] | { cells: readonly string[]; mark: RowMark };

const cellsOf = (row: GridRow): readonly string[] => ('cells' in row ? row.cells : row);
const markOf = (row: GridRow): RowMark | null => ('cells' in row ? row.mark : null);

/** Lines between the columns too: a hand needs to know where a cell ends. */
function frame(paper: Paper, columns: readonly Placed[], top: number, height: number): void {
  paper.decorate(() => {
    for (const { x, width } of columns) {
      paper.document.rect(x, top, width, height).lineWidth(0.6).strokeColor(INK.line).stroke();
    }
  });
}

interface Line {
  cells: readonly string[];
  tag: 'TH' | 'TD';
  style: typeof STYLES.small;
  mark: RowMark | null;
}

function drawLine(paper: Paper, columns: readonly Placed[], line: Line, height: number, element: Structure): void {
  const top = paper.y;
  const row = paper.tag('TR', {}, element);
  columns.forEach((column, index) => {
    const room = textWidth(column, index, line.mark);
    const lines = linesOf(paper.document, line.cells[index] ?? '', room, line.style);
    const draw = (): void =>
      lines.forEach((text, down) => paper.set(text, column.x + PAD, top + 2 + down * line.style.leading, line.style));
    const scope = line.tag === 'TH' ? 'Column' : 'Row';
    const isHead = line.tag === 'TH' || index === 0;
    const cell = paper.tag(isHead ? 'TH' : 'TD', isHead ? { scope } : {}, row);
    cell.add(draw);
    if (index === 0 && line.mark) drawMark(paper, column, line.mark, cell);
  });
  frame(paper, columns, top, height);
  paper.y = top + height;
}

const textWidth = ({ width }: Placed, index: number, mark: RowMark | null): number =>
  width - 2 * PAD - (index === 0 && mark ? mark.side : 0);

function drawMark(paper: Paper, { x, width }: Placed, { alt, side, draw }: RowMark, cell: Structure): void {
  const [left, top] = [x + width - side - 1, paper.y + 1];
  const bbox: [number, number, number, number] = [left, top, left + side, top + side];
  paper.draw('Figure', () => draw(left, top), { alt, bbox }, cell);
}

/** Rows at least so high, the head again on each page. Empty cells are there to be written in. */
export function grid(paper: Paper, columns: readonly GridColumn[], rows: readonly GridRow[], least: number): void {
  const placed = place(columns);
  const element = paper.tag('Table');
  const highest = (row: GridRow, style: typeof STYLES.small): number => {
    const lines = placed.map((column, index) =>
      linesOf(paper.document, cellsOf(row)[index] ?? '', textWidth(column, index, markOf(row)), style),
    );
    const text = Math.max(...lines.map(({ length }) => length)) * style.leading + 4;
    return Math.max(text, (markOf(row)?.side ?? 0) + 2);
  };
  const heads = placed.map(({ head }) => head);
  const headHeight = highest(heads, STYLES.head);
  const drawHead = (): void =>
    drawLine(paper, placed, { cells: heads, tag: 'TH', style: STYLES.head, mark: null }, headHeight, element);
  const heights = rows.map((row) => Math.max(least, highest(row, STYLES.small)));
  paper.need(headHeight + (heights[0] ?? 0));
  drawHead();
  rows.forEach((row, index) => {
    const height = heights[index] ?? least;
    if (paper.room < height) {
      paper.newPage();
      drawHead();
    }
    const line: Line = { cells: cellsOf(row), tag: 'TD', style: STYLES.small, mark: markOf(row) };
    drawLine(paper, placed, line, height, element);
  });
  paper.space(6);
}

export interface Option {
  text: string;
  ticked: boolean;
}

/** Boxes to tick, side by side over as many lines as they need. */
export function options(paper: Paper, all: readonly Option[]): void {
  const style = STYLES.body;
  let x: number = PAGE.left;
  for (const { text, ticked } of all) {
    const [line = ''] = linesOf(paper.document, text, MEASURE - BOX - 8, style);
    const width = BOX + 5 + paper.document.widthOfString(line) + 16;
    if (x > PAGE.left && x + width > PAGE.left + MEASURE) {
      x = PAGE.left;
      paper.y += style.leading + 1;
    }
    const [left, y] = [x, paper.y];
    paper.decorate(() => box(paper, left, y + 2, ticked));
    paper.draw('P', () => paper.set(line, left + BOX + 5, y, style));
    x += width;
  }
  paper.y += style.leading + 3;
}

function box(paper: Paper, x: number, y: number, ticked: boolean): void {
  const { document } = paper;
  document.rect(x, y, BOX, BOX).lineWidth(0.8).strokeColor(INK.line).stroke();
  if (!ticked) return;
  document
    .moveTo(x + 1, y + 1)
    .lineTo(x + BOX - 1, y + BOX - 1)
    .moveTo(x + BOX - 1, y + 1)
    .lineTo(x + 1, y + BOX - 1);
  document.lineWidth(1.4).strokeColor(INK.ink).stroke();
}

/** A word and a line to write on behind it. */
export function writingLine(paper: Paper, word: string): void {
  paper.need(LINE);
  const y = paper.y;
  paper.draw('P', () => paper.set(word, PAGE.left, y + LINE - STYLES.quiet.leading - 2, STYLES.quiet));
  const from = PAGE.left + paper.document.widthOfString(word) + 5;
  paper.decorate(() =>
    paper.document
      .moveTo(from, y + LINE - 3)
      .lineTo(PAGE.left + MEASURE, y + LINE - 3)
      .lineWidth(0.5)
      .strokeColor(INK.line)
      .stroke(),
  );
  paper.y = y + LINE + 3;
}
