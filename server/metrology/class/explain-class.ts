import { leaf } from '../explain.ts';
import type { Explanation } from '../explain.ts';
import type { SourceKey } from '../sources.ts';
import type { Choice, Job } from './choose.ts';
import { numberAt, type ClassRow } from './data.ts';
import type { LimitFigures, RowFigures } from './figures.ts';
import type { OneWay } from './one-way.ts';

/** The numbers of a row, each unfolded; null where the row has none. */
export interface ClassExplanation {
  mean: Explanation | null;
  bias: Explanation | null;
  sd: Explanation | null;
  repeatability: Explanation | null;
  between: Explanation | null;
  withinRoom: Explanation | null;
  meanUncertainty: Explanation | null;
  f: Explanation | null;
}

/** Unfolds one trial further, down to its readings; without it a trial is a leaf. */
export type TrialUnfolding = (group: string, index: number) => Explanation | null;

interface Facts {
  symbol: string;
  label: string;
  formula: string;
  value: number | null;
  unit?: string;
  source: SourceKey;
  locator: string;
  parts: Explanation[];
}

function node({ unit = 'mL', ...facts }: Facts): Explanation {
  return { unit, ...facts };
}

function count(symbol: string, label: string, value: number): Explanation {
  return leaf(symbol, label, value, '1', { source: 'common-practice', locator: 'counted' });
}

const ANOVA = { source: 'iso-5725-2-2019', locator: 'basic model with one factor' } as const;
const UNEQUAL = { source: 'searle-1992', locator: '3.6, groups of unequal size' } as const;

function trialsOf(row: ClassRow, unfold: TrialUnfolding | undefined): Explanation[] {
  return row.groups.flatMap((group) =>
    group.trialsMl.map((valueMl, index) => {
      const { key } = group;
      const origin = { source: 'iso-4787-2021', locator: 'volume at the reference temperature' } as const;
      const own = leaf('V', `trial ${numberAt(group, index)} of group ${key}`, valueMl, 'mL', origin);
      return unfold?.(key, index) ?? own;
    }),
  );
}

function groupMeans(figures: RowFigures): Explanation[] {
  return figures.byGroup.flatMap(({ key, n, meanMl }) =>
    meanMl === null
      ? []
      : [
          node({
            symbol: 'V̄ᵢ',
            label: `mean of group ${key}`,
            formula: 'ΣV/nᵢ',
            value: meanMl,
            source: 'jcgm-100-2008',
            locator: '4.2.1',
            parts: [count('nᵢ', `trials of group ${key}`, n)],
          }),
        ],
  );
}

function withinOf(analysis: OneWay, trials: Explanation[]): Explanation {
  return node({
    symbol: 'MSw',
    label: 'mean square within groups',
    formula: 'ΣΣ(V − V̄ᵢ)²/(N − k)',
    value: analysis.msWithinMl2,
    unit: 'mL²',
    ...ANOVA,
    parts: [count('N', 'trials', analysis.n), count('k', 'groups', analysis.groups), ...trials],
  });
}

function betweenOf(analysis: OneWay, mean: Explanation, figures: RowFigures): Explanation {
  return node({
    symbol: 'MSb',
    label: 'mean square between groups',
    formula: 'Σnᵢ·(V̄ᵢ − V̄)²/(k − 1)',
    value: analysis.msBetweenMl2,
    unit: 'mL²',
    ...ANOVA,
    parts: [mean, ...groupMeans(figures)],
  });
}

function perGroupOf(figures: RowFigures, analysis: OneWay): Explanation {
  const sizes = figures.byGroup.filter((group) => group.n > 0);
  return node({
    symbol: 'n₀',
    label: 'trials a group counts for',
    formula: '(N − Σnᵢ²/N)/(k − 1)',
    value: analysis.trialsPerGroup,
    unit: '1',
    ...UNEQUAL,
    parts: sizes.map((group) => count('nᵢ', `trials of group ${group.key}`, group.n)),
  });
}

/** s_L with what it is made of; a negative variance is said in the label and counts as 0. */
function betweenSdOf(figures: RowFigures, analysis: OneWay, msWithin: Explanation, msBetween: Explanation) {
  const { between } = analysis;
  if (between === null) return null;
  const perGroup = perGroupOf(figures, analysis);
  return node({
    symbol: 's_L',
    label: between.negative
      ? 'spread between groups; its variance comes out negative and counts as 0'
      : 'spread between groups',
    formula: between.negative ? 's_L² < 0, so 0' : '√(s_L²)',
    value: between.sdMl,
    ...ANOVA,
    parts: [
      node({
        symbol: 's_L²',
        label: 'variance between groups, as it comes out',
        formula: '(MSb − MSw)/n₀',
        value: between.varianceMl2,
        unit: 'mL²',
        ...ANOVA,
        parts: [msBetween, msWithin, perGroup],
      }),
    ],
  });
}

function fOf(analysis: OneWay, msWithin: Explanation, msBetween: Explanation): Explanation | null {
  if (analysis.f === null) return null;
  return node({
    symbol: 'p',
    label: 'probability of means at least this far apart when the groups do not differ',
    formula: 'P(F(k − 1, N − k) > MSb/MSw)',
    value: analysis.p,
    unit: '1',
    source: 'abramowitz-stegun-1964',
    locator: '26.6.2 and 26.5.4',
    parts: [
      node({
        symbol: 'F',
        label: 'ratio of the mean squares',
        formula: 'MSb/MSw',
        value: analysis.f,
        unit: '1',
        ...ANOVA,
        parts: [msBetween, msWithin],
      }),
    ],
  });
}

/** s_R and u(mean): of s_r and s_L, or straight from MSb where every group weighed once. */
function combinedOf(
  figures: RowFigures,
  analysis: OneWay,
  parts: { repeatability: Explanation | null; between: Explanation | null; msBetween: Explanation },
): Pick<ClassExplanation, 'withinRoom' | 'meanUncertainty'> {
  if (analysis.withinRoomSdMl === null) return { withinRoom: null, meanUncertainty: null };
  const { repeatability, between, msBetween } = parts;
  const both = repeatability !== null && between !== null;
  const own = both ? [repeatability, between] : [msBetween];
  const sizes = figures.byGroup.filter((group) => group.n > 0);
  const counts = [
    count('N', 'trials', analysis.n),
    ...sizes.map((group) => count('nᵢ', `trials of group ${group.key}`, group.n)),
  ];
  return {
    withinRoom: node({
      symbol: 's_R',
      label: 'within-room precision: one filling by any group',
      formula: both ? '√(s_r² + s_L²)' : '√MSb, every group weighed once',
      value: analysis.withinRoomSdMl,
      ...ANOVA,
      parts: own,
    }),
    meanUncertainty: node({
      symbol: 'u(V̄)',
      label: 'standard uncertainty of the mean of all trials',
      formula: both ? '√(s_r²/N + s_L²·Σnᵢ²/N²)' : '√(MSb/N)',
      value: analysis.meanUncertaintyMl,
      ...UNEQUAL,
      parts: [...own, ...counts],
    }),
  };
}

const NOTHING: ClassExplanation = {
  mean: null,
  bias: null,
  sd: null,
  repeatability: null,
  between: null,
  withinRoom: null,
  meanUncertainty: null,
  f: null,
};

/**
 * The numbers of a row, each unfolded over formulas and mean squares down to the trials.
 * @param unfold unfolds a trial further; null leaves it as it is
 * @source iso-5725-2-2019, basic model with one factor
 */
export function explainRow(row: ClassRow, figures: RowFigures, unfold?: TrialUnfolding): ClassExplanation {
  const { oneWay: analysis } = figures;
  if (analysis === null) return NOTHING;
  const trials = trialsOf(row, unfold);
  const gum = { source: 'jcgm-100-2008' } as const;
  const mean = node({
    symbol: 'V̄',
    label: `mean of ${analysis.n} trials of ${analysis.groups} groups`,
    formula: 'ΣV/N',
    value: analysis.meanMl,
    ...gum,
    locator: '4.2.1',
    parts: trials,
  });
  const nominal = leaf('Vnom', 'nominal volume', row.nominalMl, 'mL', { typed: `${row.nominalMl}` });
  const bias = node({
    symbol: 'b',
    label: 'bias, the measure of trueness',
    formula: 'V̄ − Vnom',
    value: figures.biasMl,
    source: 'iso-5725-1-2023',
    locator: 'trueness',
    parts: [mean, nominal],
  });
  const sdParts = { formula: '√(Σ(V − V̄)²/(N − 1))', ...gum, locator: '4.2.2', parts: trials };
  const sd =
    figures.sdMl === null
      ? null
      : node({ symbol: 's', label: 'spread of all trials', value: figures.sdMl, ...sdParts });
  const [msWithin, msBetween] = [withinOf(analysis, trials), betweenOf(analysis, mean, figures)];
  const repeatability =
    analysis.repeatabilitySdMl === null
      ? null
      : node({
          symbol: 's_r',
          label: 'repeatability: spread within a group',
          formula: '√MSw',
          value: analysis.repeatabilitySdMl,
          ...ANOVA,
          parts: [msWithin],
        });
  const between = betweenSdOf(figures, analysis, msWithin, msBetween);
  const combined = combinedOf(figures, analysis, { repeatability, between, msBetween });
  return { mean, bias, sd, repeatability, between, ...combined, f: fOf(analysis, msWithin, msBetween) };
}

/**
 * The share of single fillings within a limit, unfolded: counted trials against what the limit allows.
 * @returns null without trials
 * @source iso-384-2015, a limit bounds the vessel; the share is that of the class's fillings
 */
export function explainShare(row: ClassRow, limit: LimitFigures, unfold?: TrialUnfolding): Explanation | null {
  const { share, n, within } = limit.fillings;
  if (share === null) return null;
  const known = { source: 'iso-384-2015', locator: limit.source } as const;
  const origin = limit.name === 'marked' || limit.name === 'stated' ? { typed: `${limit.toleranceMl}` } : known;
  return node({
    symbol: 'share',
    label: `single fillings within the limit: ${within} of ${n}`,
    formula: 'number of |V − Vnom| ≤ T, divided by N',
    value: share,
    unit: '1',
    source: 'common-practice',
    locator: 'counted; the limit itself bounds the vessel, not the filling',
    parts: [
      leaf('T', `limit: ${limit.source}`, limit.toleranceMl, 'mL', origin),
      leaf('Vnom', 'nominal volume', row.nominalMl, 'mL', { typed: `${row.nominalMl}` }),
      ...trialsOf(row, unfold),
    ],
  });
}

function wantedOf({ wantedMl }: Choice, { accuracy, volumeMl }: Job): Explanation[] {
  if (wantedMl === null || accuracy === null) return [];
  if ('ml' in accuracy) return [leaf('A', 'wanted accuracy', wantedMl, 'mL', { typed: `${accuracy.ml}` })];
  const wanted = node({
    symbol: 'A',
    label: 'wanted accuracy',
    formula: 'V·A%/100',
    value: wantedMl,
    source: 'common-practice',
    locator: 'per cent of the wanted volume',
    parts: [
      leaf('V', 'wanted volume', volumeMl, 'mL', { typed: `${volumeMl}` }),
      leaf('A%', 'wanted accuracy', accuracy.percent, '%', { typed: `${accuracy.percent}` }),
    ],
  });
  return [wanted];
}

/**
 * The reach by which ware is chosen, unfolded: |bias| + 2·s_R against the wanted accuracy.
 * @returns null where bias or spread is not known
 * @source iso-5725-1-2023, accuracy as trueness and precision together; the sum of both is our own
 */
export function explainReach(choice: Choice, job: Job, row: ClassExplanation): Explanation | null {
  if (choice.reachMl === null || row.bias === null || row.withinRoom === null) return null;
  const wanted = wantedOf(choice, job);
  return node({
    symbol: '|b| + 2·s_R',
    label: 'how far a single filling by anybody may lie off',
    formula: '|b| + 2·s_R',
    value: choice.reachMl,
    source: 'iso-5725-1-2023',
    locator: 'trueness and precision; the sum is our own',
    parts: [row.bias, row.withinRoom, ...wanted],
  });
}
