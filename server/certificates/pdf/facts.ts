/** Pairs of a label and what belongs to it, in columns side by side. */
import type { Fact } from '../statements.ts';
import { INK, MEASURE, PAGE, STYLES } from './ink.ts';
import type { Paper } from './paper.ts';
import { linesOf } from './type.ts';

export interface FactGroup {
  heading: string | null;
  facts: readonly Fact[];
}

const GAP = 20;
const LABEL = 82;

/** Each column holds groups one below the other. Columns stay together on a page as long as they fit one. */
export function factColumns(paper: Paper, columns: readonly (readonly FactGroup[])[]): void {
  const width = (MEASURE - GAP * (columns.length - 1)) / columns.length;
  const set = columns.map((groups) => groups.flatMap((group) => linesOfGroup(paper, group, width)));
  const height = Math.max(...set.map((lines) => lines.reduce((sum, { high }) => sum + high, 0)));
  paper.need(Math.min(height, paper.height - PAGE.top - PAGE.bottom));
  const top = paper.y;
  set.forEach((lines, index) => {
    let y = top;
    for (const line of lines) {
      line.draw(PAGE.left + index * (width + GAP), y);
      y += line.high;
    }
  });
  paper.y = top + height;
}

interface Line {
  high: number;
  draw: (x: number, y: number) => void;
}

function linesOfGroup(paper: Paper, { heading, facts }: FactGroup, width: number): Line[] {
  const head: Line[] =
    heading === null
      ? []
      : [
          {
            high: STYLES.heading.leading + 8,
            draw: (x, y) => {
              paper.draw('H2', () => paper.set(heading, x, y, STYLES.heading));
              paper.decorate(() => {
                const line = y + STYLES.heading.leading + 2.5;
                paper.document
                  .moveTo(x, line)
                  .lineTo(x + width, line)
                  .lineWidth(0.6)
                  .strokeColor(INK.hair)
                  .stroke();
              });
            },
          },
        ];
  const pairs = facts.map(([label, value]): Line => {
    const lines = linesOf(paper.document, value, width - LABEL, STYLES.body);
    return {
      high: lines.length * STYLES.body.leading + 1.5,
      draw: (x, y) =>
        paper.draw('P', () => {
          paper.set(label, x, y, STYLES.quiet);
          lines.forEach((line, down) => paper.set(line, x + LABEL, y + down * STYLES.body.leading, STYLES.body));
        }),
    };
  });
  return [...head, ...pairs, { high: 8, draw: () => undefined }];
}
