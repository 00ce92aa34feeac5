/** Tables over as many pages as they need: heads repeat, and no row is cut unless it alone is higher than a page. */
import { INK, MEASURE, PAGE, STYLES, type Style } from './ink.ts';
import type { Paper, Structure } from './paper.ts';
import { linesOf, useStyle } from './type.ts';

export interface Column {
  head: string;
  /** Share of the width. */
  share: number;
  align?: 'left' | 'right';
  /** Numbers stand on their decimal mark, right aligned. */
  decimal?: boolean;
}

/** Drawn in a cell; `alt` says the same in words. */
export interface CellFigure {
  height: number;
  alt: string;
  draw: (x: number, y: number, width: number) => void;
}

export type Cell = string | { text: string; /** Stands struck out before the text. */ instead?: string } | CellFigure;

export interface Row {
  cells: readonly Cell[];
  /** Lines below the row over the whole width, kept with it. */
  notes?: readonly string[];
  /** The row does not count: quiet and struck through. */
  struck?: boolean;
  strong?: boolean;
}

const PAD = 3;

interface Placed extends Column {
  x: number;
  width: number;
  most: number;
}

export function table(paper: Paper, columns: readonly Column[], rows: readonly Row[], repeated = true): void {
  const placed = place(columns, rows);
  const element = paper.tag('Table');
  const rowsHigh = rows.map((row) => heightOf(paper, placed, row));
  const head = headOf(paper, placed);
  paper.need(head.height + (rowsHigh[0] ?? 0));
  drawHead(paper, placed, head, element);
  rows.forEach((row, index) => {
    const height = rowsHigh[index] ?? 0;
    if (paper.room < Math.min(height, bodyOf(paper, placed, row).height + 3 * STYLES.small.leading)) {
      paper.newPage();
      if (repeated) drawHead(paper, placed, head, null);
    } else if (paper.room < height && height < paper.height - PAGE.top - PAGE.bottom - head.height) {
      paper.newPage();
      if (repeated) drawHead(paper, placed, head, null);
    }
    drawRow(paper, placed, row, element);
  });
  paper.space(5);
}

function place(columns: readonly Column[], rows: readonly Row[]): Placed[] {
  const shares = columns.reduce((sum, { share }) => sum + share, 0);
  let x: number = PAGE.left;
  return columns.map((column, index) => {
    const width = (column.share / shares) * MEASURE;
    const most = Math.max(0, ...(column.decimal ? rows.map(({ cells }) => decimalsIn(cells[index] ?? '')) : []));
    const at = { ...column, x, width, most };
    x += width;
    return at;
  });
}

const textOf = (cell: Cell): string => (typeof cell === 'string' ? cell : 'text' in cell ? cell.text : '');
const NUMBER = /^[+−-]?\d+(\.(\d+))?$/;
const decimalsIn = (cell: Cell): number => NUMBER.exec(textOf(cell))?.[2]?.length ?? 0;

interface Head {
  lines: string[][];
  height: number;
}

function headOf(paper: Paper, columns: readonly Placed[]): Head {
  const lines = columns.map(({ head, width }) => linesOf(paper.document, head, width - 2 * PAD, STYLES.head));
  return { lines, height: Math.max(...lines.map(({ length }) => length)) * STYLES.head.leading + 6 };
}

function drawHead(paper: Paper, columns: readonly Placed[], { lines, height }: Head, element: Structure | null): void {
  const top = paper.y;
  paper.decorate(() => {
    paper.document.rect(PAGE.left, top, MEASURE, height).fill(INK.shade);
    paper.rule(top + height, INK.line);
  });
  const row = element === null ? null : paper.tag('TR', {}, element);
  columns.forEach((column, index) => {
    const draw = (): void =>
      (lines[index] ?? []).forEach((line, down) => {
        const y = top + 3 + down * STYLES.head.leading;
        paper.set(line, column.x + PAD, y, STYLES.head, sideOf(column), column.width - 2 * PAD);
      });
    if (row === null) paper.decorate(draw);
    else paper.draw('TH', draw, { scope: 'Column' }, row);
  });
  paper.y = top + height;
}

const sideOf = ({ align, decimal }: Column): 'left' | 'right' => (decimal ? 'right' : (align ?? 'left'));

const styleOf = ({ strong, struck }: Row): Style =>
  struck ? STYLES.smallQuiet : strong ? STYLES.smallStrong : STYLES.small;

interface Body {
  /** Lines of each cell; none for a figure. */
  lines: { text: string[]; instead: string | null }[];
  height: number;
}

function bodyOf(paper: Paper, columns: readonly Placed[], row: Row): Body {
  const style = styleOf(row);
  let height = 0;
  const lines = columns.map(({ width }, index) => {
    const cell = row.cells[index] ?? '';
    if (typeof cell !== 'string' && 'draw' in cell) {
      height = Math.max(height, cell.height);
      return { text: [], instead: null };
    }
    const instead = typeof cell === 'string' ? null : (cell.instead ?? null);
    const text = linesOf(paper.document, textOf(cell), width - 2 * PAD, style);
    height = Math.max(height, (text.length + (instead === null ? 0 : 1)) * style.leading);
    return { text, instead };
  });
  return { lines, height: height + 4 };
}

const noteLines = (paper: Paper, notes: readonly string[]): string[] =>
  notes.flatMap((note) => linesOf(paper.document, note, MEASURE - 30, STYLES.smallQuiet));

function heightOf(paper: Paper, columns: readonly Placed[], row: Row): number {
  const notes =
    row.notes === undefined || row.notes.length === 0
      ? 0
      : noteLines(paper, row.notes).length * STYLES.smallQuiet.leading + 2;
  return bodyOf(paper, columns, row).height + notes;
}

function drawRow(paper: Paper, columns: readonly Placed[], row: Row, element: Structure): void {
  const body = bodyOf(paper, columns, row);
  const top = paper.y;
  const tagged = paper.tag('TR', {}, element);
  columns.forEach((column, index) => {
    const cell = row.cells[index] ?? '';
    const [type, options] = index === 0 ? (['TH', { scope: 'Row' }] as const) : (['TD', {}] as const);
    if (typeof cell !== 'string' && 'draw' in cell) drawFigure(paper, cell, column, paper.tag(type, options, tagged));
    else paper.draw(type, () => drawCell(paper, column, body.lines[index]!, row, top), options, tagged);
  });
  if (row.struck) paper.decorate(() => strike(paper, columns, top + 2 + STYLES.small.leading * 0.55));
  paper.y = top + body.height;
  if (row.notes !== undefined && row.notes.length > 0) {
    const below = paper.tag('TD', {}, tagged);
    paper.flow(noteLines(paper, row.notes), STYLES.smallQuiet, below, PAGE.left + 24);
    paper.space(2);
  }
  const end = paper.y;
  paper.decorate(() => paper.rule(end, INK.hair, 0.4));
}

function drawFigure(paper: Paper, figure: CellFigure, column: Placed, parent: Structure): void {
  const [x, y, width] = [column.x + PAD, paper.y + 2, column.width - 2 * PAD];
  const bbox: [number, number, number, number] = [x, y, x + width, y + figure.height];
  paper.draw('Figure', () => figure.draw(x, y, width), { alt: figure.alt, bbox }, parent);
}

function drawCell(paper: Paper, column: Placed, cell: Body['lines'][number], row: Row, top: number): void {
  const style = styleOf(row);
  const width = column.width - 2 * PAD;
  let y = top + 2;
  if (cell.instead !== null) {
    const quiet = { ...STYLES.smallQuiet };
    setNumber(paper, column, cell.instead, y, quiet, width);
    useStyle(paper.document, quiet);
    const long = paper.document.widthOfString(cell.instead);
    const right = column.x + PAD + (sideOf(column) === 'right' ? width - pad(paper, column, cell.instead) : long);
    paper.document
      .moveTo(right - long, y + style.leading * 0.55)
      .lineTo(right, y + style.leading * 0.55)
      .lineWidth(0.6)
      .strokeColor(INK.quiet)
      .stroke();
    y += style.leading;
  }
  for (const line of cell.text) {
    setNumber(paper, column, line, y, style, width);
    y += style.leading;
  }
}

function setNumber(paper: Paper, column: Placed, text: string, y: number, style: Style, width: number): void {
  useStyle(paper.document, style);
  paper.set(text, column.x + PAD, y, style, sideOf(column), width - pad(paper, column, text));
}

/** Width of the decimals a number lacks against the longest of its column. */
function pad(paper: Paper, column: Placed, text: string): number {
  if (!column.decimal || !NUMBER.test(text)) return 0;
  const own = decimalsIn(text);
  const missing = (own === 0 && column.most > 0 ? '.' : '') + '0'.repeat(column.most - own);
  return missing === '' ? 0 : paper.document.widthOfString(missing);
}

function strike(paper: Paper, columns: readonly Placed[], y: number): void {
  const last = columns.at(-1);
  paper.document
    .moveTo(PAGE.left + PAD, y)
    .lineTo((last?.x ?? PAGE.left) + (last?.width ?? MEASURE) - PAD, y)
    .lineWidth(0.6)
    .strokeColor(INK.quiet)
    .stroke();
}
