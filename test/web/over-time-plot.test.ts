import { describe, expect, it } from 'vitest';
import { overTimeGeometry, type OverTimeData } from '../../web/plots/over-time.ts';

const day = (iso: string): number => Date.parse(`${iso}T00:00:00Z`) / 86_400_000;
const of = (iso: string, value: number, halfWidth: number | null = 0.01) => ({
  at: day(iso),
  value,
  halfWidth,
  mark: 'pass' as const,
});
const flask: OverTimeData = {
  points: [of('2021-03-01', 99.95), of('2022-03-01', 99.97), of('2024-03-01', 100.13)],
  band: { low: 99.9, high: 100.1 },
  centre: 100,
  trend: [],
  leavesAt: null,
  axis: 'days',
  decimals: 3,
};

describe('values over days', () => {
  const geometry = overTimeGeometry(flask, 700, 240);

  it('stand in the frame with their whiskers, later ones further right, larger ones higher', () => {
    const { frame, points } = geometry;
    expect(points[0]?.x).toBeLessThan(points[1]?.x ?? 0);
    // two years are twice as far as one
    const [first = 0, second = 0, third = 0] = points.map(({ x }) => x);
    expect((third - second) / (second - first)).toBeCloseTo(731 / 365, 2);
    for (const { x, y, top, bottom } of points) {
      expect(x).toBeGreaterThan(frame.x1);
      expect(x).toBeLessThan(frame.x2);
      expect(top).toBeLessThan(y);
      expect(bottom).toBeGreaterThan(y);
      expect(top).toBeGreaterThanOrEqual(frame.y1);
      expect(bottom).toBeLessThanOrEqual(frame.y2);
    }
  });

  it('show a point outside the tolerance outside the band', () => {
    const { band, points } = geometry;
    expect(points[2]?.y).toBeLessThan(band?.y ?? 0);
    expect(points[0]?.y).toBeGreaterThan(band?.y ?? 0);
    expect(points[0]?.y).toBeLessThan((band?.y ?? 0) + (band?.height ?? 0));
  });

  it('have years at the lower axis, months where they lie close', () => {
    expect(geometry.xTicks.map(({ label }) => label)).toEqual(expect.arrayContaining(['2022', '2023', '2024']));
    const close = { ...flask, points: [of('2026-01-05', 100), of('2026-04-20', 100)] };
    const months = overTimeGeometry(close, 700, 240).xTicks.map(({ label }) => label);
    expect(months).toEqual(['2026-01', '2026-02', '2026-03', '2026-04']);
  });

  it('draw one calibration in the middle, and a band of a trend up to the day of leaving', () => {
    const alone = overTimeGeometry({ ...flask, points: [of('2026-01-05', 100)] }, 700, 240);
    expect(alone.points[0]?.x).toBeCloseTo((alone.frame.x1 + alone.frame.x2) / 2, 1);
    const trend = ['2021-03-01', '2030-03-01'].map((iso, step) => ({
      at: day(iso),
      line: 99.95 + 0.1 * step,
      low: 99.93 + 0.1 * step,
      high: 99.97 + 0.13 * step,
    }));
    const drifting = overTimeGeometry({ ...flask, trend, leavesAt: day('2030-03-01') }, 700, 240);
    expect(drifting.trend?.area).toMatch(/^M.*Z$/);
    expect(drifting.leavesX).toBeGreaterThan(drifting.points[2]?.x ?? 0);
    expect(drifting.leavesX).toBeLessThan(drifting.frame.x2);
  });
});

it('values in their order are joined by a line and counted', () => {
  const checks = [0.1, 0.2, -0.1, 0.4].map((value, index) => ({
    at: index + 1,
    value,
    halfWidth: null,
    mark: 'plain' as const,
  }));
  const data: OverTimeData = { ...flask, points: checks, band: { low: -0.3, high: 0.3 }, centre: 0, axis: 'order' };
  const geometry = overTimeGeometry(data, 480, 200);
  expect(geometry.path.match(/[ML]/g)).toHaveLength(4);
  expect(geometry.xTicks.map(({ label }) => label)).toEqual(['1', '2', '3', '4']);
  expect(geometry.points.every(({ top, bottom }) => top === null && bottom === null)).toBe(true);
});

it('a chart that begins anew has a band for each stretch, and no line over the break', () => {
  const points = [1, 2, 3, 4].map((at) => ({ at, value: at, halfWidth: null, mark: 'plain' as const }));
  const stretches = [
    { from: 0.5, to: 2.5, band: { low: 1, high: 2 }, centre: 1.5 },
    { from: 2.5, to: 4.5, band: { low: 3, high: 4 }, centre: 3.5 },
    { from: 4.5, to: 4.5, band: null, centre: null },
  ];
  const breaks = [
    { at: 2.5, label: '2025-01-10' },
    { at: 4.5, label: '2026-01-10' },
  ];
  const data: OverTimeData = { ...flask, points, band: null, centre: null, axis: 'order', stretches, breaks };
  const wide = overTimeGeometry(data, 700, 200);
  expect(wide.path.match(/[ML]/g)?.join('')).toBe('MLML');
  expect(wide.stretches).toHaveLength(2);
  const [before, after] = wide.stretches;
  expect(before?.x2).toBe(after?.x1);
  expect(after?.y).toBeLessThan(before?.y ?? 0);
  expect(wide.breaks).toEqual([
    { x: after?.x1, label: '2025-01-10', anchor: 'start' },
    { x: after?.x2, label: '2026-01-10', anchor: 'end' },
  ]);
  expect(overTimeGeometry(data, 240, 200).breaks.map(({ label }) => label)).toEqual(['2025-01-10', null]);
});
