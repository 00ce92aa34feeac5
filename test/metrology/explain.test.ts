import { describe, expect, it } from 'vitest';
import { evaluate } from '../../server/metrology/evaluate.ts';
import { explainPoint } from '../../server/metrology/explain-point.ts';
import { explainSimpleVolume, explainTrial } from '../../server/metrology/explain.ts';
import type { Explanation } from '../../server/metrology/explain.ts';
import type { CalibrationRecord } from '../../server/metrology/record.ts';
import type { PointResult, TrialResult } from '../../server/metrology/result.ts';
import { SOURCES } from '../../server/metrology/sources.ts';
import { toleranceRows } from '../../server/metrology/tolerance-table.ts';
import { readJson } from './fixture.ts';
import { record, trial } from './make.ts';

const slip = { field: 'filledG', value: '160.9100', reason: 'digits swapped' };
const full: CalibrationRecord = record({
  conditions: { ...record().conditions, evaporationMgPerMin: '2', waterGrade: 'tap', conductivityUsPerCm: '300' },
  instruments: {
    balance: {
      corrections: [
        { at: '0', correction: '0' },
        { at: '200', correction: '0.001' },
      ],
    },
  },
  trials: [trial({ openTimeS: '30' }), trial({ filledG: '160.9010', corrections: [slip] })],
});

function walk(node: Explanation): Explanation[] {
  return [node, ...node.parts.flatMap(walk)];
}

function find(node: Explanation, symbol: string): Explanation {
  const found = walk(node).find((one) => one.symbol === symbol);
  if (found === undefined) throw new Error(`no ${symbol}`);
  return found;
}

/** Every leaf is typed, sourced, or owned up to as assumed. */
function unexplained(node: Explanation): string[] {
  return walk(node)
    .filter((one) => one.parts.length === 0)
    .filter((one) => one.typed === undefined && one.source === undefined && one.assumed !== true)
    .map((one) => one.symbol);
}

describe('a trial unfolds', () => {
  const result = evaluate(full, toleranceRows);
  const first = result.trials[0] as TrialResult;
  const tree = explainTrial(full, first);

  it('as m·Z·C, and each part makes the whole', () => {
    const value = (symbol: string) => find(tree, symbol).value ?? Number.NaN;
    expect(tree.value).toBe(first.volumeMl);
    expect(value('m') * value('Z') * value('C')).toBeCloseTo(first.volumeMl, 10);
    expect(value('Z')).toBeCloseTo((1000 * (1 - value('ρa') / 8000)) / (value('ρw') - value('ρa')), 12);
    expect(value('C')).toBeCloseTo(1 - value('γ') * (value('tw') - value('tref')), 14);
    const [filled, empty, evaporated] = find(tree, 'm').parts;
    expect((filled?.value ?? 0) - (empty?.value ?? 0) + (evaporated?.value ?? 0)).toBeCloseTo(first.massG, 10);
  });

  it('down to typed digits and known sources', () => {
    expect(unexplained(tree)).toEqual([]);
    const typed = walk(tree).flatMap((one) => one.typed ?? []);
    for (const text of ['160.8371', '61.2034', '21.3', '21.8', '992.5', '48', '300', '2', '30', '20']) {
      expect(typed).toContain(text);
    }
    for (const { source } of walk(tree)) {
      if (source !== undefined) expect(source === 'common-practice' || source in SOURCES).toBe(true);
    }
  });

  it('with the corrected digits where a slip was corrected', () => {
    const second = explainTrial(full, result.trials[1] as TrialResult);
    expect(walk(second).some((one) => one.typed === '160.9100')).toBe(true);
    expect(walk(second).some((one) => one.typed === '160.9010')).toBe(false);
  });

  it('owns up to air nobody measured', () => {
    const bare = record({ conditions: {} });
    const unmeasured = explainTrial(bare, evaluate(bare, toleranceRows).trials[0] as TrialResult);
    for (const symbol of ['ta', 'p', 'h']) expect(find(unmeasured, symbol).assumed).toBe(true);
  });

  it('simple division beside it', () => {
    const simple = explainSimpleVolume(full, first);
    expect(simple.value).toBe(first.simpleVolumeMl);
    expect(unexplained(simple)).toEqual([]);
  });
});

describe('a point unfolds', () => {
  const result = evaluate(full, toleranceRows);
  const point = result.points[0] as PointResult;
  const explained = explainPoint(full, point, result.trials);

  it('number by number', () => {
    expect(explained.mean?.value).toBe(point.meanMl);
    expect(explained.mean?.parts).toHaveLength(2);
    expect(explained.bias?.value).toBe(point.biasMl);
    expect(explained.sd?.value).toBe(point.sdMl);
    expect(explained.combinedUncertainty?.value).toBe(point.combinedUncertaintyMl);
    expect(explained.expandedUncertainty?.value).toBe(point.expandedUncertaintyMl);
    expect(explained.probabilityOfConformity?.value).toBe(point.probabilityOfConformity);
  });

  it('with every component of the budget', () => {
    const lines = explained.combinedUncertainty?.parts ?? [];
    expect(lines.map((line) => line.label)).toEqual(point.budget.map((line) => line.component));
    const sum = lines.reduce((total, line) => total + (line.value ?? 0) ** 2, 0);
    expect(Math.sqrt(sum)).toBeCloseTo(point.combinedUncertaintyMl ?? 0, 14);
    for (const line of lines) {
      const [c, u] = line.parts;
      expect(Math.abs((c?.value ?? 0) * (u?.value ?? 0))).toBeCloseTo(line.value ?? 0, 14);
    }
  });

  it('down to typed digits and sources', () => {
    for (const tree of Object.values(explained)) expect(unexplained(tree as Explanation)).toEqual([]);
  });

  it('with the digits of certificates and half-widths typed', () => {
    const budgets = readJson('examples/budgets.json') as { budgets: { record: CalibrationRecord }[] };
    const typedOf = (given: CalibrationRecord) => {
      const whole = evaluate(given, toleranceRows);
      const { combinedUncertainty } = explainPoint(given, whole.points[0] as PointResult, whole.trials);
      return walk(combinedUncertainty as Explanation).flatMap((one) => one.typed ?? []);
    };
    const [named, bare, plastic] = budgets.budgets.map((one) => typedOf(one.record));
    for (const text of ['0.0001', '0.0003', '0.000002', '0.0000015', '0.05', '0.1', '0.5', '3', '0.2', '12']) {
      expect(named).toContain(text);
    }
    for (const text of ['1', '0.1']) expect(bare).toContain(text);
    for (const text of ['0.00025', '0.0002', '2.2', '0.7', '0.002', '3']) expect(plastic).toContain(text);
  });

  it('without trials has nothing to unfold', () => {
    const empty = record({ trials: [], points: ['100'] });
    const nothing = evaluate(empty, toleranceRows);
    const parts = explainPoint(empty, nothing.points[0] as PointResult, nothing.trials);
    expect(Object.values(parts).every((one) => one === null)).toBe(true);
  });
});
