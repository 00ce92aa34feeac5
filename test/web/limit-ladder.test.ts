import { describe, expect, it } from 'vitest';
import { ladderGeometry } from '../../web/plots/limit-ladder.ts';

const rows = [
  { label: 'flask', tightestPercent: 0.08, widestPercent: 0.2 },
  { label: 'cylinder', tightestPercent: 0.5, widestPercent: 1 },
  { label: 'beaker', tightestPercent: 5, widestPercent: 10 },
];

describe('ladder of limits', () => {
  it('has an axis of whole powers of ten, evenly spaced', () => {
    const { ticks } = ladderGeometry(rows, 400);
    expect(ticks.map((tick) => tick.label)).toEqual(['0.01', '0.1', '1', '10']);
    const steps = ticks.slice(1).map((tick, index) => tick.x - (ticks[index]?.x ?? NaN));
    for (const step of steps) expect(step).toBeCloseTo(steps[0] ?? NaN, 9);
  });

  it('puts a limit at its power of ten, and twice the limit always the same way further', () => {
    const { bars, ticks } = ladderGeometry(rows, 400);
    expect(bars[1]?.x2).toBeCloseTo(ticks[2]?.x ?? NaN, 9);
    expect(bars[2]?.x2).toBeCloseTo(ticks[3]?.x ?? NaN, 9);
    const lengthOf = (index: number) => (bars[index]?.x2 ?? NaN) - (bars[index]?.x1 ?? NaN);
    expect(lengthOf(1)).toBeCloseTo(lengthOf(2), 9);
  });

  it('holds a single limit of one per cent', () => {
    const { bars, ticks } = ladderGeometry([{ label: 'one', tightestPercent: 1, widestPercent: 1 }], 300);
    expect(bars[0]?.x1).toBe(bars[0]?.x2);
    expect(ticks.length).toBeGreaterThan(0);
    expect(bars[0]?.x1).toBeGreaterThan(0);
  });
});
