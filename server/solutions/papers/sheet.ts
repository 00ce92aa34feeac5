/** The sheet of one solution: what was made, from what, with which ware, and how sure its concentration is. */
import { factColumns } from '../../certificates/pdf/facts.ts';
import { sheetHead } from '../../certificates/pdf/head.ts';
import { STYLES } from '../../certificates/pdf/ink.ts';
import { Paper } from '../../certificates/pdf/paper.ts';
import { paperInput } from '../../certificates/pdf/summary.ts';
import { table } from '../../certificates/pdf/table.ts';
import { DEMONSTRATION, type Fact, moment, NO_LABORATORY } from '../../certificates/statements.ts';
import { drawSquare, squareOf } from '../../labels/square.ts';
import { fixed, significant } from '../../metrology/display.ts';
import { asMadeTable, madeFrom } from './as-made.ts';
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

const factsOf = (made: Made, stockNumber: string | null): Fact[][] => [
  [
    ['Concentration', concentrationWords(made)],
    ['Uncertainty', `k = ${fixed(made.result.coverageFactor, 2)}, ${Number(made.result.coverageProbability) * 100} %`],
    ...known('Quoted at', made.quotedAtC === null ? null : `${made.quotedAtC} °C`),
    ...madeFrom(made, stockNumber),
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
  const { number, title } = preparation;
  sheetHead(paper, {
    title,
    lead: `${TITLE} ${number}`,
    code: {
      ...{ alt: `QR code of the number ${number}`, side: CODE },
      draw: (x, y) => drawSquare(paper.document, square, { x, y, side: CODE }),
    },
  });
  factColumns(
    paper,
    factsOf(preparation, input.stockNumber).map((facts) => [{ heading: null, facts }]),
  );
  paper.space(4);
  if (preparation.approximate) paper.paragraph(APPROXIMATE, STYLES.strong);
  paper.paragraph(`${HAZARDS_BY_HAND} ${preparation.hazardLine ?? '_'.repeat(60)}`);
  paper.paragraph(RULES, STYLES.small);
  if (preparation.note !== null) paper.paragraph(preparation.note);
  asMadeTable(paper, preparation);
  wareTable(paper, preparation.result);
  budgetTable(paper, preparation.result);
  for (const { detail } of preparation.result.findings) paper.item(detail);
  return paper.finish();
};

function wareTable(paper: Paper, { vessels }: Made['result']): void {
  if (vessels.length === 0) return;
  paper.section('Ware');
  table(
    paper,
    [
      { head: 'Vessel', share: 3 },
      { head: 'Use', share: 3 },
      { head: 'By its marks mL', share: 2, align: 'right' },
      { head: 'Volume that counted mL', share: 2, align: 'right' },
      { head: 'From', share: 2 },
    ],
    vessels.map(({ tag, use, nominalMl, volumeMl, calibrationId }) => ({
      cells: [
        tag,
        USES[use],
        String(Number(nominalMl.toPrecision(9))),
        significant(volumeMl, 6),
        calibrationId === null ? 'its tolerance' : 'calibration',
      ],
    })),
  );
}

/** What has a share never stands there as none. */
const shareWords = (share: number): string => (share > 0 && share < 0.005 ? '< 1' : fixed(100 * share, 0));

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
          `${shareWords(line.share)} %`,
        ],
      })),
  );
}
