import { describe, expect, it } from 'vitest';
import { capability } from '../../server/metrology/capability.ts';
import type { PointCapability } from '../../server/metrology/capability.ts';
import { evaluate } from '../../server/metrology/evaluate.ts';
import { oneMore } from '../../server/metrology/one-more.ts';
import type { CalibrationRecord } from '../../server/metrology/record.ts';
import type { PointResult } from '../../server/metrology/result.ts';
import { toleranceRows } from '../../server/metrology/tolerance-table.ts';
import { flask, record, trialsOf } from './make.ts';

const fine = {
  balance: { resolutionG: '0.0001', repeatabilityG: '0.0002', linearityG: '0.0003', expandedUncertaintyG: '0.0003' },
  thermometer: { expandedUncertaintyC: '0.05', resolutionC: '0.1' },
};

function foresee(changes: Partial<CalibrationRecord> = {}, balances = {}): PointCapability {
  const before = record({ trials: [], points: ['100'], plannedTrials: 10, instruments: fine, ...changes });
  const list = Object.entries(balances).map(([id, facts]) => ({ id, facts: facts as object }));
  return capability(before, toleranceRows, list).points[0] as PointCapability;
}

describe('before the first weighing', () => {
  it('a good balance decides class A of a 100 mL flask', () => {
    const point = foresee();
    expect(point).toMatchObject({ plannedTrials: 10, toleranceMl: 0.1, decidableAtZeroError: true });
    // setting the mark: 0.1 mm/√10 from trial to trial, 0.05 mm/√3 in common
    expect(point.largestComponent).toBe('repeatability');
    expect(point.largestShare).toBeGreaterThan(1 / 3);
    expect(point.passPossibleWithinMl).toBeCloseTo(0.1 - point.expandedUncertaintyMl, 14);
    expect(point.ratio).toBeCloseTo(point.expandedUncertaintyMl / 0.1, 14);
    expect(point.repeatability).toMatchObject({ kind: 'predicted', degreesOfFreedom: 9 });
    expect(point.budget).toHaveLength(17);
  });

  it('a kitchen balance does not, and another one of the laboratory would', () => {
    const coarse = { balance: { resolutionG: '0.1' } };
    const balances = { analytical: fine.balance, kitchen: coarse.balance, small: { ...fine.balance, capacityG: '60' } };
    const point = foresee({ instruments: coarse }, balances);
    expect(point).toMatchObject({ decidableAtZeroError: false, passPossibleWithinMl: null, trialsForDecision: null });
    expect(point.largestComponent).toBe('balance-linearity');
    expect(point.balances.map((one) => [one.id, one.does])).toEqual([
      ['analytical', true],
      ['kitchen', false],
      ['small', false],
    ]);
  });

  it('says how many trials are enough', () => {
    const point = foresee();
    const needed = point.trialsForThird ?? 0;
    expect(needed).toBeGreaterThanOrEqual(2);
    expect(foresee({ plannedTrials: needed }).ratio).toBeLessThanOrEqual(1 / 3);
    if (needed > 2) expect(foresee({ plannedTrials: needed - 1 }).ratio).toBeGreaterThan(1 / 3);
    const decide = point.trialsForDecision ?? 0;
    expect(decide).toBeLessThanOrEqual(needed);
    expect(foresee({ plannedTrials: decide }).decidableAtZeroError).toBe(true);
  });

  it('never lets one trial decide, unless a pooled spread was chosen', () => {
    const one = foresee({ plannedTrials: 1 });
    expect(one).toMatchObject({ decidableAtZeroError: false, repeatability: { degreesOfFreedom: 8 } });
    const repeatability = { use: 'pooled', sdMl: '0.003', degreesOfFreedom: 30 } as const;
    const pooled = foresee({ plannedTrials: 1, repeatability });
    expect(pooled).toMatchObject({ decidableAtZeroError: true, repeatability: { kind: 'pooled' } });
  });

  it('has nothing to decide without a tolerance', () => {
    const point = foresee({ vessel: flask({ kind: 'pycnometer', tolerance: null }) });
    expect(point).toMatchObject({ toleranceMl: null, ratio: null, decidableAtZeroError: null, trialsForThird: null });
    const before = record({ trials: [], points: ['100'], vessel: flask({ kind: 'pycnometer', tolerance: null }) });
    expect(capability(before, toleranceRows).decidable).toBeNull();
  });

  it('foresees what the trials then show, when they spread as foreseen', () => {
    const point = foresee({ plannedTrials: 4 });
    const sd = point.repeatability.sdMl;
    // four masses with exactly this standard deviation about 99.713 g
    const step = sd / 1.0031 / Math.sqrt(4 / 3);
    const masses = [1, -1, 1, -1].map((sign) => (99.713 + sign * step).toFixed(6));
    const trials = trialsOf(masses, { waterTemperatureC: '21.8' });
    const measured = evaluate(record({ instruments: fine, trials }), toleranceRows).points[0] as PointResult;
    expect((measured.expandedUncertaintyMl ?? 0) / point.expandedUncertaintyMl).toBeCloseTo(1, 2);
  });
});

describe('one more trial', () => {
  const masses = ['99.7121', '99.7189', '99.7074', '99.7150', '99.7102'];
  const result = evaluate(record({ instruments: fine, trials: trialsOf(masses) }), toleranceRows);
  const point = result.points[0] as PointResult;

  it('brings U to s/√(n + 1) with n degrees of freedom', () => {
    const next = oneMore(point, 'guarded', 10);
    expect(next).toMatchObject({ trials: 6, plannedTrials: 10 });
    expect(next?.expandedUncertaintyMl).toBeLessThan(point.expandedUncertaintyMl ?? 0);
    expect(next?.plannedUncertaintyMl).toBeLessThan(next?.expandedUncertaintyMl ?? 0);
  });

  it('would not change a clear verdict, and could change a close one', () => {
    expect(oneMore(point, 'guarded', 10)?.verdictCouldChange).toBe(false);
    const close = trialsOf(['99.5950', '99.6070', '99.5940', '99.6080', '99.6030']);
    const near = evaluate(record({ instruments: fine, trials: close }), toleranceRows).points[0] as PointResult;
    expect(near.verdict).toMatch(/conditional/);
    expect(oneMore(near, 'guarded', 10)?.verdictCouldChange).toBe(true);
  });

  it('means nothing for a point without trials or without a verdict', () => {
    const empty = evaluate(record({ trials: [], points: ['100'] }), toleranceRows).points[0] as PointResult;
    expect(oneMore(empty, 'guarded', 10)).toBeNull();
    const trials = trialsOf(masses);
    const untold = evaluate(record({ vessel: flask({ tolerance: null }), trials }), toleranceRows);
    expect(oneMore(untold.points[0] as PointResult, 'guarded', 10)?.verdictCouldChange).toBe(false);
  });
});
