import fQuantile from '@stdlib/stats-base-dists-f-quantile';

/** Natural logarithm of the smallest probability told apart from 0. */
const SMALLEST = -700;
/** Halvings of the interval of ln p: 700/2⁶⁰ is below the last bit. */
const HALVINGS = 60;

/**
 * Probability that F with ν1 and ν2 degrees of freedom exceeds f: P(F(ν1, ν2) > f) = P(F(ν2, ν1) < 1/f), found where
 * the quantile of the latter is 1/f. Looked for in ln p, so that small probabilities keep their digits.
 * @param f ratio of two mean squares, 0 or more, infinity allowed
 * @returns 0 to 1; 0 below 10⁻³⁰⁴
 * @source abramowitz-stegun-1964, 26.6.9
 */
export function fUpperTail(f: number, dfNumerator: number, dfDenominator: number): number {
  if (!(f >= 0 && dfNumerator > 0 && dfDenominator > 0)) {
    throw new RangeError('fUpperTail needs a ratio of 0 or more and positive degrees of freedom');
  }
  if (f === 0) return 1;
  const wanted = 1 / f;
  const below = (logP: number) => fQuantile(Math.exp(logP), dfDenominator, dfNumerator) < wanted;
  if (!below(SMALLEST)) return 0;
  let [low, high] = [SMALLEST, 0];
  for (let step = 0; step < HALVINGS; step += 1) {
    const middle = (low + high) / 2;
    if (below(middle)) low = middle;
    else high = middle;
  }
  return Math.exp((low + high) / 2);
}
