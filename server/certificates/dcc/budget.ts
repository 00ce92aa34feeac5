/** The uncertainty budget of each test point, component by component, as elements. */
import { decimalsFor, roundedText } from '../../metrology/display.ts';
import type { BudgetLine, PointResult } from '../../metrology/result.ts';
import type { Issued } from '../issued.ts';
import { componentWords, distributionWords } from '../words.ts';
import { quantity, real, text, type Element } from './element.ts';

/** Digits of a contribution; two more than a result is given with, so that their squares still add up. */
const DIGITS = 4;

/** @returns one `dcc:result` for each point that has a budget */
export const budgetResults = (issued: Issued): Element[] =>
  issued.result.points.flatMap((point, at) => (point.budget.length === 0 ? [] : [budgetOf(point, at)]));

const budgetOf = (point: PointResult, at: number): Element => ({
  '@id': `budget-${at + 1}`,
  'dcc:name': text(`Uncertainty budget at ${point.pointMl} mL`),
  'dcc:description': text(
    'Standard uncertainties that the components contribute to the mean volume; their squares add up to that of the last.',
  ),
  'dcc:data': {
    'dcc:list': {
      'dcc:quantity': [
        ...point.budget.map(component),
        ...(point.combinedUncertaintyMl === null
          ? []
          : [quantity('Together, combined standard uncertainty', real(shown(point.combinedUncertaintyMl), 'mL'))]),
      ],
    },
  },
});

const component = (line: BudgetLine): Element => ({
  'dcc:name': text(componentWords[line.component] ?? line.component),
  'dcc:description': text(describe(line)),
  ...real(shown(Math.abs(line.contributionMl)), 'mL'),
});

const describe = ({ standardUncertainty, unit, distribution, degreesOfFreedom, source, assumed }: BudgetLine): string =>
  [
    `Standard uncertainty of the input ${shown(standardUncertainty)}${unit === '1' || unit === '' ? '' : ` ${unit}`}`,
    `distribution: ${distributionWords[distribution] ?? distribution}`,
    `degrees of freedom: ${degreesOfFreedom === null ? 'infinite' : shown(degreesOfFreedom)}`,
    `from: ${source}${assumed ? ', assumed' : ''}`,
  ].join('; ');

const shown = (value: number): string =>
  value === 0 ? '0' : roundedText(value, Math.max(0, decimalsFor(value, DIGITS)));
