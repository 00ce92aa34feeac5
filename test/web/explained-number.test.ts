import { describe, expect, it } from 'vitest';
import {
  compact,
  type Explanation,
  numbersPutIn,
  probabilityWords,
  putIn,
  shownNumber,
  unitWords,
} from '../../web/parts/explained-number.ts';

const leaf = (symbol: string, value: number | null, unit: string, typed?: string): Explanation => ({
  symbol,
  label: symbol,
  formula: null,
  value,
  unit,
  parts: [],
  ...(typed === undefined ? {} : { typed }),
});
const made = (symbol: string, formula: string, value: number, unit: string, parts: Explanation[]): Explanation => ({
  ...leaf(symbol, value, unit),
  formula,
  parts,
});
/** Narrow spaces between number and unit, as written here. */
const plain = (shown: string | null) => shown?.replace(/\u202f/g, ' ');

// Every expected line is the formula with the given numbers written in by hand.
describe('a formula with the numbers put in', () => {
  it('takes the longest symbol first, and no part of a longer one', () => {
    const numbers = new Map([
      ['U', '0.1 K'],
      ['U_g', '0.2 g'],
      ['k', '2'],
    ]);
    expect(putIn('(U_g + U)/k', numbers)).toBe('(0.2 g + 0.1 K)/2');
  });

  it('is left out where a symbol has no number', () => {
    expect(putIn('m·δ/√3', new Map([['δ', '0.001']]))).toBeNull();
    expect(putIn('max(0.2 K, |ta − tw|/4)/√3', new Map([['share', '0.25']]))).toBeNull();
  });

  it('leaves functions, roots and numbers with an exponent standing', () => {
    expect(
      putIn(
        't((1 + P)/2, ν_eff)',
        new Map([
          ['P', '0.9545'],
          ['ν_eff', '9.2'],
        ]),
      ),
    ).toBe('t((1 + 0.9545)/2, 9.2)');
    expect(putIn('0.3·0.5e-6·κ/√3', new Map([['κ', '300 µS/cm']]))).toBe('0.3 · 0.5e-6 · 300 µS/cm/√3');
  });

  it('drops the words behind a formula', () => {
    expect(putIn('F(b), Student t with ν_eff', new Map([['b', '1']]))).toBe('F(1)');
  });

  it('shows typed readings as typed', () => {
    const mass = made('m', 'filled − empty', 99.7, 'g', [
      leaf('filled', 150.97, 'g', '150.9700'),
      leaf('empty', 51.27, 'g', '51.2700'),
    ]);
    expect(plain(numbersPutIn(mass, 4))).toBe('150.9700 g − 51.2700 g');
  });

  it('adds a correction with its sign in brackets', () => {
    const reading = made('tw', 'reading + correction', 20.3, '°C', [
      leaf('tw', 20.4, '°C', '20.4'),
      leaf('c(tw)', -0.1, '°C'),
    ]);
    expect(numbersPutIn(reading, 4)).toBe('20.4 + (−0.10)');
  });

  it('names the first and the last of many trials', () => {
    const volumes = [100.003, 99.965, 99.991, 99.984, 99.98].map((value) => leaf('V', value, 'mL'));
    const mean = made('V̄', 'ΣV/n', 99.9846, 'mL', volumes);
    expect(plain(numbersPutIn(mean, 3))).toBe('(100.003 + 99.965 + … + 99.980) mL / 5');
  });

  it('adds the squares of what contributes, the largest first', () => {
    const combined = made('u_c', '√Σ(c·u)²', 0.005, 'mL', [
      leaf('u(meniscus)', 0.003, 'mL'),
      leaf('u(evaporation)', 0, 'mL'),
      leaf('u(repeatability)', 0.004, 'mL'),
    ]);
    expect(plain(numbersPutIn(combined, 3))).toBe('√((0.004)² + (0.003)²) mL');
  });

  it('puts in constants that are no parts', () => {
    const water = made('ρw', 'a5·(tw + a1)', 998, 'kg/m3', [leaf('tw', 20, '°C', '20.0')]);
    expect(plain(numbersPutIn(water, 3, { a1: -3.983035, a5: 999.97495 }))).toBe('999.97495 · (20.0 °C + (−3.983035))');
  });
});

describe('numbers of an explanation', () => {
  it.each([
    [leaf('V', 99.98471, 'mL'), '99.9847'],
    [leaf('U', 0.018884, 'mL'), '0.019'],
    [leaf('u(air-density-formula)', 2.2225e-6, 'mL'), '2.2 · 10⁻⁶'],
    [leaf('k', 2.31376, '1'), '2.31'],
    [leaf('ν_eff', null, '1'), '∞'],
    [leaf('T', 0.1, 'mL'), '0.100'],
    [leaf('empty', 51.2594, 'g', '51.2594'), '51.2594'],
    [leaf('γ', 9.9e-6, '1/K'), '9.9 · 10⁻⁶'],
  ])('%o', (node, shown) => {
    expect(shownNumber(node, 4)).toBe(shown);
  });

  it('never calls a probability certain', () => {
    expect(probabilityWords(0.9999987)).toBe('> 0.9999');
    expect(probabilityWords(1e-9)).toBe('< 0.0001');
    expect(probabilityWords(0.5)).toBe('0.5000');
  });

  it('writes units as the trade does', () => {
    expect([unitWords('1'), unitWords('kg/m3'), unitWords('mL/(g)'), unitWords('mL/(kg/m3)')]).toEqual([
      '',
      'kg/m³',
      'mL/g',
      'mL/(kg/m³)',
    ]);
  });

  it('keeps zeros at the end away and a true minus in front', () => {
    expect([compact(8000, 7), compact(-0.00098985, 3), compact(0, 3)]).toEqual(['8000', '−0.00099', '0']);
  });
});
