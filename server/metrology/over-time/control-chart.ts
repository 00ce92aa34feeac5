/** Mean range of two normal values in standard deviations, as tabulated. */
const D2 = 1.128;
/** Upper limit of a moving range of two in mean moving ranges, as tabulated. */
const D4 = 3.267;
/** Most values the limits are taken from; later ones are held against them. */
const MOST_BASE = 20;
/** With fewer values the limits are a first guess. */
export const FEWEST_FOR_LIMITS = 10;

export interface ChartPoint {
  value: number;
  /** Distance to the value before; null for the first. */
  movingRange: number | null;
  outside: boolean;
  rangeOutside: boolean;
}

export interface ControlChart {
  centre: number;
  low: number;
  high: number;
  meanMovingRange: number;
  movingRangeHigh: number;
  /** Values that centre and limits come from, the oldest. */
  base: number;
  points: ChartPoint[];
}

/**
 * How many of the oldest values the limits come from: twenty, and while there are fewer all but the newest, so that it is
 * held against what came before it.
 * @source common-practice, limits from about twenty values
 */
export function baseFor(count: number): number {
  return Math.min(MOST_BASE, Math.max(2, count - 1));
}

/**
 * Chart of single values with their moving ranges: limits at the mean ± 3·MR/d₂ (2.660·MR), moving ranges up to
 * D₄·MR (3.267·MR). Centre and limits come from the oldest values; later ones are held against them.
 * @param values in the order of time, all in one unit
 * @param base how many of the oldest; at least 2
 * @returns null below two values
 * @source nist-handbook-2012, 6.3.2.2, individuals control charts
 */
export function individualsChart(values: readonly number[], base: number): ControlChart | null {
  if (values.length < 2) return null;
  const ranges = values.map((value, index) => {
    const before = values[index - 1];
    return before === undefined ? null : Math.abs(value - before);
  });
  const mean = (numbers: readonly number[]) => numbers.reduce((sum, one) => sum + one, 0) / numbers.length;
  const centre = mean(values.slice(0, base));
  const meanMovingRange = mean(ranges.slice(1, base).map((range) => range ?? 0));
  const reach = (3 * meanMovingRange) / D2;
  const [low, high, movingRangeHigh] = [centre - reach, centre + reach, D4 * meanMovingRange];
  // values in steps of a last digit meet a limit only up to the last bit of a double
  const slack = 1e-9 * Math.max(reach, Math.abs(centre) * 1e-6);
  return {
    centre,
    low,
    high,
    meanMovingRange,
    movingRangeHigh,
    base,
    points: values.map((value, index) => {
      const movingRange = ranges[index] ?? null;
      return {
        value,
        movingRange,
        outside: value < low - slack || value > high + slack,
        rangeOutside: movingRange !== null && movingRange > movingRangeHigh + slack,
      };
    }),
  };
}

export interface ChartStretch {
  /** Place of its first value among all values. */
  first: number;
  count: number;
  /** Null below two values. */
  chart: ControlChart | null;
}

/**
 * The values cut where what is checked was changed: each stretch has a centre and limits of its own, from its own oldest
 * values, and no moving range reaches over a cut.
 * @param values in the order of time, all in one unit
 * @param starts places at which a new stretch begins, rising; one at the number of values begins a stretch without any
 * @returns at least one stretch; one that a later cut at the same place replaces is left out
 * @source nist-handbook-2012, 6.3.2.2, individuals control charts
 */
export function chartStretches(values: readonly number[], starts: readonly number[]): ChartStretch[] {
  const cuts = [...new Set([0, ...starts])];
  return cuts.map((first, index) => {
    const own = values.slice(first, cuts[index + 1]);
    return { first, count: own.length, chart: individualsChart(own, baseFor(own.length)) };
  });
}
