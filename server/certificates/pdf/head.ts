/** The head of a sheet: its title over a line of what it is, a code at the right end. */
import { INK, MEASURE, PAGE, STYLES } from './ink.ts';
import type { Paper } from './paper.ts';
import { linesOf } from './type.ts';

/** Space between the title and the code, in points. */
const GAP = 10;

export interface CodeAtEnd {
  alt: string;
  /** Length of a side, in points. */
  side: number;
  draw: (x: number, y: number) => void;
}

/** The title, over as many lines as it needs. */
export function sheetTitle(paper: Paper, text: string, width: number = MEASURE): void {
  const top = paper.y + 2;
  const lines = linesOf(paper.document, text, width, STYLES.title);
  paper.draw('H1', () =>
    lines.forEach((line, down) => paper.set(line, PAGE.left, top + down * STYLES.title.leading, STYLES.title)),
  );
  paper.y = top + lines.length * STYLES.title.leading + 2;
}

export function sheetHead(paper: Paper, { title, lead, code }: { title: string; lead: string; code: CodeAtEnd }): void {
  const top = paper.y + 2;
  const left = PAGE.left + MEASURE - code.side;
  const bbox: [number, number, number, number] = [left, top - 4, left + code.side, top - 4 + code.side];
  paper.draw('Figure', () => code.draw(left, top - 4), { alt: code.alt, bbox });
  sheetTitle(paper, title, MEASURE - code.side - GAP);
  paper.draw('P', () => paper.set(lead, PAGE.left, paper.y, STYLES.lead));
  paper.y = Math.max(paper.y + STYLES.lead.leading + 4, top + code.side);
  paper.decorate(() => paper.rule(paper.y, INK.water, 1.4));
  paper.space(8);
}
