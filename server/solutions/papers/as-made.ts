/** How a solution was made, for its sheet: what it was made from, and each step or titration in its order. */
import type { Paper } from '../../certificates/pdf/paper.ts';
import { table } from '../../certificates/pdf/table.ts';
import type { Fact } from '../../certificates/statements.ts';
import { significant } from '../../metrology/display.ts';
import { percentWords, stepsAsMade, titrationsAsMade } from '../../metrology/solutions/as-made.ts';
import type { DilutionBody, SolidBody, SolutionBody, StandardisationBody, SubstanceBody } from '../contract.ts';
import type { PreparationPaper } from './facts.ts';

type Made = PreparationPaper['preparation'];

/** The record carries loosely what was typed. */
const typedOf = ({ solution }: Pick<Made, 'solution'>): SolutionBody => solution as SolutionBody;

const ofSubstance = (label: string, { name, formula, purity, purityHalfWidth, lot }: SubstanceBody): Fact[] => [
  [label, formula === name ? name : `${name}, ${formula}`],
  ['Purity', `${percentWords(purity)} % ± ${percentWords(purityHalfWidth)} %`],
  ...(lot ? [['Lot', lot] as Fact] : []),
];

const ofSolid = ({ substance, target, weighing, madeUp }: SolidBody): Fact[] => [
  ...ofSubstance('Substance', substance),
  ['Wanted', `${target.value} ${target.unit}`],
  ...(weighing ? [['Weighed', `${weighing.massG} g`] as Fact] : []),
  madeUp.by === 'mass' ? ['Solution', `${madeUp.solutionG} g`] : ['Solution at', `${madeUp.temperatureC} °C`],
];

const ofDilution = ({ stock, temperatureC }: DilutionBody, stockNumber: string | null): Fact[] => [
  ['Stock', 'name' in stock ? stock.name : (stockNumber ?? stock.preparationId)],
  ['Solution at', `${temperatureC} °C`],
];

const ofStandardisation = (body: StandardisationBody, stockNumber: string | null): Fact[] => {
  const { titrant, standard, molesPerMole, temperatureC } = body;
  return [
    ['Titrant', titrant.formula === undefined ? titrant.name : `${titrant.name}, ${titrant.formula}`],
    ...(standard.from === 'solid'
      ? ofSubstance('Standard', standard.substance)
      : [['Standard', stockNumber ?? standard.preparationId] as Fact]),
    ['Reaction', `${molesPerMole} mol of the titrant for 1 mol of the standard`],
    ['Solution at', `${temperatureC} °C`],
  ];
};

/** What it was made from, as it was typed. */
export const madeFrom = (made: Made, stockNumber: string | null): Fact[] => {
  const typed = typedOf(made);
  switch (typed.way) {
    case 'solid':
      return ofSolid(typed);
    case 'dilution':
      return ofDilution(typed, stockNumber);
    case 'standardisation':
      return ofStandardisation(typed, stockNumber);
  }
};

/** The steps of a dilution or the titrations of a standardisation; a solid is weighed once and its facts say so. */
export function asMadeTable(paper: Paper, made: Made): void {
  const typed = typedOf(made);
  if (typed.way === 'dilution') stepsTable(paper, typed, made.result);
  if (typed.way === 'standardisation') titrationsTable(paper, typed, made.result);
}

const atMark = ({ tag, nominalMl }: { tag: string; nominalMl: number }): string => `${nominalMl} mL with ${tag}`;

function stepsTable(paper: Paper, body: DilutionBody, { vessels, steps }: Made['result']): void {
  paper.section('Steps, in their order');
  table(
    paper,
    [
      { head: 'Step', share: 1 },
      { head: 'Taken from', share: 2 },
      { head: 'Measured out', share: 3.5 },
      { head: 'Made up to', share: 3 },
      { head: 'After it', share: 3.5, align: 'right' },
    ],
    stepsAsMade(body, vessels).map(({ deliveries, madeUpIn }, index) => {
      const after = steps?.[index];
      return {
        cells: [
          String(index + 1),
          index === 0 ? 'the stock' : `step ${index}`,
          deliveries.map(atMark).join(', '),
          madeUpIn === null ? '' : `${madeUpIn.nominalMl} mL in ${madeUpIn.tag}`,
          after
            ? `${significant(after.value, after.significantDigits)} ± ${significant(after.expandedUncertainty, 2)} ${after.unit}`
            : '',
        ],
      };
    }),
  );
}

function titrationsTable(paper: Paper, body: StandardisationBody, result: Made['result']): void {
  const rows = titrationsAsMade(body, result);
  const isWeighed = rows.some(({ massG }) => massG !== null);
  paper.section('Titrations');
  table(
    paper,
    [
      { head: 'No.', share: 1 },
      isWeighed
        ? { head: 'Weighed g', share: 2, align: 'right' as const }
        : { head: 'Standard', share: 3, align: 'left' as const },
      { head: 'Burette from mL', share: 2, align: 'right' },
      { head: 'to mL', share: 2, align: 'right' },
      { head: 'By its scale mL', share: 2, align: 'right' },
      { head: `Result ${result.unit}`, share: 2.5, align: 'right' },
    ],
    rows.map(({ massG, pipette, buretteFromMl, buretteToMl, usedMl, single }, index) => ({
      cells: [
        String(index + 1),
        massG ?? (pipette === null ? '' : atMark(pipette)),
        buretteFromMl,
        buretteToMl,
        usedMl,
        single === null ? '' : significant(single, result.significantDigits + 1),
      ],
    })),
  );
}
