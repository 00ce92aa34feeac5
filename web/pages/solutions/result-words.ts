/** A result in words and as explanations of its numbers. */
import type { SolutionResult } from '../../../server/solutions/contract.ts';
import { resultText as words } from '../../messages/en-solutions.ts';
import type { Explanation } from '../../parts/explained-number.ts';
import { fixed, significant } from '../../parts/rounding.ts';

type Uncertain = Pick<SolutionResult, 'value' | 'expandedUncertainty' | 'significantDigits'>;

/** The value with the digits that are meant. */
export const valueWords = ({ value, significantDigits }: Omit<Uncertain, 'expandedUncertainty'>): string =>
  significant(value, significantDigits);

export const uncertaintyWords = ({ expandedUncertainty }: Pick<Uncertain, 'expandedUncertainty'>): string =>
  significant(expandedUncertainty, 2);

/** `0.02004 ± 0.00041 mol/L`; with “about” where it is approximate. */
export const resultWords = (result: Uncertain & { unit: string; approximate: boolean }): string =>
  `${result.approximate ? words.about : ''}${valueWords(result)} ${words.plusMinus(uncertaintyWords(result))} ${result.unit}`;

export const relativeWords = ({
  relativePercent,
  coverageFactor,
}: Pick<SolutionResult, 'relativePercent' | 'coverageFactor'>): string =>
  words.relative(significant(relativePercent, 2), fixed(coverageFactor, 2));

/** Explanations as the wire has them and as the tree of numbers takes them. */
const leaf = (symbol: string, label: string, value: number | null, unit: string): Explanation => ({
  symbol,
  label,
  formula: null,
  value,
  unit,
  parts: [],
});

const contribution = (line: SolutionResult['budget'][number], unit: string): Explanation => ({
  symbol: `u(${line.key})`,
  label: line.label,
  formula: 'c·u',
  value: Math.abs(line.contribution),
  unit,
  parts: [
    leaf('c', 'sensitivity', line.sensitivity, `${unit}/(${line.unit})`),
    leaf('u', line.label, line.standardUncertainty, line.unit),
  ],
});

/** U down to the components of its budget. */
export const explainExpanded = (result: SolutionResult): Explanation => ({
  symbol: 'U',
  label: words.expanded,
  formula: 'k·u_c',
  value: result.expandedUncertainty,
  unit: result.unit,
  parts: [
    {
      ...leaf('k', words.factor, result.coverageFactor, '1'),
      parts: [leaf('ν_eff', words.freedom, result.effectiveDegreesOfFreedom, '1')],
    },
    {
      symbol: 'u_c',
      label: words.combined,
      formula: '√Σ(c·u)²',
      value: result.combinedUncertainty,
      unit: result.unit,
      parts: [...result.budget]
        .sort((one, other) => other.share - one.share)
        .map((line) => contribution(line, result.unit)),
    },
  ],
});

/** The part of an explanation with this symbol, wherever it stands. */
export const partOf = (node: Explanation, symbol: string): Explanation | null => {
  if (node.symbol === symbol) return node;
  for (const part of node.parts) {
    const found = partOf(part, symbol);
    if (found) return found;
  }
  return null;
};
