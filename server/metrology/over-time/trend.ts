import tQuantile from '@stdlib/stats-base-dists-t-quantile';

/** Mean volume on a day; days count from any fixed day. */
export interface DatedMean {
  day: number;
  meanMl: number;
}

/** Straight line by least squares, y = intercept + slope·x. */
export interface Line {
  n: number;
  meanX: number;
  meanY: number;
  slope: number;
  intercept: number;
  slopeStandardError: number;
  interceptStandardError: number;
  /** Standard deviation of the points around the line, n − 2 degrees of freedom. */
  residualSd: number;
  /** Sum of squares of x around its mean. */
  squaresX: number;
}

/** Fewest calibrations that can carry a trend. */
export const FEWEST_CALIBRATIONS = 5;
const SIGNIFICANCE = 0.05;
/** Days looked ahead; further off a straight line says nothing. */
const HORIZON_DAYS = 7305;

export interface TrendPoint {
  day: number;
  lineMl: number;
  lowMl: number;
  highMl: number;
}

export interface Trend {
  slopeMlPerDay: number;
  /** Half-width of the 95 % interval of the slope, mL per day. */
  slopeHalfWidthMlPerDay: number;
  significant: boolean;
  /** The line with its 95 % band over the calibrations, and up to the day of leaving where there is one. */
  band: TrendPoint[];
  /**
   * Day on which the early edge of the band reaches the tolerance; null without a significant slope, without a
   * tolerance, or where that lies more than 20 years after the last calibration.
   */
  leavesOnDay: number | null;
}

/**
 * Straight line through points by least squares, around the means so that equal leading digits cost nothing.
 * @throws RangeError below three points, or where all x are equal
 * @source draper-smith-1998, 1.2 to 1.4, fitting a straight line and the standard errors of its coefficients
 */
export function fitLine(points: readonly { x: number; y: number }[]): Line {
  const n = points.length;
  if (n < 3) throw new RangeError('a line with a spread needs at least three points');
  const meanX = points.reduce((sum, { x }) => sum + x, 0) / n;
  const meanY = points.reduce((sum, { y }) => sum + y, 0) / n;
  let squaresX = 0;
  let products = 0;
  for (const { x, y } of points) {
    squaresX += (x - meanX) ** 2;
    products += (x - meanX) * (y - meanY);
  }
  if (squaresX === 0) throw new RangeError('a line needs points at different x');
  const slope = products / squaresX;
  let rest = 0;
  for (const { x, y } of points) rest += (y - meanY - slope * (x - meanX)) ** 2;
  const residualSd = Math.sqrt(rest / (n - 2));
  return {
    n,
    meanX,
    meanY,
    slope,
    intercept: meanY - slope * meanX,
    slopeStandardError: residualSd / Math.sqrt(squaresX),
    interceptStandardError: residualSd * Math.sqrt(1 / n + meanX ** 2 / squaresX),
    residualSd,
    squaresX,
  };
}

/**
 * The line at x with the half-width of the band that holds the true line there with the probability 1 − α.
 * @source draper-smith-1998, 1.4 and 3.1, standard error of the fitted value
 */
export function lineAt(line: Line, x: number, alpha = SIGNIFICANCE): { value: number; halfWidth: number } {
  const off = x - line.meanX;
  const t = tQuantile(1 - alpha / 2, line.n - 2);
  return {
    value: line.meanY + line.slope * off,
    halfWidth: t * line.residualSd * Math.sqrt(1 / line.n + off ** 2 / line.squaresX),
  };
}

/** First day from `from` on that the band's early edge reaches the limit on the side it moves to; by halving. */
function leavingDay(line: Line, from: number, nominalMl: number, toleranceMl: number): number | null {
  const side = Math.sign(line.slope);
  const over = (day: number): number => {
    const { value, halfWidth } = lineAt(line, day);
    return side * (value - nominalMl) + halfWidth - toleranceMl;
  };
  if (over(from) >= 0) return from;
  let [inside, outside] = [from, from + HORIZON_DAYS];
  if (over(outside) < 0) return null;
  while (outside - inside > 1) {
    const middle = Math.floor((inside + outside) / 2);
    if (over(middle) < 0) inside = middle;
    else outside = middle;
  }
  return outside;
}

const BAND_STEPS = 24;

function bandOf(line: Line, from: number, to: number): TrendPoint[] {
  return Array.from({ length: BAND_STEPS + 1 }, (_, step) => {
    const day = from + ((to - from) * step) / BAND_STEPS;
    const { value, halfWidth } = lineAt(line, day);
    return { day, lineMl: value, lowMl: value - halfWidth, highMl: value + halfWidth };
  });
}

/**
 * Drift of a vessel over its calibrations: the slope of a straight line with its 95 % interval. A day of leaving the
 * tolerance is named only where the slope is significant at 5 %, as the early edge of the band of the line; a vessel
 * that cannot be told from a steady one has no such day.
 * @param means one for each calibration, mL; days in whole days
 * @param toleranceMl half-width of the tolerance, mL; null for none
 * @returns null below five calibrations, or where all lie on one day
 * @source draper-smith-1998, 1.4, test of the slope by Student's t with n − 2 degrees of freedom
 */
export function trendOf(means: readonly DatedMean[], nominalMl: number, toleranceMl: number | null): Trend | null {
  const days = means.map(({ day }) => day);
  if (means.length < FEWEST_CALIBRATIONS || new Set(days).size < 2) return null;
  const line = fitLine(means.map(({ day, meanMl }) => ({ x: day, y: meanMl })));
  const slopeHalfWidth = tQuantile(1 - SIGNIFICANCE / 2, line.n - 2) * line.slopeStandardError;
  const significant = Math.abs(line.slope) > slopeHalfWidth;
  const [first, last] = [Math.min(...days), Math.max(...days)];
  const leavesOnDay = significant && toleranceMl !== null ? leavingDay(line, last, nominalMl, toleranceMl) : null;
  return {
    slopeMlPerDay: line.slope,
    slopeHalfWidthMlPerDay: slopeHalfWidth,
    significant,
    band: bandOf(line, first, leavesOnDay ?? last),
    leavesOnDay,
  };
}
