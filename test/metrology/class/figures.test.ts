import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ClassRow } from '../../../server/metrology/class/data.ts';
import { classFigures, rowFigures } from '../../../server/metrology/class/figures.ts';
import { codes } from '../make.ts';
import { valueOf, workedExample } from '../fixture.ts';

function row(trials: readonly (readonly number[])[], facts: Partial<ClassRow> = {}): ClassRow {
  return {
    key: 'pipette',
    kind: 'single-volume-pipette',
    nominalMl: 25,
    basis: 'deliver',
    toleranceMl: null,
    groups: trials.map((trialsMl, at) => ({ key: `${at + 1}`, trialsMl })),
    ...facts,
  };
}

describe('a row with the runs of USP <1010>', () => {
  const usp = workedExample('usp-1010-anova-precision');
  const runs = usp.inputs['runs'] as number[][];
  const figures = rowFigures(row(runs, { nominalMl: 100, toleranceMl: 0.5, markedPercent: 2 }));

  it('has the printed mean, and the bias from the nominal volume', () => {
    // printed 100.96, the runs give 100.963
    expect(Math.abs((figures.meanMl ?? 0) - valueOf(usp.expected, 'grand_mean'))).toBeLessThan(0.005);
    expect(figures.biasMl).toBeCloseTo((figures.meanMl ?? 0) - 100, 12);
    expect(figures).toMatchObject({ n: 15, groups: 5, smallestMl: 99.37, largestMl: 102.44 });
  });

  it('has the printed mean and spread of each run', () => {
    const [means, spreads] = [usp.expected['run_means'] as number[], usp.expected['run_sd'] as number[]];
    figures.byGroup.forEach((group, at) => {
      expect(Math.abs((group.meanMl ?? 0) - (means[at] ?? 0))).toBeLessThan(0.0051);
      expect(Math.abs((group.sdMl ?? 0) - (spreads[at] ?? 0))).toBeLessThan(0.00051);
    });
    expect(figures.byGroup).toHaveLength(5);
  });

  it('has the printed parts of the spread, and all in per cent of the nominal volume', () => {
    expect((figures.repeatabilitySdMl ?? 0) ** 2).toBeCloseTo(valueOf(usp.expected, 'MS_within'), 3);
    expect((figures.withinRoomSdMl ?? 0) ** 2).toBeCloseTo(valueOf(usp.expected, 'var_of_mean_1run_1rep'), 3);
    const { relative } = figures;
    // of 100 mL, per cent and mL are the same number
    expect(relative.biasPercent).toBeCloseTo(figures.biasMl ?? 0, 12);
    expect(relative.withinRoomPercent).toBeCloseTo(figures.withinRoomSdMl ?? 0, 12);
    expect(relative.meanUncertaintyPercent).toBeCloseTo(figures.meanUncertaintyMl ?? 0, 12);
  });

  it('counts single fillings within each limit, apart from what the limit allows the vessel', () => {
    // counted by hand: 99.59, 99.96, 100.17 within ±0.5; all but 102.16, 102.44 within ±2
    expect(figures.limits).toEqual([
      {
        name: 'stated',
        source: 'stated for this ware',
        toleranceMl: 0.5,
        vessel: { lowestMl: 99.5, highestMl: 100.5 },
        fillings: { n: 15, within: 3, share: 0.2 },
      },
      {
        name: 'marked',
        source: 'marked on the vessel',
        toleranceMl: 2,
        vessel: { lowestMl: 98, highestMl: 102 },
        fillings: { n: 15, within: 13, share: 13 / 15 },
      },
    ]);
  });

  it('says that the runs differ', () => expect(codes(figures.findings)).toEqual(['groups-differ']));
});

describe('limits', () => {
  it('a filling on the limit is within, also where doubles miss it', () => {
    const limits = [{ name: 'A', source: 'ISO 648:2008 class A', toleranceMl: 0.03 }];
    const [limit] = rowFigures(row([[25.03, 24.97, 25.031]], { limits })).limits;
    expect(limit?.fillings).toEqual({ n: 3, within: 2, share: 2 / 3 });
  });

  it('without trials there is no share', () => {
    expect(rowFigures(row([], { toleranceMl: 0.03 })).limits[0]?.fillings).toEqual({ n: 0, within: 0, share: null });
  });
});

describe('what few trials do not give', () => {
  it('no trial: nothing but that', () => {
    const figures = rowFigures(row([[], []]));
    expect(figures).toMatchObject({ n: 0, groups: 0, meanMl: null, biasMl: null, sdMl: null, oneWay: null });
    expect(codes(figures.findings)).toEqual(['no-trials']);
    expect(figures.byGroup[0]).toEqual({ key: '1', n: 0, meanMl: null, sdMl: null });
  });

  it('one trial: a mean and a bias, never a spread', () => {
    const figures = rowFigures(row([[25.5]]));
    expect(figures).toMatchObject({ n: 1, meanMl: 25.5, biasMl: 0.5, sdMl: null, repeatabilitySdMl: null });
    expect(figures).toMatchObject({ withinRoomSdMl: null, meanUncertaintyMl: null });
    expect(codes(figures.findings)).toEqual(['needs-2-trials', 'needs-2-groups']);
  });

  it('one group: its own spread, none between groups', () => {
    const figures = rowFigures(row([[25, 26]]));
    expect(figures.repeatabilitySdMl).toBeCloseTo(Math.SQRT1_2, 14);
    expect(figures).toMatchObject({ betweenSdMl: null, withinRoomSdMl: null });
    expect(codes(figures.findings)).toEqual(['needs-2-groups']);
  });

  it('one trial a group: no parts', () => {
    const figures = rowFigures(row([[25], [26], [27]]));
    expect(figures).toMatchObject({ repeatabilitySdMl: null, betweenSdMl: null, withinRoomSdMl: 1 });
    expect(codes(figures.findings)).toEqual(['no-repeats']);
  });

  it('few groups, and a spread between them that comes out negative', () => {
    const figures = rowFigures(
      row([
        [25, 26],
        [25, 26],
      ]),
    );
    expect(figures).toMatchObject({ betweenSdMl: 0 });
    expect(codes(figures.findings)).toEqual(['few-groups', 'negative-between']);
    // JCGM 100, table E.1: the spread of two values is known to 76 %; the formula beside it, 1/√(2ν), gives 71 %
    expect(figures.findings[0]?.detail).toContain('71 %');
  });

  it('refuses a row without a nominal volume', () => {
    expect(() => rowFigures(row([[25]], { nominalMl: 0 }))).toThrow(RangeError);
  });
});

describe('a trial far out', () => {
  const quiet = [
    [25.01, 25.02],
    [25.0, 25.01],
    [25.02, 25.0],
  ];

  it('is asked about; both figures are given and none is left out', () => {
    const figures = rowFigures(row([...quiet, [25.01, 27.0]]));
    expect(figures.n).toBe(8);
    expect(figures.suspect).toMatchObject({ group: '4', index: 1, valueMl: 27, level: 'outlier' });
    expect(codes(figures.findings)).toContain('suspected-outlier');
    const without = rowFigures(row([...quiet, [25.01]]));
    expect(figures.suspect?.without).toMatchObject({
      n: 7,
      meanMl: without.meanMl,
      sdMl: without.sdMl,
      withinRoomSdMl: without.withinRoomSdMl,
    });
    expect(figures.sdMl ?? 0).toBeGreaterThan(10 * (without.sdMl ?? 0));
  });

  it('is not there in quiet trials', () => expect(rowFigures(row(quiet)).suspect).toBeNull());
});

describe('properties', () => {
  const lists = fc.array(fc.array(fc.integer({ min: 2300, max: 2700 }), { maxLength: 4 }), {
    minLength: 1,
    maxLength: 6,
  });
  const near = (one: number | null | undefined, other: number | null | undefined) => {
    if (one == null || other == null) expect(one).toBe(other);
    else expect(Math.abs(one - other)).toBeLessThan(1e-9 * Math.max(1, Math.abs(one)));
  };

  it('the order of groups and trials does not matter', () => {
    fc.assert(
      fc.property(lists, (trials) => {
        const own = rowFigures(row(trials, { nominalMl: 2500, toleranceMl: 30 }));
        const turned = rowFigures(
          row(trials.map((list) => [...list].reverse()).reverse(), { nominalMl: 2500, toleranceMl: 30 }),
        );
        near(own.biasMl, turned.biasMl);
        near(own.sdMl, turned.sdMl);
        near(own.withinRoomSdMl, turned.withinRoomSdMl);
        expect(turned.limits).toEqual(own.limits);
        expect(codes(turned.findings)).toEqual(codes(own.findings));
      }),
    );
  });

  it('relative figures do not change when all volumes are ten times as large', () => {
    fc.assert(
      fc.property(lists, (trials) => {
        const own = rowFigures(row(trials, { nominalMl: 2500 }));
        const large = rowFigures(
          row(
            trials.map((list) => list.map((value) => 10 * value)),
            { nominalMl: 25000 },
          ),
        );
        near(own.relative.biasPercent, large.relative.biasPercent);
        near(own.relative.sdPercent, large.relative.sdPercent);
        near(own.relative.withinRoomPercent, large.relative.withinRoomPercent);
      }),
    );
  });
});

it('rows keep their order', () => {
  const rows = [row([[25]]), row([[24]], { key: 'beaker', kind: 'beaker' })];
  expect(classFigures({ rows }).map((figures) => figures.key)).toEqual(['pipette', 'beaker']);
});
