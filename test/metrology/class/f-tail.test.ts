import tCdf from '@stdlib/stats-base-dists-t-cdf';
import { describe, expect, it } from 'vitest';
import { fUpperTail } from '../../../server/metrology/class/f-tail.ts';
import { number, readTable } from '../fixture.ts';

describe('upper tail of F', () => {
  it.each(readTable('f-quantiles-library.csv'))(
    'is 0.01 at the 99 % quantile of another library: $nu1, $nu2',
    (row) => {
      // quantiles are printed to 8 decimals
      expect(fUpperTail(number(row, 'f_0.99'), number(row, 'nu1'), number(row, 'nu2'))).toBeCloseTo(0.01, 9);
    },
  );

  // F(1, ν) is the square of Student's t with ν degrees of freedom (Abramowitz and Stegun, 26.7)
  it.each([
    [0.01, 7],
    [1, 3],
    [2.5, 10],
    [12, 20],
    [50, 100],
  ])('with one degree of freedom is the two tails of t = %d, ν = %d', (t, degrees) => {
    const tails = 2 * tCdf(-t, degrees);
    expect(Math.abs(fUpperTail(t * t, 1, degrees) / tails - 1)).toBeLessThan(1e-10);
  });

  // closed forms (Abramowitz and Stegun, 26.6.4 with ν1 = 2): (1 + 2·f/ν2)^(−ν2/2)
  it.each([
    [0.3, 4],
    [3, 12],
    [40, 60],
    [2000, 400],
  ])('with two degrees of freedom has its closed form, f = %d, ν2 = %d', (f, degrees) => {
    const closed = (1 + (2 * f) / degrees) ** (-degrees / 2);
    expect(Math.abs(fUpperTail(f, 2, degrees) / closed - 1)).toBeLessThan(1e-9);
  });

  it('goes from 1 to 0', () => {
    expect(fUpperTail(0, 3, 9)).toBe(1);
    expect(fUpperTail(1e-9, 3, 9)).toBeCloseTo(1, 9);
    expect(fUpperTail(Number.POSITIVE_INFINITY, 3, 9)).toBe(0);
  });

  it('refuses what is no ratio of mean squares', () => {
    expect(() => fUpperTail(-1, 3, 9)).toThrow(RangeError);
    expect(() => fUpperTail(Number.NaN, 3, 9)).toThrow(RangeError);
    expect(() => fUpperTail(1, 0, 9)).toThrow(RangeError);
  });
});
