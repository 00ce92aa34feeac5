/** Figures of a class as they are printed: rounded by the uncertainty of the mean, spreads with two digits. */
import { decimalsFor, decimalsForTolerance, fixed, signed, significant } from '../../metrology/display.ts';
import type { Figures, RowFigures } from '../../metrology/class/figures.ts';
import { decimalsOf } from '../../metrology/decimal.ts';
import type { ClassData } from '../contract-class.ts';

export type Trial = ClassData['trials'][number];
export type WareRow = ClassData['rows'][number];

export const NONE = '–';
const NEEDS_2 = 'needs 2';
const NEEDS_2_GROUPS = 'needs 2 groups';
const NEEDS_REPEATS = 'needs repeats';
/** p below this is not worth a digit. */
const LEAST_P = 0.001;

/** Last place that means something: of u of the mean, else of the spread, else that of the readings. */
export const decimalsOfMean = ({ meanUncertaintyMl: u, sdMl }: Figures, readingDecimals: number): number => {
  const rounding = u !== null && u > 0 ? u : sdMl !== null && sdMl > 0 ? sdMl : null;
  return rounding === null ? readingDecimals : Math.max(0, Math.min(6, decimalsFor(rounding, 2)));
};

/** Digits behind the point that the readings of some trials have; as volume, a gram taken as a millilitre. */
export const decimalsOfReadings = (trials: readonly Trial[]): number =>
  trials.length === 0 ? 0 : Math.max(...trials.map(({ filledG }) => decimalsOf(filledG)));

export interface FigureTexts {
  n: string;
  groups: string;
  mean: string;
  bias: string;
  biasPercent: string;
  sd: string;
  repeatability: string;
  between: string;
  withinRoom: string;
  meanUncertainty: string;
  f: string;
  p: string;
}

const spread = (value: number | null, lacking: string): string => (value === null ? lacking : significant(value, 2));

const percent = (value: number | null): string => {
  if (value === null) return NONE;
  const shown = significant(value, 2);
  return value > 0 ? `+${shown}` : shown;
};

/** At most two digits, and none for what is as good as nothing. */
const probability = (p: number | null): string =>
  p === null ? NONE : p < LEAST_P ? `< ${LEAST_P}` : significant(p, 2);

const ratio = (f: number | null): string => {
  if (f === null) return NONE;
  return Number.isFinite(f) ? fixed(f, decimalsFor(f, 2)) : 'no spread within';
};

export const figureTexts = (figures: RowFigures, readingDecimals: number): FigureTexts => {
  const { n, groups, meanMl, biasMl, sdMl, repeatabilitySdMl, betweenSdMl, withinRoomSdMl, oneWay } = figures;
  const decimals = decimalsOfMean(figures, readingDecimals);
  const ofGroups = groups < 2 ? NEEDS_2_GROUPS : NEEDS_REPEATS;
  return {
    n: String(n),
    groups: String(groups),
    mean: meanMl === null ? NONE : fixed(meanMl, decimals),
    bias: biasMl === null ? NONE : signed(biasMl, decimals),
    biasPercent: percent(figures.relative.biasPercent),
    sd: spread(sdMl, NEEDS_2),
    repeatability: spread(repeatabilitySdMl, NEEDS_REPEATS),
    between: spread(betweenSdMl, ofGroups),
    withinRoom: spread(withinRoomSdMl, ofGroups),
    meanUncertainty: spread(figures.meanUncertaintyMl, ofGroups),
    f: ratio(oneWay?.f ?? null),
    p: probability(oneWay?.p ?? null),
  };
};

export const limitText = (toleranceMl: number): string => fixed(toleranceMl, decimalsForTolerance(toleranceMl));

/** Where a limit lets the vessel lie. */
export const rangeText = ({ lowestMl, highestMl }: { lowestMl: number; highestMl: number }, toleranceMl: number) => {
  const decimals = decimalsForTolerance(toleranceMl);
  return `${fixed(lowestMl, decimals)} to ${fixed(highestMl, decimals)}`;
};
