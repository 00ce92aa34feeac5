import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { oneWay } from '../../../server/metrology/class/one-way.ts';
import { readJson, valueOf, workedExample } from '../fixture.ts';

interface Reference {
  name: string;
  level: 'lower' | 'average' | 'higher';
  groups: number;
  perGroup: number;
  certified: Record<'msBetween' | 'msWithin' | 'f' | 'residualSd', string> & { dfBetween: number; dfWithin: number };
  data?: string[][];
  firstValues?: string[];
}

const { sets } = readJson('tables/nist-strd-anova.json') as { sets: Reference[] };

/** A group from decimal text: its first value, then 0.1 below and above it in turn. */
function generated(first: string, count: number): string[] {
  const [whole = '', tenth = ''] = first.split('.');
  const around = [`${whole}.${Number(tenth) - 1}`, `${whole}.${Number(tenth) + 1}`];
  return Array.from({ length: count }, (_, index) => (index === 0 ? first : (around[(index - 1) % 2] ?? '')));
}

function dataOf(set: Reference): number[][] {
  const texts = set.data ?? (set.firstValues ?? []).map((first) => generated(first, set.perGroup));
  return texts.map((group) => group.map(Number));
}

/** Correct digits, at most 15. */
function logRelativeError(value: number | null, certified: string): number {
  const exact = Number(certified);
  if (value === exact) return 15;
  return Math.min(15, -Math.log10(Math.abs((value ?? Number.NaN) - exact) / Math.abs(exact)));
}

/**
 * Digits the data leave to any program in double precision: writing 1000000.4 or 1000000000000.4 as a double costs the
 * rest. F worked out in exact fractions from these doubles has 10.2 and 4.2 digits of the certified one.
 */
const REACHABLE = { lower: 13, average: 9.8, higher: 3.9 };

describe('NIST StRD, one-way analysis of variance', () => {
  it.each(sets)('$name, level $level', (set) => {
    const data = dataOf(set);
    const { certified } = set;
    expect(data.map((group) => group.length)).toEqual(Array.from({ length: set.groups }, () => set.perGroup));
    const result = oneWay(data);
    expect(result).toMatchObject({ dfBetween: certified.dfBetween, dfWithin: certified.dfWithin });
    for (const [value, exact] of [
      [result.f, certified.f],
      [result.msBetweenMl2, certified.msBetween],
      [result.msWithinMl2, certified.msWithin],
      [result.repeatabilitySdMl, certified.residualSd],
    ] as const) {
      expect(logRelativeError(value, exact)).toBeGreaterThanOrEqual(REACHABLE[set.level]);
    }
  });

  it('are nine, of three levels', () => {
    expect(sets).toHaveLength(9);
    expect(new Set(sets.map((set) => set.level)).size).toBe(3);
  });
});

describe('worked examples', () => {
  // USP <1010>, appendix on precision: five runs of three
  const usp = workedExample('usp-1010-anova-precision');
  const runs = usp.inputs['runs'] as number[][];

  it('USP <1010>: mean squares, F and the variance of one trial of one run', () => {
    const result = oneWay(runs);
    expect(result.ssBetweenMl2).toBeCloseTo(valueOf(usp.expected, 'SS_between'), 1);
    expect(Math.abs(result.ssWithinMl2 - valueOf(usp.expected, 'SS_within'))).toBeLessThan(0.001);
    expect(Math.abs((result.msBetweenMl2 ?? 0) - valueOf(usp.expected, 'MS_between'))).toBeLessThan(0.0006);
    expect(Math.abs((result.msWithinMl2 ?? 0) - valueOf(usp.expected, 'MS_within'))).toBeLessThan(0.0006);
    // the printed F is the ratio of the printed mean squares
    expect(Math.abs((result.f ?? 0) - valueOf(usp.expected, 'F'))).toBeLessThan(0.1);
    expect((result.withinRoomSdMl ?? 0) ** 2).toBeCloseTo(valueOf(usp.expected, 'var_of_mean_1run_1rep'), 3);
    const ofTwoRuns = (result.between?.varianceMl2 ?? 0) / 2 + (result.msWithinMl2 ?? 0) / 6;
    expect(Math.sqrt(ofTwoRuns)).toBeCloseTo(valueOf(usp.expected, 'sd_of_mean_2run_3rep'), 3);
  });

  it('JCGM 100 H.5, ten days of five voltages (from memory): s_a 128 µV, s_b 85 µV, s_B 43 µV, u 18 µV', () => {
    // table H.9: day means in µV above 10 V, and the spread of each day
    const days = [172, 116, 13, 144, 106, 31, 60, 125, 163, 41];
    const spreads = [60, 77, 111, 101, 67, 93, 80, 73, 88, 86];
    // five values with just that mean and spread
    const data = days.map((day, index) => [-1, -1, 0, 1, 1].map((step) => day + step * (spreads[index] ?? 0)));
    const result = oneWay(data);
    expect(Math.round(result.meanMl)).toBe(97);
    expect(Math.round(Math.sqrt(result.msBetweenMl2 ?? 0))).toBe(128);
    expect(Math.round(result.repeatabilitySdMl ?? 0)).toBe(85);
    expect(Math.round(result.between?.sdMl ?? 0)).toBe(43);
    expect(Math.round(result.meanUncertaintyMl ?? 0)).toBe(18);
    expect(result.meanDegreesOfFreedom).toBeCloseTo(9, 9);
    // printed 2.25, from spreads rounded to whole µV; the 95 % limit F(9, 40) is printed as 2.12
    expect(Math.abs((result.f ?? 0) - 2.25)).toBeLessThan(0.02);
    expect(result.p).toBeLessThan(0.05);
  });

  it('NIST StRD SiRstv: p of F 1.18 with 4 and 20 degrees of freedom', () => {
    const set = sets.find((one) => one.name === 'SiRstv') as Reference;
    // SciPy 1.17.1, stats.f.sf(1.18046237440255, 4, 20): an independent library
    expect(oneWay(dataOf(set)).p).toBeCloseTo(0.349447493402, 11);
  });
});

describe('what the data cannot give', () => {
  it('one group has no spread between groups', () => {
    const result = oneWay([[1, 2, 3], []]);
    expect(result).toMatchObject({ n: 3, groups: 1, meanMl: 2, repeatabilitySdMl: 1, dfBetween: 0, dfWithin: 2 });
    expect(result).toMatchObject({ between: null, withinRoomSdMl: null, f: null, p: null, meanUncertaintyMl: null });
  });

  it('one trial in each group shows the spread of any two trials, no more', () => {
    const result = oneWay([[1], [2], [3]]);
    expect(result).toMatchObject({ repeatabilitySdMl: null, between: null, f: null, dfWithin: 0, trialsPerGroup: 1 });
    expect(result.withinRoomSdMl).toBeCloseTo(1, 14);
    expect(result.meanUncertaintyMl).toBeCloseTo(1 / Math.sqrt(3), 14);
    expect(result.meanDegreesOfFreedom).toBe(2);
  });

  it('groups closer together than their spread explains: 0, and said', () => {
    // means 2 and 2, s_r² = 2: MSb − MSw = −2, n₀ = 2
    const result = oneWay([
      [1, 3],
      [1, 3],
    ]);
    expect(result.between).toEqual({ varianceMl2: -1, sdMl: 0, negative: true });
    expect(result.withinRoomSdMl).toBeCloseTo(Math.SQRT2, 14);
    expect(result.meanUncertaintyMl).toBeCloseTo(Math.SQRT2 / 2, 14);
    expect(result.meanDegreesOfFreedom).toBe(2);
  });

  it('equal trials spread not at all', () => {
    const result = oneWay([
      [25.01, 25.01],
      [25.01, 25.01],
    ]);
    expect(result).toMatchObject({ repeatabilitySdMl: 0, withinRoomSdMl: 0, f: null, p: null, meanUncertaintyMl: 0 });
  });

  it('groups that differ with nothing within them', () => {
    expect(
      oneWay([
        [1, 1],
        [2, 2],
      ]),
    ).toMatchObject({ f: Number.POSITIVE_INFINITY, p: 0, repeatabilitySdMl: 0 });
  });

  it('refuses no trial and no number', () => {
    expect(() => oneWay([])).toThrow(RangeError);
    expect(() => oneWay([[], []])).toThrow(RangeError);
    expect(() => oneWay([[1, Number.NaN], [2]])).toThrow(RangeError);
  });
});

describe('properties', () => {
  const groups = fc.array(fc.array(fc.integer({ min: -5000, max: 5000 }), { minLength: 1, maxLength: 6 }), {
    minLength: 2,
    maxLength: 8,
  });
  const near = (value: number | null, other: number | null) => {
    if (value === null || other === null) expect(value).toBe(other);
    else expect(Math.abs(value - other)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(value)));
  };

  it('the order of groups and of trials does not matter', () => {
    fc.assert(
      fc.property(groups, (data) => {
        const own = oneWay(data);
        const turned = oneWay(data.map((group) => [...group].reverse()).reverse());
        near(own.meanMl, turned.meanMl);
        near(own.msBetweenMl2, turned.msBetweenMl2);
        near(own.msWithinMl2, turned.msWithinMl2);
        near(own.meanUncertaintyMl, turned.meanUncertaintyMl);
      }),
    );
  });

  it('spreads stay when all trials move, and grow with their scale', () => {
    fc.assert(
      fc.property(groups, fc.integer({ min: -1000, max: 1000 }), (data, shift) => {
        const own = oneWay(data);
        const moved = oneWay(data.map((group) => group.map((value) => 2 * value + shift)));
        near(2 * own.meanMl + shift, moved.meanMl);
        near(own.repeatabilitySdMl === null ? null : 2 * own.repeatabilitySdMl, moved.repeatabilitySdMl);
        near(own.between === null ? null : 2 * own.between.sdMl, moved.between?.sdMl ?? null);
        near(own.withinRoomSdMl === null ? null : 2 * own.withinRoomSdMl, moved.withinRoomSdMl);
      }),
    );
  });

  it('sums of squares between and within add up to that around the mean of all', () => {
    fc.assert(
      fc.property(groups, (data) => {
        const all = data.flat();
        const mean = all.reduce((sum, value) => sum + value, 0) / all.length;
        const squares = all.reduce((sum, value) => sum + (value - mean) ** 2, 0);
        const { ssBetweenMl2, ssWithinMl2 } = oneWay(data);
        expect(Math.abs(ssBetweenMl2 + ssWithinMl2 - squares)).toBeLessThanOrEqual(1e-9 * Math.max(1, squares));
      }),
    );
  });

  it('with equal groups u(mean) is the root of MSb/N', () => {
    const equal = fc.array(fc.array(fc.integer({ min: 0, max: 99 }), { minLength: 3, maxLength: 3 }), {
      minLength: 2,
      maxLength: 8,
    });
    fc.assert(
      fc.property(equal, (data) => {
        const { msBetweenMl2, msWithinMl2, n, meanUncertaintyMl, trialsPerGroup } = oneWay(data);
        expect(trialsPerGroup).toBeCloseTo(3, 12);
        near(meanUncertaintyMl, Math.sqrt(Math.max(msBetweenMl2 ?? 0, msWithinMl2 ?? 0) / n));
      }),
    );
  });
});
