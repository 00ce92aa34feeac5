import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareMeans } from '../../../server/metrology/class/compare.ts';
import { RandomStream } from '../../../server/metrology/random-stream.ts';
import { simulatedTrials } from './simulated.ts';

const alone = (values: readonly number[]) => values.map((value) => [value]);

describe('Student (1908), hours of sleep gained with two drugs', () => {
  const first = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
  const second = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];

  it('Welch: t 1.8608, 17.776 degrees of freedom, p 0.07939, 95 % from −0.2055 to 3.3655', () => {
    // SciPy 1.17.1, stats.ttest_ind with unequal variances: an independent library
    const result = compareMeans(alone(first), alone(second));
    expect(result?.differenceMl).toBeCloseTo(1.58, 12);
    expect(result?.t).toBeCloseTo(1.8608134675, 9);
    expect(result?.degreesOfFreedom).toBeCloseTo(17.7764735162, 8);
    expect(result?.p).toBeCloseTo(0.0793941402, 9);
    expect((result?.differenceMl ?? 0) - (result?.expandedUncertaintyMl ?? 0)).toBeCloseTo(-0.2054832307, 9);
    expect((result?.differenceMl ?? 0) + (result?.expandedUncertaintyMl ?? 0)).toBeCloseTo(3.3654832307, 9);
    expect(result?.seen).toBe(false);
  });

  it('the other way round only the sign changes', () => {
    const there = compareMeans(alone(first), alone(second));
    const back = compareMeans(alone(second), alone(first));
    expect(back).toEqual({ ...there, differenceMl: -(there?.differenceMl ?? 0), t: -(there?.t ?? 0) });
  });
});

describe('classes', () => {
  it('two rows with one mean are told apart in about 5 of 100 cases', () => {
    const stream = new RandomStream(5);
    const facts = { repeatabilitySdMl: 0.02, betweenSdMl: 0.03, trialsPerGroup: [3, 3, 3, 3, 3, 3, 3, 3] };
    const RUNS = 2000;
    let seen = 0;
    for (let run = 0; run < RUNS; run += 1) {
      const [one, other] = [simulatedTrials(stream, 25, facts), simulatedTrials(stream, 25, facts)];
      if (compareMeans(one, other)?.seen === true) seen += 1;
    }
    // four standard errors of a share of 5 %: 2 %
    expect(Math.abs(seen / RUNS - 0.05)).toBeLessThan(4 * Math.sqrt((0.05 * 0.95) / RUNS));
  });

  it('a row of one group is not compared', () => {
    expect(compareMeans([[1, 2, 3]], alone([1, 2]))).toBeNull();
    expect(compareMeans(alone([1, 2]), [[1, 2], []])).toBeNull();
  });

  it('without any spread the difference stands for itself', () => {
    const equal = compareMeans(alone([25, 25]), alone([25, 25]));
    expect(equal).toMatchObject({ differenceMl: 0, expandedUncertaintyMl: 0, t: null, p: null, seen: false });
    expect(compareMeans(alone([25, 25]), alone([26, 26]))).toMatchObject({ differenceMl: 1, seen: true });
  });
});

it('a shift of one row shifts the difference and nothing else', () => {
  const values = fc.array(fc.integer({ min: 0, max: 500 }), { minLength: 2, maxLength: 8 });
  fc.assert(
    fc.property(values, values, fc.integer({ min: -200, max: 200 }), (one, other, shift) => {
      const own = compareMeans(alone(one), alone(other));
      const moved = compareMeans(alone(one), alone(other.map((value) => value + shift)));
      expect(moved?.differenceMl).toBeCloseTo((own?.differenceMl ?? 0) + shift, 9);
      expect(moved?.expandedUncertaintyMl).toBeCloseTo(own?.expandedUncertaintyMl ?? 0, 8);
    }),
  );
});
