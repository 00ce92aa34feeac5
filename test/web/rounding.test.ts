import { describe, expect, it } from 'vitest';
import {
  decimalsForTolerance,
  decimalsForUncertainty,
  decimalsOf,
  fixed,
  decimalPadding,
  scientific,
  signed,
  significant,
} from '../../web/parts/rounding.ts';

describe('rounding for display', () => {
  // JCGM 100:2008, 7.2.6: 10.057 62 Ω with 27 mΩ is rounded to 10.058 Ω; 28.05 kHz is rounded up to 28 kHz.
  it.each([
    [10.05762, 0.027, '10.058', '0.027'],
    [28050, 28.05, '28050', '28'],
    // Carry and ties, read off by hand: two significant digits of U, the value to the same place.
    [99.996, 0.012, '99.996', '0.012'],
    [99.9415, 0.0995, '99.94', '0.10'],
    [99.9415, 0.0096, '99.9415', '0.0096'],
    [0.50004, 0.00096, '0.50004', '0.00096'],
    [99.9415, 0.996, '99.9', '1.0'],
    [1234.6, 150, '1235', '150'],
  ])('%d with U = %d reads %s ± %s', (value, uncertainty, shownValue, shownUncertainty) => {
    const decimals = decimalsForUncertainty(uncertainty);
    expect(fixed(value, decimals)).toBe(shownValue);
    expect(fixed(uncertainty, decimals)).toBe(shownUncertainty);
  });

  it.each([
    [0.1, '0.100'],
    [0.025, '0.0250'],
    [0.008, '0.00800'],
    [1, '1.00'],
    [12.5, '12.5'],
    [150, '150'],
  ])('a tolerance of %d mL reads %s', (tolerance, shown) => {
    expect(fixed(tolerance, decimalsForTolerance(tolerance))).toBe(shown);
  });

  it('has a true minus sign, and none before a zero', () => {
    expect(fixed(-0.059, 3)).toBe('−0.059');
    expect(fixed(-0.0001, 3)).toBe('0.000');
    expect(signed(0.059, 3)).toBe('+0.059');
    expect(signed(-0.0001, 3)).toBe('0.000');
  });

  it.each([
    [0.00444, '0.0044'],
    [0.0000000123, '0.000000012'],
    [0.0996, '0.10'],
    [12.3, '12'],
    [0, '0'],
  ])('%d with two significant digits reads %s', (value, shown) => {
    expect(significant(value, 2)).toBe(shown);
  });

  it('lets a column of numbers stand on its decimal mark', () => {
    const widths = ['160.8371', '161.9', '162'].map((shown) => (shown + decimalPadding(shown, 4)).length);
    expect(widths).toEqual([8, 8, 8]);
    expect(decimalPadding('162', 0)).toBe('');
  });

  it('writes a small coefficient with a power of ten', () => {
    expect(scientific(9.9e-6)).toBe('9.9 · 10⁻⁶');
    expect(scientific(0)).toBe('0');
  });

  it('counts the digits of a reading as displayed', () => {
    expect(['100.0000', '99.9', '100', '-0.50'].map(decimalsOf)).toEqual([4, 1, 0, 2]);
  });
});
