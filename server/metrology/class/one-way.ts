import { fUpperTail } from './f-tail.ts';

/** A variance component as the mean squares give it, and as it counts. */
export interface VarianceComponent {
  /** As it comes out, mL²; below 0 when the groups lie closer together than their own spread explains. */
  varianceMl2: number;
  /** Its root, mL; 0 where the variance is negative. */
  sdMl: number;
  negative: boolean;
}

/** One-way analysis of variance with groups drawn at random; what the data cannot give is null. */
export interface OneWay {
  /** Trials of all groups. */
  n: number;
  /** Groups with at least one trial. */
  groups: number;
  meanMl: number;
  ssBetweenMl2: number;
  ssWithinMl2: number;
  dfBetween: number;
  dfWithin: number;
  /** Null with one group. */
  msBetweenMl2: number | null;
  /** Null where no group has two trials. */
  msWithinMl2: number | null;
  /** Trials a group counts for: n in equal groups, less in unequal ones; null with one group. */
  trialsPerGroup: number | null;
  /** s_r, repeatability: spread of single trials within a group. */
  repeatabilitySdMl: number | null;
  /** s_L, between groups. */
  between: VarianceComponent | null;
  /** s_R, within-room precision: one trial of any group. */
  withinRoomSdMl: number | null;
  /** MS between ÷ MS within; infinite where nothing spreads within, null where nothing spreads at all. */
  f: number | null;
  /** Probability of an F at least as large when all groups have one mean. */
  p: number | null;
  /** Standard uncertainty of the mean of all trials, groups drawn at random. */
  meanUncertaintyMl: number | null;
  /** Its degrees of freedom, fractional. */
  meanDegreesOfFreedom: number | null;
}

interface Sums {
  n: number;
  mean: number;
  sizes: number[];
  ssBetween: number;
  ssWithin: number;
}

function total(values: readonly number[]): number {
  let sum = 0;
  for (const value of values) sum += value;
  return sum;
}

/** Squares around a mean, freed of what rounding left in it. */
function squaresAround(values: readonly number[], mean: number): { squares: number; rest: number } {
  let squares = 0;
  let rest = 0;
  for (const value of values) {
    const off = value - mean;
    squares += off * off;
    rest += off;
  }
  return { squares, rest };
}

/**
 * Two passes: the first value is taken off all of them, then the mean; each group's own mean is found among what is
 * left. Many equal leading digits so cost no accuracy.
 */
function sumsOf(groups: readonly (readonly number[])[], first: number): Sums {
  const shifted = groups.map((group) => group.map((value) => value - first));
  const sizes = groups.map((group) => group.length);
  const n = total(sizes);
  const offset = total(shifted.map(total)) / n;
  let ssWithin = 0;
  let ssBetween = 0;
  let between = 0;
  for (const group of shifted) {
    const mean = total(group) / group.length;
    const { squares, rest } = squaresAround(group, mean);
    ssWithin += Math.max(0, squares - (rest * rest) / group.length);
    const off = mean - offset;
    ssBetween += group.length * off * off;
    between += group.length * off;
  }
  return { n, mean: first + offset, sizes, ssBetween: Math.max(0, ssBetween - (between * between) / n), ssWithin };
}

/**
 * A variance component from its estimate; a negative one counts as 0, and says so.
 * @source iso-5725-2-2019, between-laboratory variance: a negative value is taken as 0
 */
export function varianceComponent(varianceMl2: number): VarianceComponent {
  const negative = varianceMl2 < 0;
  return { varianceMl2, sdMl: negative ? 0 : Math.sqrt(varianceMl2), negative };
}

/**
 * F of two mean squares with its p: infinite and 0 where the lower one is 0, null where both are.
 * @source iso-5725-2-2019, ratio of mean squares; p from F with the degrees of freedom of the two
 */
export function ratioOf(
  upper: { meanSquare: number; df: number },
  lower: { meanSquare: number; df: number },
): { f: number | null; p: number | null } {
  if (lower.meanSquare === 0 && upper.meanSquare === 0) return { f: null, p: null };
  const f = upper.meanSquare / lower.meanSquare;
  return { f, p: fUpperTail(f, upper.df, lower.df) };
}

/**
 * Variance of the mean of all trials, s_r²/N + s_L²·Σn²/N². Written as a·MSb + b·MSw, which gives its degrees of
 * freedom; with a negative component it is MSw/N.
 */
function meanVariance(sums: Sums, msBetween: number, msWithin: number, perGroup: number) {
  const { n, sizes } = sums;
  const dfWithin = n - sizes.length;
  if (msBetween < msWithin) return { variance: msWithin / n, degrees: dfWithin };
  const share = total(sizes.map((size) => size * size)) / (n * n);
  const ofBetween = (share / perGroup) * msBetween;
  const ofWithin = (1 / n - share / perGroup) * msWithin;
  const variance = ofBetween + ofWithin;
  const weighted = ofBetween ** 2 / (sizes.length - 1) + ofWithin ** 2 / dfWithin;
  return { variance, degrees: weighted === 0 ? sizes.length - 1 : (variance * variance) / weighted };
}

/** What several groups give; with one trial in each, only the spread of any two trials and the mean are known. */
function spreads(sums: Sums) {
  const { n, sizes, ssBetween, ssWithin } = sums;
  const [dfBetween, dfWithin] = [sizes.length - 1, n - sizes.length];
  const msBetween = ssBetween / dfBetween;
  const perGroup = (n - total(sizes.map((size) => size * size)) / n) / dfBetween;
  if (dfWithin === 0) {
    return {
      msBetweenMl2: msBetween,
      trialsPerGroup: perGroup,
      withinRoomSdMl: Math.sqrt(msBetween),
      meanUncertaintyMl: Math.sqrt(msBetween / n),
      meanDegreesOfFreedom: dfBetween,
    };
  }
  const msWithin = ssWithin / dfWithin;
  const between = varianceComponent((msBetween - msWithin) / perGroup);
  const { variance, degrees } = meanVariance(sums, msBetween, msWithin, perGroup);
  return {
    msBetweenMl2: msBetween,
    msWithinMl2: msWithin,
    trialsPerGroup: perGroup,
    repeatabilitySdMl: Math.sqrt(msWithin),
    between,
    withinRoomSdMl: Math.sqrt(msWithin + between.sdMl ** 2),
    ...ratioOf({ meanSquare: msBetween, df: dfBetween }, { meanSquare: msWithin, df: dfWithin }),
    meanUncertaintyMl: Math.sqrt(variance),
    meanDegreesOfFreedom: degrees,
  };
}

/**
 * One-way analysis of variance of groups of any sizes; groups without trials are left out. s_r² = MSw,
 * s_L² = (MSb − MSw)/n₀ with n₀ = (N − Σn²/N)/(k − 1), s_R² = s_r² + s_L², u²(mean) = s_r²/N + s_L²·Σn²/N².
 * One group gives no s_L, no s_R and no uncertainty of the mean: what other groups would find is not known.
 * @param groups trials of each group, mL
 * @throws RangeError without any trial, or when a value is not finite
 * @source iso-5725-2-2019, basic model with one factor
 * @source searle-1992, 3.6, groups of unequal size
 */
export function oneWay(groups: readonly (readonly number[])[]): OneWay {
  const filled = groups.filter((group) => group.length > 0);
  const first = filled[0]?.[0];
  if (first === undefined) throw new RangeError('oneWay needs at least one trial');
  if (!filled.every((group) => group.every(Number.isFinite))) throw new RangeError('oneWay needs finite values');
  const sums = sumsOf(filled, first);
  const [dfBetween, dfWithin] = [filled.length - 1, sums.n - filled.length];
  const msWithin = dfWithin === 0 ? null : sums.ssWithin / dfWithin;
  const none: OneWay = {
    n: sums.n,
    groups: filled.length,
    meanMl: sums.mean,
    ssBetweenMl2: sums.ssBetween,
    ssWithinMl2: sums.ssWithin,
    dfBetween,
    dfWithin,
    msBetweenMl2: null,
    msWithinMl2: msWithin,
    trialsPerGroup: null,
    repeatabilitySdMl: msWithin === null ? null : Math.sqrt(msWithin),
    between: null,
    withinRoomSdMl: null,
    f: null,
    p: null,
    meanUncertaintyMl: null,
    meanDegreesOfFreedom: null,
  };
  return dfBetween === 0 ? none : { ...none, ...spreads(sums) };
}
