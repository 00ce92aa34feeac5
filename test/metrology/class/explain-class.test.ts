import { describe, expect, it } from 'vitest';
import { choose } from '../../../server/metrology/class/choose.ts';
import type { ClassRow } from '../../../server/metrology/class/data.ts';
import { explainReach, explainRow, explainShare } from '../../../server/metrology/class/explain-class.ts';
import type { ClassExplanation } from '../../../server/metrology/class/explain-class.ts';
import { rowFigures } from '../../../server/metrology/class/figures.ts';
import type { LimitFigures } from '../../../server/metrology/class/figures.ts';
import type { Explanation } from '../../../server/metrology/explain.ts';
import { SOURCES } from '../../../server/metrology/sources.ts';

function row(...trials: number[][]): ClassRow {
  return {
    key: 'cylinder',
    kind: 'measuring-cylinder',
    nominalMl: 25,
    basis: 'deliver',
    toleranceMl: 0.25,
    groups: trials.map((trialsMl, at) => ({ key: `${at + 1}`, trialsMl })),
  };
}

const own = row([24.7, 24.8], [24.9, 25.1, 25.0], [24.6]);
const figures = rowFigures(own);
const told = explainRow(own, figures);

function walk(node: Explanation | null, visit: (one: Explanation) => void): void {
  if (node === null) return;
  visit(node);
  for (const part of node.parts) walk(part, visit);
}

function all(explanation: ClassExplanation): Explanation[] {
  const found: Explanation[] = [];
  for (const node of Object.values(explanation) as (Explanation | null)[]) walk(node, (one) => found.push(one));
  return found;
}

const find = (node: Explanation | null, symbol: string): number[] => {
  const values: number[] = [];
  walk(node, (one) => {
    if (one.symbol === symbol) values.push(one.value ?? Number.NaN);
  });
  return values;
};

describe('each number of a row unfolds', () => {
  it('to the value it explains', () => {
    expect(told.mean?.value).toBe(figures.meanMl);
    expect(told.bias?.value).toBe(figures.biasMl);
    expect(told.sd?.value).toBe(figures.sdMl);
    expect(told.repeatability?.value).toBe(figures.repeatabilitySdMl);
    expect(told.between?.value).toBe(figures.betweenSdMl);
    expect(told.withinRoom?.value).toBe(figures.withinRoomSdMl);
    expect(told.meanUncertainty?.value).toBe(figures.meanUncertaintyMl);
    expect(told.f?.value).toBe(figures.oneWay?.p);
  });

  it('down to every trial', () => {
    for (const node of [told.mean, told.bias, told.sd, told.repeatability, told.between, told.withinRoom]) {
      expect(new Set(find(node, 'V'))).toEqual(new Set([24.7, 24.8, 24.9, 25.1, 25.0, 24.6]));
    }
  });

  it('by formulas that the parts fulfil', () => {
    const [msb = 0, msw = 0, n0 = 0] = ['MSb', 'MSw', 'n₀'].map((symbol) => find(told.between, symbol)[0]);
    // n₀ of 2, 3 and 1 trials: (6 − 14/6)/2
    expect(n0).toBeCloseTo(11 / 6, 12);
    expect(find(told.between, 's_L²')[0]).toBeCloseTo((msb - msw) / n0, 12);
    expect(told.repeatability?.value).toBeCloseTo(Math.sqrt(msw), 12);
    const [sr = 0, sL = 0] = ['s_r', 's_L'].map((symbol) => find(told.withinRoom, symbol)[0]);
    expect(told.withinRoom?.value).toBeCloseTo(Math.hypot(sr, sL), 12);
    const sizes = find(told.meanUncertainty, 'nᵢ').slice(-3);
    expect(sizes).toEqual([2, 3, 1]);
    expect(told.meanUncertainty?.value).toBeCloseTo(Math.sqrt((sr * sr) / 6 + (sL * sL * 14) / 36), 12);
    expect(find(told.f, 'F')[0]).toBeCloseTo(msb / msw, 12);
  });

  it('with a source at every node that is not typed, and a formula at every node with parts', () => {
    for (const one of all(told)) {
      expect(one.typed !== undefined || one.source !== undefined, one.label).toBe(true);
      expect((one.formula === null) === (one.parts.length === 0), one.label).toBe(true);
      if (one.source !== undefined && one.source !== 'common-practice') expect(SOURCES).toHaveProperty(one.source);
    }
  });

  it('a trial further, where its working is at hand', () => {
    const working: Explanation = {
      symbol: 'm·Z·C',
      label: 'volume',
      formula: 'm·Z·C',
      value: 1,
      unit: 'mL',
      parts: [],
    };
    const deep = explainRow(own, figures, (group, index) => (group === '2' && index === 1 ? working : null));
    expect(deep.mean?.parts.filter((part) => part === working)).toHaveLength(1);
    expect(deep.mean?.parts).toHaveLength(6);
  });
});

describe('what a row does not have is not explained', () => {
  it('no trial, one trial, one group, one trial a group', () => {
    const none = row();
    expect(Object.values(explainRow(none, rowFigures(none))).every((one) => one === null)).toBe(true);
    const one = row([25]);
    expect(explainRow(one, rowFigures(one))).toMatchObject({ sd: null, repeatability: null, between: null, f: null });
    const alone = row([25, 25.1]);
    expect(explainRow(alone, rowFigures(alone))).toMatchObject({ between: null, withinRoom: null, f: null });
    const once = row([25], [25.1], [25.3]);
    const explained = explainRow(once, rowFigures(once));
    expect(explained).toMatchObject({ repeatability: null, between: null });
    expect(explained.withinRoom?.formula).toContain('MSb');
    expect(explained.withinRoom?.parts[0]?.value).toBeCloseTo((explained.withinRoom?.value ?? 0) ** 2, 12);
  });

  it('a negative variance is said to count as 0', () => {
    const near = row([24, 26], [24, 26]);
    const { between } = explainRow(near, rowFigures(near));
    expect(between).toMatchObject({ value: 0 });
    expect(between?.label).toContain('negative');
    expect(find(between, 's_L²')[0]).toBeLessThan(0);
  });
});

describe('shares and reach', () => {
  it('a share unfolds to the limit and the trials', () => {
    const [limit] = figures.limits;
    const share = explainShare(own, limit as LimitFigures);
    // 24.8, 24.9, 25.1, 25.0 lie within ±0.25 mL
    expect(share).toMatchObject({ value: 4 / 6, label: 'single fillings within the limit: 4 of 6' });
    expect(find(share, 'T')).toEqual([0.25]);
    expect(find(share, 'V')).toHaveLength(6);
    const empty = row();
    expect(explainShare(empty, rowFigures(empty).limits[0] as LimitFigures)).toBeNull();
  });

  it('the reach unfolds to bias, spread and the wanted accuracy', () => {
    const job = { need: 'deliver', volumeMl: 25, volume: 'fixed', accuracy: { percent: 2 } } as const;
    const [choice] = choose([figures], job).ranked;
    if (choice === undefined) throw new Error('no choice');
    const reach = explainReach(choice, job, told);
    const [bias = 0] = find(reach, 'b');
    const [spread = 0] = find(reach, 's_R');
    expect(reach?.value).toBeCloseTo(Math.abs(bias) + 2 * spread, 12);
    expect(reach?.parts.at(-1)).toMatchObject({ symbol: 'A', value: 0.5, parts: [{ typed: '25' }, { typed: '2' }] });
    const inMl = { ...job, accuracy: { ml: 0.5 } };
    expect(explainReach(choice, inMl, told)?.parts.at(-1)).toMatchObject({ symbol: 'A', value: 0.5, typed: '0.5' });
    expect(explainReach({ ...choice, reachMl: null }, job, told)).toBeNull();
  });
});
