import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decimalsFor, roundedResult, roundedText } from '../../server/metrology/display.ts';

describe('rounding for display, GUM 7.2.6', () => {
  // value, U, printed value, printed U: two significant digits of U, by hand
  it.each([
    [99.940921, 0.0072546, '99.9409', '0.0073'],
    [100.02147, 0.00079, '100.02147', '0.00079'],
    [99.996, 0.012, '99.996', '0.012'],
    [99.9964, 0.0995, '100.00', '0.10'],
    [50, 0.0996, '50.00', '0.10'],
    [1234.56, 12.3, '1235', '12'],
    [1234.56, 123, '1230', '120'],
    [-0.0591, 0.0073, '-0.0591', '0.0073'],
    [-0.00002, 0.0073, '0.0000', '0.0073'],
    [0.0009990806, 0.00000123456, '0.0009991', '0.0000012'],
  ])('%d ± %d', (value, uncertainty, printedValue, printedUncertainty) => {
    expect(roundedResult(value, uncertainty)).toMatchObject({ value: printedValue, uncertainty: printedUncertainty });
  });

  it('rounds halves away from zero as they look in decimals', () => {
    expect(roundedText(1.005, 2)).toBe('1.01');
    expect(roundedText(-2.5, 0)).toBe('-3');
    expect(roundedText(0.15, 1)).toBe('0.2');
    expect(roundedText(2.675, 2)).toBe('2.68');
    expect(roundedText(1e-7, 7)).toBe('0.0000001');
    expect(roundedText(15, -1)).toBe('20');
  });

  it('keeps a zero uncertainty harmless', () => {
    expect(decimalsFor(0, 2)).toBe(0);
    expect(decimalsFor(Number.NaN, 2)).toBe(0);
  });

  it('never moves a value by more than half a unit of its last digit', () => {
    const value = fc.double({ min: -5000, max: 5000, noNaN: true });
    const uncertainty = fc.double({ min: 1e-5, max: 50, noNaN: true });
    fc.assert(
      fc.property(value, uncertainty, (v, u) => {
        const rounded = roundedResult(v, u);
        const half = 0.5 * 10 ** -rounded.decimals * (1 + 1e-9);
        expect(Math.abs(Number(rounded.value) - v)).toBeLessThanOrEqual(half);
        expect(Math.abs(Number(rounded.uncertainty) - u)).toBeLessThanOrEqual(half);
        expect(rounded.uncertainty.replace(/^0?\.?0*|\D/g, '').length).toBeGreaterThanOrEqual(2);
      }),
    );
  });
});
