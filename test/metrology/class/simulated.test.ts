import { describe, expect, it } from 'vitest';
import { oneWay } from '../../../server/metrology/class/one-way.ts';
import { RandomStream } from '../../../server/metrology/random-stream.ts';
import { simulatedTrials } from './simulated.ts';

const SEEDS = 200;
/** Standard errors a mean over the seeds may be off: once in 16 000 by chance. */
const BOUND = 4;

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

describe('a simulated class with known spreads, 200 seeds', () => {
  const [k, n] = [8, 4];
  const facts = { repeatabilitySdMl: 0.03, betweenSdMl: 0.04, trialsPerGroup: Array.from({ length: k }, () => n) };
  const [withinVariance, betweenVariance] = [0.03 ** 2, 0.04 ** 2];
  const results = Array.from({ length: SEEDS }, (_, seed) =>
    oneWay(simulatedTrials(new RandomStream(seed + 1), 25.02, facts)),
  );

  it('gives s_r² back: its sampling variance is 2σ⁴/ν', () => {
    const error = Math.sqrt((2 * withinVariance ** 2) / (k * (n - 1)) / SEEDS);
    const found = mean(results.map((one) => one.msWithinMl2 ?? 0));
    expect(Math.abs(found - withinVariance)).toBeLessThan(BOUND * error);
  });

  it('gives s_L² back, negative ones counted as they come out', () => {
    // variance of (MSb − MSw)/n, two independent mean squares (Searle, Casella, McCulloch 1992, 3.5)
    const ofBetween = (2 * (withinVariance + n * betweenVariance) ** 2) / (k - 1);
    const ofWithin = (2 * withinVariance ** 2) / (k * (n - 1));
    const error = Math.sqrt((ofBetween + ofWithin) / n ** 2 / SEEDS);
    const found = mean(results.map((one) => one.between?.varianceMl2 ?? 0));
    expect(Math.abs(found - betweenVariance)).toBeLessThan(BOUND * error);
  });

  it('gives the mean back within its uncertainty', () => {
    const error = Math.sqrt((withinVariance / n + betweenVariance) / k / SEEDS);
    expect(Math.abs(mean(results.map((one) => one.meanMl)) - 25.02)).toBeLessThan(BOUND * error);
  });

  it('without any spread between groups is negative about as often as F(7, 24) is below 1', () => {
    // SciPy 1.17.1, stats.f.cdf(1, 7, 24): an independent library
    const expected = 0.5446822;
    const flat = Array.from({ length: SEEDS }, (_, seed) =>
      oneWay(simulatedTrials(new RandomStream(seed + 1), 25, { ...facts, betweenSdMl: 0 })),
    );
    const share = mean(flat.map((one) => (one.between?.negative === true ? 1 : 0)));
    expect(Math.abs(share - expected)).toBeLessThan(BOUND * Math.sqrt((expected * (1 - expected)) / SEEDS));
  });
});

describe('groups of unequal size', () => {
  const trialsPerGroup = [1, 2, 3, 3, 4, 6, 8, 12];
  const facts = { repeatabilitySdMl: 0.02, betweenSdMl: 0.05, trialsPerGroup };
  const N = trialsPerGroup.reduce((sum, count) => sum + count, 0);
  const squares = trialsPerGroup.reduce((sum, count) => sum + count * count, 0);
  const RUNS = 4000;
  const stream = new RandomStream(20);
  const results = Array.from({ length: RUNS }, () => oneWay(simulatedTrials(stream, 25, facts)));
  const means = results.map((one) => one.meanMl);
  const spread = means.reduce((sum, value) => sum + (value - 25) ** 2, 0) / RUNS;

  it('the means of 4000 classes scatter by s_r²/N + s_L²·Σn²/N²', () => {
    const expected = 0.02 ** 2 / N + (0.05 ** 2 * squares) / N ** 2;
    // relative sampling error of a variance with 4000 degrees of freedom
    expect(Math.abs(spread / expected - 1)).toBeLessThan(BOUND * Math.sqrt(2 / RUNS));
    // the formula for equal groups would be far off
    expect(spread / (0.02 ** 2 / N + 0.05 ** 2 / trialsPerGroup.length)).toBeGreaterThan(1.3);
  });

  it('and u²(mean) of each class is that on average', () => {
    const found = results.map((one) => (one.meanUncertaintyMl ?? 0) ** 2);
    const average = mean(found);
    const scatter = Math.sqrt(mean(found.map((value) => (value - average) ** 2)) / RUNS);
    const error = Math.hypot(scatter, spread * Math.sqrt(2 / RUNS));
    expect(Math.abs(average - spread)).toBeLessThan(BOUND * error);
  });

  it('s_L² with n₀ is without bias', () => {
    const found = results.map((one) => one.between?.varianceMl2 ?? 0);
    const average = mean(found);
    const scatter = Math.sqrt(mean(found.map((value) => (value - average) ** 2)) / RUNS);
    expect(Math.abs(average - 0.05 ** 2)).toBeLessThan(BOUND * scatter);
  });
});
