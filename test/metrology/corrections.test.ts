import { describe, expect, it } from 'vitest';
import { correctionAt, correctionTable } from '../../server/metrology/corrections.ts';

const table = correctionTable([
  { at: '100', correction: '0.0006' },
  { at: '0', correction: '0.0000' },
  { at: '200', correction: '-0.0002' },
]);

describe('corrections of a certificate', () => {
  // straight lines worked out by hand
  it.each([
    [0, 0, false],
    [25, 0.00015, false],
    [100, 0.0006, false],
    [150, 0.0002, false],
    [200, -0.0002, false],
    [-1, 0, true],
    [250, -0.0002, true],
  ])('at %d g: %d g, outside %s', (reading, value, extrapolated) => {
    const correction = correctionAt(table, reading);
    expect(correction.value).toBeCloseTo(value, 12);
    expect(correction.extrapolated).toBe(extrapolated);
    expect(correction.known).toBe(true);
  });

  it('of one point holds there and is the end value elsewhere', () => {
    const single = correctionTable([{ at: '20', correction: '-0.03' }]);
    expect(correctionAt(single, 20)).toEqual({ value: -0.03, extrapolated: false, known: true });
    expect(correctionAt(single, 21)).toEqual({ value: -0.03, extrapolated: true, known: true });
  });

  it('of no table are 0 and not known', () => {
    expect(correctionAt(correctionTable([]), 5)).toEqual({ value: 0, extrapolated: false, known: false });
    expect(correctionTable(null)).toBeNull();
  });
});
