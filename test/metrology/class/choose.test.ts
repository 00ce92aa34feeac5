import { describe, expect, it } from 'vitest';
import { choose } from '../../../server/metrology/class/choose.ts';
import type { Job } from '../../../server/metrology/class/choose.ts';
import type { ClassRow } from '../../../server/metrology/class/data.ts';
import { rowFigures } from '../../../server/metrology/class/figures.ts';
import { codes } from '../make.ts';

/** Three groups of three around a mean; s_r is the step, the group means agree, so s_R = s_r. */
function row(facts: Partial<ClassRow>, meanMl: number, stepMl: number) {
  const groups = ['1', '2', '3'].map((key) => ({ key, trialsMl: [meanMl - stepMl, meanMl, meanMl + stepMl] }));
  const ware = { key: 'pipette', kind: 'single-volume-pipette', nominalMl: 25, basis: 'deliver' } as const;
  return rowFigures({ ...ware, toleranceMl: null, groups, ...facts });
}

const pipette = row({}, 24.98, 0.01);
const burette = row({ key: 'burette', kind: 'burette' }, 25.01, 0.03);
const cylinder = row({ key: 'cylinder', kind: 'measuring-cylinder' }, 24.8, 0.1);
const flask = row({ key: 'flask', kind: 'volumetric-flask', basis: 'contain' }, 25.01, 0.02);
const beaker = row({ key: 'beaker', kind: 'beaker', basis: 'contain' }, 26, 0.5);
const all = [beaker, cylinder, flask, burette, pipette];

const deliver: Job = { need: 'deliver', volumeMl: 25, volume: 'fixed', accuracy: { ml: 0.1 } };
const reasonsOf = (job: Job, key: string, rows = all) =>
  codes(choose(rows, job).ranked.find((choice) => choice.key === key)?.reasons ?? []);

describe('the ware to take', () => {
  it('ranks by |bias| + 2·s_R, worked out by hand', () => {
    const { ranked, best } = choose(all, deliver);
    expect(best).toBe('pipette');
    // 0.02 + 2·0.01, 0.01 + 2·0.03; then the inadequate: 0.01 + 2·0.02, 0.2 + 2·0.1, 1 + 2·0.5
    expect(ranked.map((choice) => choice.key)).toEqual(['pipette', 'burette', 'flask', 'cylinder', 'beaker']);
    const reaches = ranked.map((choice) => Number(choice.reachMl?.toFixed(9)));
    expect(reaches).toEqual([0.04, 0.07, 0.05, 0.4, 2]);
    expect(ranked.map((choice) => choice.adequate)).toEqual([true, true, false, false, false]);
  });

  it('names what stands in the way', () => {
    expect(reasonsOf(deliver, 'flask')).toEqual(['contain-or-deliver']);
    expect(reasonsOf(deliver, 'cylinder')).toEqual(['biased', 'too-much-spread']);
    expect(reasonsOf({ ...deliver, accuracy: { ml: 0.15 } }, 'cylinder')).toEqual(['biased', 'too-much-spread']);
    expect(reasonsOf({ ...deliver, volume: 'any' }, 'pipette')).toEqual(['one-mark-or-graduated']);
    expect(reasonsOf({ ...deliver, volume: 'any' }, 'burette')).toEqual([]);
    expect(reasonsOf({ ...deliver, volumeMl: 10 }, 'pipette')).toEqual(['other-volume']);
    expect(reasonsOf({ ...deliver, volumeMl: 10 }, 'burette')).toEqual([]);
    expect(reasonsOf({ ...deliver, volumeMl: 50 }, 'burette')).toEqual(['other-volume']);
  });

  it('names bias or spread alone where one is the cause', () => {
    const biased = row({ key: 'off' }, 25.3, 0.01);
    const wide = row({ key: 'wide' }, 25.01, 0.2);
    expect(reasonsOf(deliver, 'off', [biased])).toEqual(['biased']);
    expect(reasonsOf(deliver, 'wide', [wide])).toEqual(['too-much-spread']);
  });

  it('takes the wanted accuracy in per cent of the volume too, and at its very edge', () => {
    // 0.16 % of 25 mL is 0.04 mL, the reach of the pipette; just below it is not enough
    expect(choose([pipette], { ...deliver, accuracy: { percent: 0.17 } }).best).toBe('pipette');
    expect(choose([pipette], { ...deliver, accuracy: { percent: 0.15 } }).best).toBeNull();
  });

  it('for making up a volume the flask, for holding any vessel large enough', () => {
    expect(choose(all, { ...deliver, need: 'contain' }).best).toBe('flask');
    const hold = choose(all, { need: 'hold', volumeMl: 20, volume: 'any', accuracy: null });
    expect(hold.ranked.every((choice) => choice.adequate)).toBe(true);
    expect(choose(all, { need: 'hold', volumeMl: 40, volume: 'any', accuracy: null }).best).toBeNull();
  });

  it('leans on nothing where too few weighed', () => {
    const groups = [{ key: '1', trialsMl: [25, 25.01, 24.99, 25, 25] }];
    const one = rowFigures({ ...pipette, key: 'one', toleranceMl: null, limits: [], groups });
    expect(reasonsOf(deliver, 'one', [one])).toEqual(['too-few-data']);
    const none = rowFigures({ ...pipette, key: 'none', toleranceMl: null, limits: [], groups: [] });
    expect(choose([none], deliver).ranked[0]).toMatchObject({ reachMl: null, adequate: false });
    expect(choose([none, pipette], deliver).ranked.at(-1)?.key).toBe('none');
  });

  it('refuses a volume or an accuracy of nothing', () => {
    expect(() => choose(all, { ...deliver, volumeMl: 0 })).toThrow(RangeError);
    expect(() => choose(all, { ...deliver, accuracy: { percent: 0 } })).toThrow(RangeError);
  });
});
