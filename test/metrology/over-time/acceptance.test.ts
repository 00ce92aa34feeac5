import { describe, expect, it } from 'vitest';
import { acceptanceProbability, planRisks, smallestPlan } from '../../../server/metrology/over-time/acceptance.ts';

const plan = (lotSize: number, sampleSize: number, acceptAtMost: number) => ({ lotSize, sampleSize, acceptAtMost });

/** Ways to take k of n, exactly. */
function ways(n: number, k: number): bigint {
  if (k < 0 || k > n) return 0n;
  let product = 1n;
  for (let i = 1; i <= k; i += 1) product = (product * BigInt(n - k + i)) / BigInt(i);
  return product;
}

/** The same probability as a ratio of whole numbers, to 18 digits. */
function exact(lot: number, sample: number, atMost: number, nonconforming: number): number {
  let accepted = 0n;
  for (let k = 0; k <= atMost; k += 1) accepted += ways(nonconforming, k) * ways(lot - nonconforming, sample - k);
  return Number((accepted * 10n ** 18n) / ways(lot, sample)) / 1e18;
}

describe('probability of accepting a lot', () => {
  it.each([
    // Fisher, The Design of Experiments, chapter II: eight cups, four of a kind, all four found 1 in 70, three or more 17.
    [8, 4, 0, 4, 1 / 70],
    [8, 4, 1, 4, 17 / 70],
    // Course notes on acceptance sampling: lots of 25, five taken, none may be nonconforming; two in the lot.
    [25, 5, 0, 2, 0.6333],
    // Montgomery and Runger, Applied Statistics, chapter 3, from memory: 300 parts, 100 of a supplier, four taken;
    // at least one of them 0.804, so none 0.196; all four 0.0119, so at most three 0.9881.
    [300, 4, 0, 100, 0.196],
    [300, 4, 3, 100, 0.9881],
  ])('lot %i, sample %i, at most %i, %i nonconforming', (lot, sample, atMost, nonconforming, published) => {
    const digits = Number.isInteger(published * 70) ? 14 : String(published).length - 2;
    expect(acceptanceProbability(plan(lot, sample, atMost), nonconforming)).toBeCloseTo(published, digits);
  });

  it.each([
    [30, 8, 0, 3],
    [30, 8, 1, 7],
    [120, 20, 2, 12],
    [2000, 80, 3, 60],
    [50, 45, 3, 6],
    [20_000, 500, 5, 200],
  ])('is the ratio of whole numbers: lot %i, sample %i, at most %i, %i nonconforming', (...numbers) => {
    const [lot, sample, atMost, nonconforming] = numbers;
    const found = acceptanceProbability(plan(lot, sample, atMost), nonconforming);
    expect(found / exact(lot, sample, atMost, nonconforming)).toBeCloseTo(1, 10);
  });

  it('is certain at both ends', () => {
    expect(acceptanceProbability(plan(30, 8, 0), 0)).toBe(1);
    expect(acceptanceProbability(plan(30, 8, 0), 30)).toBe(0);
    expect(acceptanceProbability(plan(30, 30, 2), 2)).toBe(1);
    expect(acceptanceProbability(plan(30, 30, 2), 3)).toBe(0);
  });

  it('is refused for what no lot can be', () => {
    for (const [one, nonconforming] of [
      [plan(30, 31, 0), 1],
      [plan(30, 5, 0), 31],
      [plan(30, 2.5, 0), 1],
      [plan(30, 5, -1), 1],
    ] as const)
      expect(() => acceptanceProbability(one, nonconforming)).toThrow(RangeError);
  });
});

describe('risks and plans', () => {
  it('are those of two points', () => {
    const risks = planRisks(plan(30, 8, 0), 1, 6);
    // one nonconforming piece is among eight of thirty with the probability 8/30
    expect(risks.producersRisk).toBeCloseTo(8 / 30, 12);
    expect(risks.consumersRisk).toBeCloseTo(exact(30, 8, 0, 6), 12);
  });

  it.each([
    [30, 6, 0.1, 0],
    [30, 3, 0.1, 0],
    [500, 25, 0.05, 1],
    [10, 1, 0.1, 0],
  ])('the smallest sample of %i against %i at a risk of %d: no smaller one does', (lot, limiting, risk, atMost) => {
    const { sampleSize } = smallestPlan(lot, limiting, risk, atMost);
    expect(exact(lot, sampleSize, atMost, limiting)).toBeLessThanOrEqual(risk);
    expect(exact(lot, sampleSize - 1, atMost, limiting)).toBeGreaterThan(risk);
  });

  it('cannot tell where the limit may be accepted', () => {
    expect(() => smallestPlan(30, 1, 0.1, 1)).toThrow(RangeError);
    expect(() => smallestPlan(30, 2, 0, 1)).toThrow(RangeError);
  });
});
