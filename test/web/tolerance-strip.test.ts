import { describe, expect, it } from 'vitest';
import { stripGeometry, type StripData } from '../../web/plots/tolerance-strip.ts';

const flask: StripData = {
  nominalMl: 100,
  toleranceMl: 0.1,
  volumesMl: [99.94, 99.95, 99.94, 100.03],
  excludedMl: [99.99],
  typedMl: 99.96,
  meanMl: 99.965,
  expandedUncertaintyMl: 0.007,
  simpleMeanMl: 99.66,
};

/** Back from pixels to mL by the definition of the axis alone: its ends are ±1.5 T from the nominal volume. */
const volumeAt = (x: number, { axis }: { axis: { x1: number; x2: number } }): number =>
  99.85 + (0.3 * (x - axis.x1)) / (axis.x2 - axis.x1);

describe('geometry of the tolerance strip', () => {
  it.each([28, 96, 160] as const)('at height %i plots every volume at its place on the axis', (height) => {
    const geometry = stripGeometry(flask, 400, height);
    expect(geometry.dots.map((dot) => dot.volumeMl)).toEqual([99.94, 99.95, 99.94, 100.03, 99.99, 99.96]);
    for (const dot of geometry.dots) expect(volumeAt(dot.x, geometry)).toBeCloseTo(dot.volumeMl, 9);
    expect(volumeAt(geometry.mean?.x ?? NaN, geometry)).toBeCloseTo(99.965, 9);
    expect(volumeAt(geometry.nominalX, geometry)).toBeCloseTo(100, 9);
  });

  it('draws the band from −T to +T, the guarded part inside it, and whiskers to ±U', () => {
    const geometry = stripGeometry({ ...flask, guardedMl: 0.093 }, 800, 96);
    const ends = (span: { x: number; width: number } | null) => [
      volumeAt(span?.x ?? NaN, geometry),
      volumeAt((span?.x ?? NaN) + (span?.width ?? NaN), geometry),
    ];
    expect(ends(geometry.band)[0]).toBeCloseTo(99.9, 9);
    expect(ends(geometry.band)[1]).toBeCloseTo(100.1, 9);
    expect(ends(geometry.guard)[0]).toBeCloseTo(99.907, 9);
    expect(ends(geometry.guard)[1]).toBeCloseTo(100.093, 9);
    expect(volumeAt(geometry.whisker?.x1 ?? NaN, geometry)).toBeCloseTo(99.958, 9);
    expect(volumeAt(geometry.whisker?.x2 ?? NaN, geometry)).toBeCloseTo(99.972, 9);
  });

  it('keeps what lies beyond the axis at its edge, with its value and a broken end', () => {
    const geometry = stripGeometry({ ...flask, volumesMl: [99.94, 100.4, 100.25] }, 400, 96);
    expect(geometry.dots.slice(0, 3).map((dot) => dot.outside)).toEqual([null, 'high', 'high']);
    expect(geometry.dots[1]?.x).toBe(geometry.axis.x2);
    expect(geometry.simple?.outside).toBe('low');
    expect(geometry.simple?.x).toBe(geometry.axis.x1);
    expect(geometry.broken).toEqual({ low: true, high: true });
    expect(geometry.edges.map(({ side, volumeMl }) => [side, volumeMl])).toEqual([
      ['low', 99.66],
      ['high', 100.4],
    ]);
  });

  it('cuts a whisker that reaches beyond the axis, and caps it where it ends', () => {
    const { whisker, axis } = stripGeometry({ ...flask, meanMl: 100.05, expandedUncertaintyMl: 0.15 }, 400, 96);
    expect(whisker).toMatchObject({ x2: axis.x2, cutLow: false, cutHigh: true });
  });

  it('has whole ends when everything lies on the axis, a volume exactly at its end included', () => {
    const geometry = stripGeometry({ nominalMl: 100, toleranceMl: 0.1, volumesMl: [99.85, 100.15] }, 400, 96);
    expect(geometry.broken).toEqual({ low: false, high: false });
    expect(geometry.edges).toEqual([]);
  });

  it('stacks dots that would cover each other, and no others', () => {
    const { dots, dotRadius } = stripGeometry({ ...flask, excludedMl: [], typedMl: null }, 600, 160);
    const [first, apart, same, far] = dots;
    expect(same?.x).toBe(first?.x);
    expect(first?.y).toBe(apart?.y);
    expect(far?.y).toBe(first?.y);
    expect((first?.y ?? 0) - (same?.y ?? 0)).toBeGreaterThanOrEqual(2 * dotRadius);
  });

  it.each([28, 96, 160] as const)('at height %i keeps a hundred equal volumes inside the picture', (height) => {
    const geometry = stripGeometry(
      { nominalMl: 10, toleranceMl: 0.02, volumesMl: Array<number>(100).fill(10) },
      300,
      height,
    );
    for (const dot of geometry.dots) {
      expect(dot.y - geometry.dotRadius).toBeGreaterThanOrEqual(geometry.top - 1e-9);
      expect(dot.y + geometry.dotRadius).toBeLessThanOrEqual(geometry.axis.y);
    }
  });

  it.each([28, 96, 160] as const)('at height %i keeps the whiskers clear of the dots', (height) => {
    const volumesMl = Array<number>(30).fill(10);
    const data = { nominalMl: 10, toleranceMl: 0.02, volumesMl, meanMl: 10, expandedUncertaintyMl: 0.004 };
    const { dots, dotRadius, whisker } = stripGeometry(data, 300, height);
    for (const dot of dots) expect(dot.y - dotRadius).toBeGreaterThan(whisker?.y ?? NaN);
  });

  it('takes the width of the axis from the data where no tolerance is stated', () => {
    const geometry = stripGeometry(
      { nominalMl: 50, toleranceMl: null, volumesMl: [49.9, 50.2], meanMl: 50.05 },
      300,
      96,
    );
    expect(geometry.band).toBeNull();
    expect(geometry.broken).toEqual({ low: false, high: false });
    expect(geometry.labels.map((label) => label.at)).toEqual(['nominal']);
    expect(geometry.halfRangeMl).toBeGreaterThan(0.2);
    const wide = { nominalMl: 50, toleranceMl: null, volumesMl: [49.97], meanMl: 49.97, expandedUncertaintyMl: 0.02 };
    expect(stripGeometry(wide, 300, 96).whisker).toMatchObject({ cutLow: false, cutHigh: false });
  });

  it('labels −T, the nominal volume and +T where there is room for words', () => {
    expect(stripGeometry(flask, 400, 96).labels.map(({ at, volumeMl }) => [at, volumeMl])).toEqual([
      ['low', 99.9],
      ['nominal', 100],
      ['high', 100.1],
    ]);
    expect(stripGeometry(flask, 400, 28).labels).toEqual([]);
  });
});
