import { gammaln } from 'simple-statistics';

/** Terms after which the series ends at the latest; a class needs some tens. */
const MOST_TERMS = 100_000;

/**
 * Incomplete beta ratio by its series of positive terms, which keeps the digits of small values:
 * I_x(a, b) = x^a·(1 − x)^b/(a·B(a, b))·(1 + Σ (a + b)…(a + b + n)/((a + 1)…(a + 1 + n))·x^(n + 1)).
 * @param rest 1 − x, given apart so that it keeps its digits
 */
function betaSeries(x: number, rest: number, a: number, b: number): number {
  let [term, sum] = [1, 1];
  for (let n = 0; n < MOST_TERMS && term > sum * Number.EPSILON; n += 1) {
    term *= (x * (a + b + n)) / (a + 1 + n);
    sum += term;
  }
  const logBeta = gammaln(a) + gammaln(b) - gammaln(a + b);
  return (sum / a) * Math.exp(a * Math.log(x) + b * Math.log(rest) - logBeta);
}

/**
 * Probability that F with ν1 and ν2 degrees of freedom exceeds f: I_x(ν2/2, ν1/2) with x = ν2/(ν2 + ν1·f), the
 * incomplete beta ratio by its series from the side where that is short.
 * @param f ratio of two mean squares, 0 or more, infinity allowed
 * @returns 0 to 1; 0 below 10⁻³⁰⁷
 * @source abramowitz-stegun-1964, 26.6.2 and 26.5.4
 */
export function fUpperTail(f: number, dfNumerator: number, dfDenominator: number): number {
  if (!(f >= 0 && dfNumerator > 0 && dfDenominator > 0)) {
    throw new RangeError('fUpperTail needs a ratio of 0 or more and positive degrees of freedom');
  }
  if (f === 0) return 1;
  if (f === Number.POSITIVE_INFINITY) return 0;
  const [a, b] = [dfDenominator / 2, dfNumerator / 2];
  const whole = dfDenominator + dfNumerator * f;
  const [x, rest] = [dfDenominator / whole, (dfNumerator * f) / whole];
  return x < (a + 1) / (a + b + 2) ? betaSeries(x, rest, a, b) : 1 - betaSeries(rest, x, b, a);
}
