import { describe, expect, it } from 'vitest';
import { eyeDrawing, hollowLiquid, neckVolumeMl, parallaxMm } from '../../web/plots/meniscus.ts';

describe('what a misplaced meniscus costs', () => {
  // Area of a circle of 12 mm: 113.097 mm² (tables of circles); half of a 0.3 mm line is 0.15 mm: 0.017 mL.
  it('is the area of the neck times the height', () => {
    expect(Math.abs(neckVolumeMl(12, 0.15) - 0.017)).toBeLessThanOrEqual(0.0005);
    expect(Math.abs(neckVolumeMl(12, 1) - 0.113097)).toBeLessThanOrEqual(0.0000005);
    expect(neckVolumeMl(12, 0)).toBe(0);
  });

  // tan 10° = 0.1763 and tan 45° = 1 (tables of tangents).
  it('follows from the angle of the eye and half the diameter', () => {
    expect(Math.abs(parallaxMm(12, 10) - 6 * 0.1763)).toBeLessThanOrEqual(6 * 0.00005);
    expect(parallaxMm(10, 45)).toBeCloseTo(5, 12);
    expect(parallaxMm(10, 0)).toBe(0);
  });
});

describe('drawing of the eye', () => {
  it.each(['level', 'high', 'low'] as const)(
    '%s: eye, front of the mark and lowest point lie on one line',
    (height) => {
      const { eye, lowest, walls, markY } = eyeDrawing(height);
      const behind = (lowest.y - markY) / (lowest.x - walls.right);
      const before = (eye.y - markY) / (eye.x - walls.right);
      expect(before).toBeCloseTo(behind, 12);
    },
  );

  it('has the meniscus on the mark, below it for a high eye, above it for a low one', () => {
    expect(eyeDrawing('level').lowest.y).toBe(eyeDrawing('level').markY);
    const high = eyeDrawing('high');
    expect(high.lowest.y).toBeGreaterThan(high.markY);
    expect(high.eye.y).toBeLessThan(high.markY);
    const low = eyeDrawing('low');
    expect(low.lowest.y).toBeLessThan(low.markY);
    expect(low.eye.y).toBeGreaterThan(low.markY);
  });

  it('stays inside its frame', () => {
    for (const height of ['level', 'high', 'low'] as const) {
      const drawing = eyeDrawing(height);
      expect(drawing.eye.y).toBeGreaterThan(12);
      expect(drawing.eye.y).toBeLessThan(drawing.height - 12);
      expect(drawing.eye.x).toBeLessThan(drawing.width - 20);
    }
  });

  it('fills the liquid from wall to wall with its lowest point in the middle', () => {
    const outline = hollowLiquid(10, 110, 50, 12, 200);
    expect(outline.startsWith('M10 38')).toBe(true);
    expect(outline).toContain('60 50C');
    expect(outline.endsWith('110 38V200H10Z')).toBe(true);
  });
});
