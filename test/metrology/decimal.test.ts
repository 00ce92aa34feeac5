import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  compareDecimals,
  decimalsOf,
  differenceOf,
  isDecimalText,
  numberOf,
  sameDecimal,
  stepOf,
  subtractDecimals,
} from '../../server/metrology/decimal.ts';

const decimal = fc
  .tuple(fc.constantFrom('', '-', '+'), fc.bigInt(0n, 10n ** 14n), fc.integer({ min: 0, max: 6 }))
  .map(([sign, digits, decimals]) => {
    const text = digits.toString().padStart(decimals + 1, '0');
    const point = text.length - decimals;
    return sign + (decimals === 0 ? text : `${text.slice(0, point)}.${text.slice(point)}`);
  });

describe('decimal text', () => {
  it.each(['0', '100', '100.0000', '-0.0', '+12.5', '.5', '160.', '007'])('accepts %s', (text) => {
    expect(isDecimalText(text)).toBe(true);
  });

  it.each(['', '.', '-', '1e3', '1,5', '1 000', ' 1', '1 ', '−1', '1.2.3', '0x1', 'NaN', 'Infinity', '9'.repeat(41)])(
    'refuses %s',
    (text) => {
      expect(isDecimalText(text)).toBe(false);
      expect(() => numberOf(text)).toThrow(TypeError);
    },
  );

  it('keeps the digits of the display', () => {
    expect(decimalsOf('160.8371')).toBe(4);
    expect(decimalsOf('160')).toBe(0);
    expect(stepOf('100.000')).toBe(0.001);
    expect(stepOf('7')).toBe(1);
  });
});

describe('exact difference', () => {
  it('has no binary residue', () => {
    expect(subtractDecimals('160.8371', '61.2034')).toEqual({ text: '99.6337', number: 99.6337 });
    expect(subtractDecimals('0.3', '0.1').number).toBe(0.2);
    expect(subtractDecimals('61.2034', '160.8371').text).toBe('-99.6337');
    expect(subtractDecimals('1.50', '1.5')).toEqual({ text: '0.00', number: 0 });
    expect(subtractDecimals('0', '-0.05').text).toBe('0.05');
  });

  it('is exact beyond what a double holds', () => {
    expect(subtractDecimals('1000000000000.00000001', '1000000000000').text).toBe('0.00000001');
    expect(differenceOf('1000000000000.00000001', '1000000000000')).toBe(1e-8);
  });

  it('takes the same number on both ways', () => {
    fc.assert(
      fc.property(decimal, decimal, (first, second) => {
        const exact = subtractDecimals(first, second);
        expect(differenceOf(first, second) + 0).toBe(exact.number + 0);
      }),
      { numRuns: 2000 },
    );
  });

  it('undoes itself', () => {
    fc.assert(
      fc.property(decimal, decimal, (first, second) => {
        const back = subtractDecimals(first, subtractDecimals(first, second).text);
        expect(sameDecimal(back.text, second)).toBe(true);
      }),
    );
  });
});

describe('comparison', () => {
  it('is of numbers, not of digits', () => {
    expect(sameDecimal('100', '100.0')).toBe(true);
    expect(compareDecimals('99.9', '100')).toBeLessThan(0);
    expect(compareDecimals('-1', '-2')).toBeGreaterThan(0);
    expect(compareDecimals('0.1000000000000000000001', '0.1')).toBeGreaterThan(0);
    expect(sameDecimal('-0.0', '0')).toBe(true);
  });
});
