import { describe, expect, it } from 'vitest';
import { linePlotGeometry, sample, type LinePlotData } from '../../web/plots/line-plot.ts';

/** From (0, 0) to (10, 100): the axes need no rounding, so the corners of the frame are the ends of the curve. */
const straight: LinePlotData = { curves: [{ label: '', points: sample((x) => 10 * x, 0, 10, 4) }] };

const numbersIn = (path: string): number[] => path.match(/-?\d+(?:\.\d+)?/g)?.map(Number) ?? [];

describe('samples of a function', () => {
  it('hold both ends exactly and are evenly spaced', () => {
    expect(sample((x) => x * x, 0.1, 0.7, 3).map((point) => point.x)).toEqual([0.1, expect.closeTo(0.3, 12), 0.5, 0.7]);
    expect(sample((x) => x * x, 0, 4, 2)).toEqual([
      { x: 0, y: 0 },
      { x: 2, y: 4 },
      { x: 4, y: 16 },
    ]);
  });
});

describe('geometry of a plot of curves', () => {
  it('draws a straight line from corner to corner of the frame', () => {
    const { frame, curves } = linePlotGeometry(straight, 400, 216);
    const drawn = numbersIn(curves[0]?.path ?? '');
    expect(drawn.slice(0, 2)).toEqual([frame.x1, frame.y2]);
    expect(drawn.slice(-2)).toEqual([frame.x2, frame.y1]);
    expect(drawn[4]).toBeCloseTo((frame.x1 + frame.x2) / 2, 2);
    expect(drawn[5]).toBeCloseTo((frame.y1 + frame.y2) / 2, 2);
  });

  it('labels the axes with round values at their places', () => {
    const { frame, xTicks, yTicks } = linePlotGeometry(straight, 700, 216);
    const xOf = (value: number) => frame.x1 + ((frame.x2 - frame.x1) * value) / 10;
    for (const tick of xTicks) expect(tick.x).toBeCloseTo(xOf(Number(tick.label)), 1);
    expect(xTicks.map((tick) => tick.label)).toContain('5');
    expect(yTicks.at(0)).toMatchObject({ label: '0', y: frame.y2 });
    expect(yTicks.at(-1)).toMatchObject({ label: '100', y: frame.y1 });
  });

  it('asks for fewer labels where there is less room', () => {
    const wide = linePlotGeometry(straight, 900, 216).xTicks.length;
    const narrow = linePlotGeometry(straight, 240, 216).xTicks.length;
    expect(narrow).toBeLessThan(wide);
    expect(narrow).toBeGreaterThanOrEqual(2);
  });

  it('makes room for a band and lays it at its values', () => {
    const data = { ...straight, band: { low: -50, high: 50, label: 'limit' } };
    const { band, yTicks } = linePlotGeometry(data, 400, 216);
    const tick = (label: string) => yTicks.find((one) => one.label === label)?.y ?? NaN;
    expect(band?.y).toBeCloseTo(tick('50'), 1);
    expect((band?.y ?? NaN) + (band?.height ?? NaN)).toBeCloseTo(tick('−50'), 1);
  });

  it('shows the reader’s point on the axis only', () => {
    const at = (x: number, y = 10 * x) => linePlotGeometry({ ...straight, here: { x, y } }, 400, 216).here;
    const { frame } = linePlotGeometry(straight, 400, 216);
    expect(at(0)).toEqual({ x: frame.x1, y: frame.y2 });
    expect(at(10.1)).toBeNull();
    expect(at(-0.1)).toBeNull();
    expect(at(5, NaN)).toBeNull();
  });

  it('begins at zero when asked', () => {
    const curves = [{ label: '', points: sample((x) => -3 - x, 0, 4, 4) }];
    const labels = linePlotGeometry({ curves, fromZero: true }, 400, 216).yTicks.map((tick) => tick.label);
    expect(labels).toContain('0');
    const without = linePlotGeometry({ curves }, 400, 216).yTicks.map((tick) => tick.label);
    expect(without).not.toContain('0');
  });

  it('keeps the names of curves that end close together a line apart, in the order of the ends', () => {
    const curves = [
      { label: 'lower', points: sample((x) => 99.9 * x, 0, 1, 2) },
      { label: 'upper', points: sample((x) => 100 * x, 0, 1, 2) },
    ];
    const geometry = linePlotGeometry({ curves }, 400, 216);
    const [lower, upper] = [geometry.curves[0]?.nameY ?? NaN, geometry.curves[1]?.nameY ?? NaN];
    expect(lower - upper).toBeGreaterThanOrEqual(12);
    expect(geometry.frame.x2).toBeLessThan(linePlotGeometry(straight, 400, 216).frame.x2);
  });

  it('draws a curve that never rises', () => {
    const curves = [{ label: '', points: sample(() => 7, 0, 1, 2) }];
    expect(numbersIn(linePlotGeometry({ curves }, 400, 216).curves[0]?.path ?? '').every(Number.isFinite)).toBe(true);
  });
});
