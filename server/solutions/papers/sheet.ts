/** The sheet of one solution: what was made, from what, with which ware, and how sure its concentration is. */
import { factColumns } from '../../certificates/pdf/facts.ts';
import { INK, MEASURE, PAGE, STYLES } from '../../certificates/pdf/ink.ts';
import { Paper } from '../../certificates/pdf/paper.ts';
import { paperInput } from '../../certificates/pdf/summary.ts';
import { table } from '../../certificates/pdf/table.ts';
import { linesOf } from '../../certificates/pdf/type.ts';
import { DEMONSTRATION, type Fact, moment, NO_LABORATORY } from '../../certificates/statements.ts';
import { drawSquare, squareOf } from '../../labels/square.ts';
import { fixed, significant } from '../../metrology/display.ts';
import { APPROXIMATE, concentrationWords, HAZARDS_BY_HAND, type PreparationPaper } from './facts.ts';

const TITLE = 'Solution';
const CODE = 60;
const USES = {
  'made-up': 'made up in it',
  delivered: 'delivered by it',
  titrated: 'titrated from it',
  'in-stock': 'in the stock',
} as const;
const RULES =
  'Goggles, gloves and the safety data sheet first; the laboratory’s own rules come before these lines. Acid into water. Let it cool before the mark. Never store it in a volumetric flask.';

type Made = PreparationPaper['preparation'];

const known = (label: string, value: string | null): Fact[] => (value === null ? [] : [[label, value]]);

const factsOf = (made: Made): Fact[][] => [
  [
    ['Concentration', concentrationWords(made)],
    ['Uncertainty', `k = ${fixed(made.result.coverageFactor, 2)}, ${Number(made.result.coverageProbability) * 100} %`],
    ...known('Quoted at', made.quotedAtC === null ? null : `${made.quotedAtC} °C`),
    ...known('Balance', made.instruments.map(({ tag }) => tag).join(', ') || null),
  ],
  [
    ['Made', `${made.madeOn}, ${made.recordedBy}`],
    ...known('Expires', made.expiresOn),
    ...known('Water', made.water),
    ...known('Lots', made.lots),
    ...known('Ended', made.end && `${made.end.ending === 'used-up' ? 'used up' : 'discarded'}: ${made.end.reason}`),
  ],
];

/** The same input gives the same bytes. */
export const preparationSheetPdf = async (input: PreparationPaper): Promise<Buffer> => {
  const { preparation, laboratoryName, madeAt } = input;
  const laboratory = laboratoryName ?? NO_LABORATORY;
  const made = `As the record stood on ${moment(madeAt)}`;
  const paper = new Paper(
    paperInput(input, `${TITLE} ${preparation.number}`, { laboratory, banner: DEMONSTRATION, made }),
  );
  const square = await squareOf(preparation.number, 'qr');
  drawHead(paper, preparation, (x, y) => drawSquare(paper.document, square, { x, y, side: CODE }));
  factColumns(
    paper,
    factsOf(preparation).map((facts) => [{ heading: null, facts }]),
  );
  paper.space(4);
  if (preparation.approximate) paper.paragraph(APPROXIMATE, STYLES.strong);
  paper.paragraph(`${HAZARDS_BY_HAND} ${preparation.hazardLine ?? '_'.repeat(60)}`);
  paper.paragraph(RULES, STYLES.small);
  if (preparation.note !== null) paper.paragraph(preparation.note);
  wareTable(paper, preparation.result);
  budgetTable(paper, preparation.result);
  for (const { detail } of preparation.result.findings) paper.item(detail);
  return paper.finish();
};

function drawHead(paper: Paper, { number, title }: Made, drawCode: (x: number, y: number) => void): void {
  const top = paper.y + 2;
  const left = PAGE.left + MEASURE - CODE;
  const bbox: [number, number, number, number] = [left, top - 4, left + CODE, top - 4 + CODE];
  paper.draw('Figure', () => drawCode(left, top - 4), { alt: `QR code of the number ${number}`, bbox });
  const lines = linesOf(paper.document, title, MEASURE - CODE - 10, STYLES.title);
  paper.draw('H1', () =>
    lines.forEach((line, down) => paper.set(line, PAGE.left, top + down * STYLES.title.leading, STYLES.title)),
  );
  paper.y = top + lines.length * STYLES.title.leading + 2;
  paper.draw('P', () => paper.set(`${TITLE} ${number}`, PAGE.left, paper.y, STYLES.lead));
  paper.y = Math.max(paper.y + STYLES.lead.leading + 4, top + CODE);
  paper.decorate(() => paper.rule(paper.y, INK.water, 1.4));
  paper.space(8);
}

function wareTable(paper: Paper, { vessels }: Made['result']): void {
  if (vessels.length === 0) return;
  paper.section('Ware');
  table(
    paper,
    [
      { head: 'Vessel', share: 3 },
      { head: 'Use', share: 3 },
      { head: 'Nominal mL', share: 2, align: 'right' },
      { head: 'Volume used mL', share: 2, align: 'right' },
      { head: 'From', share: 2 },
    ],
    vessels.map(({ tag, use, nominalMl, volumeMl, calibrationId }) => ({
      cells: [
        tag,
        USES[use],
        String(nominalMl),
        significant(volumeMl, 6),
        calibrationId === null ? 'its tolerance' : 'calibration',
      ],
    })),
  );
}

function budgetTable(paper: Paper, { budget, unit }: Made['result']): void {
  paper.section('Uncertainty');
  const lines = budget.filter(({ contribution }) => contribution !== 0);
  table(
    paper,
    [
      { head: 'Influence', share: 5 },
      { head: 'Standard uncertainty', share: 3, align: 'right' },
      { head: `Contribution ${unit}`, share: 3, align: 'right' },
      { head: 'Share', share: 1.5, align: 'right' },
    ],
    [...lines]
      .sort((one, other) => other.share - one.share)
      .map((line) => ({
        cells: [
          line.assumed ? `${line.label} (assumed)` : line.label,
          `${significant(line.standardUncertainty, 2)} ${line.unit === '1' ? '' : line.unit}`.trim(),
          significant(line.contribution, 2),
          `${fixed(100 * line.share, 0)} %`,
        ],
      })),
  );
}
