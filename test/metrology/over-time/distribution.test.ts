import { describe, expect, it } from 'vitest';
import { distributionOf, exactShare } from '../../../server/metrology/over-time/distribution.ts';

/** Binomial probability of at most k, added up term by term. */
function atMost(k: number, n: number, p: number): number {
  let term = (1 - p) ** n;
  let sum = term;
  for (let i = 0; i < k; i += 1) {
    term *= ((n - i) / (i + 1)) * (p / (1 - p));
    sum += term;
  }
  return sum;
}

describe('exact interval of a share', () => {
  it.each([
    // Conover 1999, charts of binomial limits, as quoted in a public course: 5 of 25 gives 0.068 to 0.407.
    [5, 25, '0.068', '0.407'],
    // Newcombe 1998, Statistics in Medicine 17, 857–872, table I, from memory.
    [81, 263, '0.2527', '0.3676'],
    [15, 148, '0.0578', '0.1617'],
    [0, 20, '0.0000', '0.1684'],
    [1, 29, '0.0009', '0.1776'],
  ])('%i of %i', (count, of, low, high) => {
    const share = exactShare(count, of);
    expect(share.low.toFixed(low.length - 2)).toBe(low);
    expect(share.high.toFixed(high.length - 2)).toBe(high);
  });

  it.each([
    [3, 30],
    [29, 30],
    [7, 12],
  ])('leaves 2.5 %% at either end: %i of %i', (count, of) => {
    const { low, high } = exactShare(count, of);
    expect(atMost(count, of, high)).toBeCloseTo(0.025, 8);
    expect(1 - atMost(count - 1, of, low)).toBeCloseTo(0.025, 8);
  });

  it('is a share even where all or none count, and needs a piece', () => {
    expect(exactShare(30, 30).high).toBe(1);
    expect(exactShare(0, 30).low).toBe(0);
    expect(() => exactShare(0, 0)).toThrow(RangeError);
    expect(() => exactShare(3, 2)).toThrow(RangeError);
  });
});

describe('distribution of the errors of a lot', () => {
  const pieces = [-0.12, -0.06, 0, 0.05, 0.1, 0.21].map((biasMl) => ({ biasMl, expandedUncertaintyMl: 0.02 }));
  const limits = [
    { class: 'A', toleranceMl: 0.1 },
    { class: 'B', toleranceMl: 0.2 },
  ];

  it('counts who keeps each limit, equality inside, and who is beyond doubt outside', () => {
    const found = distributionOf(pieces, limits);
    expect(found?.classes.map(({ within, beyond }) => [within.count, beyond])).toEqual([
      [4, 1],
      [5, 0],
    ]);
    expect(found).toMatchObject({ n: 6, smallestMl: -0.12, largestMl: 0.21 });
    expect(found?.meanBiasMl).toBeCloseTo(0.03, 12);
  });

  it('knows no spread of one and nothing of none', () => {
    expect(distributionOf(pieces.slice(0, 1), limits)?.sdMl).toBeNull();
    expect(distributionOf([], limits)).toBeNull();
  });
});
