import { describe, expect, it } from 'vitest';
import { FORMULAS } from '../../server/reference/formulas.ts';
import { CALCULATIONS, type Numbers } from '../../web/pages/reference/calculations.ts';
import { checkOf } from '../../web/pages/reference/check-mark.tsx';
import { piecesOf } from '../../web/pages/reference/equation.tsx';
import { numeral } from '../../web/pages/reference/formula-details.tsx';
import { mostDecimals, plainNumber } from '../../web/pages/reference/parts.tsx';
import { FORMULA_PLOTS } from '../../web/pages/reference/plots-of-formulas.ts';
import { toleranceRows } from '../../server/metrology/tolerance-table.ts';

/** The values a calculator starts with, changed where named. */
function calculate(id: string, changes: Record<string, string> = {}) {
  const calculation = CALCULATIONS[id];
  if (!calculation) throw new Error(`no calculator ${id}`);
  const typed: Record<string, string> = Object.fromEntries(calculation.inputs.map(({ name, start }) => [name, start]));
  Object.assign(typed, changes);
  const values: Numbers = Object.fromEntries(Object.entries(typed).map(([name, text]) => [name, Number(text)]));
  return { results: calculation.compute(values, typed), values };
}

describe('calculators of the formulas', () => {
  it('belong to formulas that are in use, and so do the plots', () => {
    const ids = new Set(FORMULAS.map((formula) => formula.id));
    expect(Object.keys(CALCULATIONS).filter((id) => !ids.has(id))).toEqual([]);
    expect(Object.keys(FORMULA_PLOTS).filter((id) => !(id in CALCULATIONS))).toEqual([]);
  });

  it.each(Object.keys(CALCULATIONS))('%s starts with values it can compute with', (id) => {
    const { results, values } = calculate(id);
    expect(results.length).toBeGreaterThan(0);
    expect(results.filter((result) => /NaN|Infinity/.test(result.value))).toEqual([]);
    expect(FORMULA_PLOTS[id]?.(values).sentence ?? 'no plot').not.toMatch(/NaN/);
  });

  // Each value from outside: the source stands at its row.
  it.each([
    // Tanaka et al. 2001 at 20 °C: 998.2067 kg/m³.
    ['water-density', { water: '20' }, '998.2067'],
    // CIPM-2007 at 20 °C, 1013.25 hPa, 50 %: 1.19931 kg/m³, as six public programs agree.
    ['air-density', { air: '20', pressure: '1013.25', humidity: '50' }, '1.19931'],
    // ISO 2533:1975: 898.746 hPa at 1000 m.
    ['standard-atmosphere', { altitude: '1000' }, '898.7'],
    // Saturated air is at its dew point by definition.
    ['dew-point', { air: '18.4', humidity: '100' }, '18.4'],
    // 35.225 g − 10.283 g, from a textbook’s pipette.
    ['mass', { filled: '35.225', empty: '10.283' }, '24.942'],
    // Halfway between the rows lies half of the way between the corrections.
    ['instrument-correction', { reading: '22.5' }, '+0.010'],
  ])('%s', (id, changes, expected) => {
    expect(calculate(id, changes).results[0]?.value).toBe(expected);
  });

  it('gives per cent of the point for beakers and of the nominal volume for other ware', () => {
    const { results } = calculate('tolerance-in-per-cent', { percent: '5', point: '150', nominalVolume: '250' });
    expect(results.map((result) => Number(result.value))).toEqual([7.5, 12.5]);
  });
});

describe('formulas as text', () => {
  it('set an index low and a power high', () => {
    expect(piecesOf('ρ_w · x_v^2')).toEqual([
      { kind: 'plain', text: 'ρ' },
      { kind: 'index', text: 'w' },
      { kind: 'plain', text: ' · x' },
      { kind: 'index', text: 'v' },
      { kind: 'power', text: '2' },
    ]);
    expect(piecesOf('m = 1')).toEqual([{ kind: 'plain', text: 'm = 1' }]);
  });

  it('show every constant with its own digits', () => {
    expect(numeral(-3.983035)).toBe('−3.983035');
    expect(numeral(1.2378847e-5)).toBe('1.2378847 · 10⁻⁵');
    expect(numeral(-7.65e-9)).toBe('−7.65 · 10⁻⁹');
    expect(numeral(8000)).toBe('8000');
    expect(numeral(0)).toBe('0');
  });
});

describe('limits as text', () => {
  it('name how far each was checked, and a row read in the standard so', () => {
    expect(checkOf({ verification: 'from memory', readInStandard: false })).toBe('memory');
    expect(checkOf({ verification: 'one source', readInStandard: true })).toBe('read');
    const words = [...new Set(toleranceRows.map((row) => row.verification))];
    const marks = words.map((verification) => checkOf({ verification, readInStandard: false }));
    expect(new Set(marks).size).toBe(words.length);
    expect(checkOf({ verification: 'two sources agree', readInStandard: false })).toBe('agree');
  });

  it('make up no digits and lose none', () => {
    expect(plainNumber(0.1 + 0.2)).toBe('0.3');
    expect(mostDecimals([0.025, 0.1, null, 2])).toBe(3);
    expect(mostDecimals([])).toBe(0);
  });
});
