import fc from 'fast-check';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, it } from 'vitest';
import { drawAll, MonteCarlo } from '../../server/metrology/monte-carlo.ts';
import type { DrawnModel, DrawnPart, DrawOptions } from '../../server/metrology/monte-carlo.ts';
import { RandomStream } from '../../server/metrology/random-stream.ts';
import { selectRank, symmetricInterval } from '../../server/metrology/selection.ts';
import { summarise } from '../../server/metrology/statistics.ts';
import { workedExample } from './fixture.ts';

describe('the random stream', () => {
  it('is that of pure-rand after 64 numbers, in runs of any length', () => {
    const library = xoroshiro128plus(20261125);
    for (let skipped = 0; skipped < 64; skipped += 1) library.next();
    const stream = new RandomStream(20261125);
    for (const length of [1, 7, 1000]) {
      const run = new Int32Array(length);
      stream.fillBits(run);
      expect([...run]).toEqual(Array.from({ length }, () => library.next()));
    }
  });

  it('is named by its seed', () => {
    const first = (seed: number) => {
      const target = new Float64Array(5);
      new RandomStream(seed).addNormal(target, 1);
      return [...target];
    };
    expect(first(1)).toEqual(first(1));
    expect(first(1)).not.toEqual(first(2));
  });

  const n = 400_000;
  const sample = (add: (stream: RandomStream, target: Float64Array) => void) => {
    const target = new Float64Array(n);
    add(new RandomStream(42), target);
    return target;
  };
  /** Five standard deviations of a share p of n. */
  const five = (p: number) => 5 * Math.sqrt((p * (1 - p)) / n);

  it('gives normal numbers: moments and shares of the normal distribution', () => {
    const values = sample((stream, target) => stream.addNormal(target, 2));
    const { mean, sd } = summarise([...values]);
    expect(Math.abs(mean)).toBeLessThan((5 * 2) / Math.sqrt(n));
    expect(Math.abs((sd ?? 0) / 2 - 1)).toBeLessThan(5 / Math.sqrt(2 * n));
    // shares beyond 1, 2, 3, 3.5 standard deviations, any table; the last lies in the tail of the ziggurat
    for (const [limit, share] of [
      [1, 0.3173105],
      [2, 0.0455003],
      [3, 0.0026998],
      [3.5, 0.00046526],
    ] as const) {
      const beyond = values.filter((value) => Math.abs(value) > 2 * limit).length / n;
      expect(Math.abs(beyond - share)).toBeLessThan(five(share));
    }
  });

  it('gives rectangular numbers within their half-width', () => {
    const values = sample((stream, target) => stream.addRectangular(target, 3));
    const { sd, smallest, largest } = summarise([...values]);
    expect(smallest).toBeGreaterThanOrEqual(-3);
    expect(largest).toBeLessThanOrEqual(3);
    expect(Math.abs((sd ?? 0) - Math.sqrt(3))).toBeLessThan(0.01);
    expect(Math.abs(values.filter((value) => value > 1.5).length / n - 0.25)).toBeLessThan(five(0.25));
  });

  it('gives Student t numbers: shares of the t distribution', () => {
    const values = sample((stream, target) => stream.addStudent(target, 1, 3));
    // ν = 3: 5 % beyond 3.182, 1 % beyond 5.841, any table
    for (const [limit, share] of [
      [3.182446, 0.05],
      [5.840909, 0.01],
    ] as const) {
      const beyond = values.filter((value) => Math.abs(value) > limit).length / n;
      expect(Math.abs(beyond - share)).toBeLessThan(five(share));
    }
  });
});

describe('selection', () => {
  it('finds the element of a rank as sorting does', () => {
    const list = fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 1, maxLength: 3000 });
    fc.assert(
      fc.property(list, fc.nat(), (values, at) => {
        const rank = at % values.length;
        const sorted = Float64Array.from(values).sort();
        expect(selectRank(Float64Array.from(values), rank)).toBe(sorted[rank]);
      }),
    );
  });

  it('cuts the same share off both ends', () => {
    const values = Float64Array.from({ length: 10_000 }, (_, index) => (index * 7919) % 10_000);
    expect(symmetricInterval(values, 0.95)).toEqual({ low: 250, high: 9750 });
  });
});

const fixed = (draws: number): DrawOptions => ({
  seed: 20261125,
  probability: 0.95,
  tolerance: null,
  leastDraws: draws,
  mostDraws: draws,
});

describe('JCGM 101, 9.2: the sum of four (from memory)', () => {
  const { expected } = workedExample('jcgm101-9.2-additive');
  const sumOfFour = (shape: DrawnPart['shape'], spread: number): DrawnModel => ({
    inputs: 4,
    parts: [0, 1, 2, 3].map((input) => ({ shape, spread, input })),
    evaluate: (columns, values) => {
      for (let i = 0; i < values.length; i += 1) {
        values[i] = columns.reduce((sum, column) => sum + (column[i] as number), 0);
      }
    },
  });

  it.each([
    ['normal', sumOfFour('normal', 1)],
    ['rectangular', sumOfFour('rectangular', Math.sqrt(3))],
  ])('%s inputs', (name, model) => {
    const printed = expected[name] as { u: number; interval95: [number, number] };
    const result = drawAll(model, fixed(1_000_000));
    expect(Math.abs(result.standardUncertainty - printed.u)).toBeLessThanOrEqual(0.005);
    expect(Math.abs(result.low - printed.interval95[0])).toBeLessThanOrEqual(0.02);
    expect(Math.abs(result.high - printed.interval95[1])).toBeLessThanOrEqual(0.02);
  });
});

describe('JCGM 101, 9.3: mass calibration (from memory)', () => {
  const { inputs, expected } = workedExample('jcgm101-9.3-mass-calibration');
  const [massMg, uMass] = inputs['m_Rc_mg'] as [number, number];
  const [extraMg, uExtra] = inputs['delta_m_Rc_mg'] as [number, number];
  const middle = (key: string) => {
    const [low, high] = inputs[key] as [number, number];
    return { middle: (low + high) / 2, half: (high - low) / 2 };
  };
  const [air, weight, reference] = [middle('rho_a'), middle('rho_W'), middle('rho_R')];
  const model: DrawnModel = {
    inputs: 4,
    parts: [
      { shape: 'normal', spread: uMass, input: 0 },
      { shape: 'normal', spread: uExtra, input: 0 },
      { shape: 'rectangular', spread: air.half, input: 1 },
      { shape: 'rectangular', spread: weight.half, input: 2 },
      { shape: 'rectangular', spread: reference.half, input: 3 },
    ],
    evaluate: ([mass, a, w, r], values) => {
      for (let i = 0; i < values.length; i += 1) {
        const lift =
          (air.middle + (a?.[i] ?? 0) - 1.2) *
          (1 / (weight.middle + (w?.[i] ?? 0)) - 1 / (reference.middle + (r?.[i] ?? 0)));
        values[i] = (massMg + extraMg + (mass?.[i] ?? 0)) * (1 + lift) - 100_000;
      }
    },
  };

  it('shows what the first-order budget misses', () => {
    const printed = expected['MC'] as { mean_mg: number; u_mg: number; shortest95: [number, number] };
    const result = drawAll(model, fixed(2_000_000));
    expect(Math.abs(result.mean - printed.mean_mg)).toBeLessThanOrEqual(0.0005);
    expect(Math.abs(result.standardUncertainty - printed.u_mg)).toBeLessThanOrEqual(0.0005);
    // printed is the shortest interval, here the symmetric one: the distribution is symmetric
    const [low, high] = printed.shortest95;
    expect(Math.abs(result.low - low)).toBeLessThanOrEqual(0.002);
    expect(Math.abs(result.high - high)).toBeLessThanOrEqual(0.002);
  });
});

describe('stopping', () => {
  const model: DrawnModel = {
    inputs: 1,
    parts: [{ shape: 'normal', spread: 1, input: 0 }],
    evaluate: ([x], values) => {
      if (x !== undefined) values.set(x);
    },
  };

  it('comes sooner for a larger tolerance, never before the least, and at the most without success', () => {
    const draws = (tolerance: number, most = 2_000_000) =>
      drawAll(model, { seed: 1, probability: 0.95, tolerance, leastDraws: 20_000, mostDraws: most });
    expect(draws(10).draws).toBe(20_000);
    expect(draws(0.01).draws).toBeGreaterThan(draws(0.05).draws);
    expect(draws(1e-9, 50_000)).toMatchObject({ draws: 50_000, stable: false });
  });

  it('happens block by block', () => {
    const run = new MonteCarlo(model, {
      seed: 1,
      probability: 0.95,
      tolerance: null,
      leastDraws: 0,
      mostDraws: 30_000,
    });
    run.step();
    expect([run.draws, run.finished]).toEqual([10_000, false]);
    run.step();
    run.step();
    expect([run.draws, run.finished]).toEqual([30_000, true]);
  });
});
