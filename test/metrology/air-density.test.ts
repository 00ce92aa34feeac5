import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  airDensityKgPerM3,
  airDensityPartials,
  airFormulaExtrapolated,
  saturationPressurePa,
} from '../../server/metrology/air-density.ts';
import { dewPointC, standardAtmosphereHpa } from '../../server/metrology/atmosphere.ts';
import { OutsideValidity } from '../../server/metrology/outside-validity.ts';
import { cell, halfDigit, number, readTable } from './fixture.ts';

const points = readTable('air-density-cipm-2007.csv');

/** OIML R 111-1:2004, eq. (E.3-1); here for comparison only. */
function exponential(t: number, hpa: number, percent: number): number {
  return (0.34848 * hpa - 0.009 * percent * Math.exp(0.061 * t)) / (273.15 + t);
}

describe('air density, CIPM-2007', () => {
  it.each(points)('$t_C °C, $p_Pa Pa, $rh: $density kg/m3', (row) => {
    const printed = cell(row, 'density');
    const density = airDensityKgPerM3(number(row, 't_C'), number(row, 'p_Pa') / 100, 100 * number(row, 'rh'));
    expect(Math.abs(density - Number(printed))).toBeLessThanOrEqual(halfDigit(printed));
  });

  it.each(points)('$t_C °C: saturation pressure $psv_Pa Pa', (row) => {
    const printed = cell(row, 'psv_Pa');
    expect(Math.abs(saturationPressurePa(number(row, 't_C')) - Number(printed))).toBeLessThanOrEqual(
      halfDigit(printed),
    );
  });

  it.each(points)('$t_C °C, $p_Pa Pa, $rh: the exponential form is $exponential_ppm ppm off', (row) => {
    const [t, hpa, percent] = [number(row, 't_C'), number(row, 'p_Pa') / 100, 100 * number(row, 'rh')];
    const own = airDensityKgPerM3(t, hpa, percent);
    const ppm = (1e6 * (exponential(t, hpa, percent) - own)) / own;
    const printed = cell(row, 'exponential_ppm');
    expect(Math.abs(ppm - Number(printed))).toBeLessThanOrEqual(halfDigit(printed));
  });

  it.each(points)('$t_C °C: stated $stated', (row) => {
    expect(airFormulaExtrapolated(number(row, 't_C'))).toBe(cell(row, 'stated') === 'no');
  });
});

const air = fc.record({
  t: fc.double({ min: 6, max: 39, noNaN: true }),
  hpa: fc.double({ min: 610, max: 1090, noNaN: true }),
  percent: fc.double({ min: 1, max: 99, noNaN: true }),
});

describe('partial derivatives', () => {
  it('are those of the formula', () => {
    fc.assert(
      fc.property(air, ({ t, hpa, percent }) => {
        const exact = airDensityPartials(t, hpa, percent);
        const h = 1e-3;
        const central = (high: number, low: number) => (high - low) / (2 * h);
        const perC = central(airDensityKgPerM3(t + h, hpa, percent), airDensityKgPerM3(t - h, hpa, percent));
        const perHpa = central(airDensityKgPerM3(t, hpa + h, percent), airDensityKgPerM3(t, hpa - h, percent));
        const perPercent = central(airDensityKgPerM3(t, hpa, percent + h), airDensityKgPerM3(t, hpa, percent - h));
        expect(exact.densityKgPerM3).toBeCloseTo(airDensityKgPerM3(t, hpa, percent), 14);
        expect(Math.abs(exact.perC - perC)).toBeLessThan(1e-9);
        expect(Math.abs(exact.perHpa - perHpa)).toBeLessThan(1e-9);
        expect(Math.abs(exact.perPercent - perPercent)).toBeLessThan(1e-9);
      }),
    );
  });

  it('have the usual size at 20 °C, 1013.25 hPa, 50 % (independent program, central differences)', () => {
    const { densityKgPerM3, perC, perHpa, perPercent } = airDensityPartials(20, 1013.25, 50);
    expect(Math.abs(perC / densityKgPerM3 + 0.003692)).toBeLessThanOrEqual(0.5e-6);
    expect(Math.abs(perHpa / densityKgPerM3 - 0.0009916)).toBeLessThanOrEqual(0.5e-7);
    expect(Math.abs(perPercent / densityKgPerM3 + 8.73e-5)).toBeLessThanOrEqual(0.5e-7);
  });
});

describe('what the formula does not cover', () => {
  it.each([
    [4.99, 1000, 50],
    [40.01, 1000, 50],
    [20, 599.9, 50],
    [20, 1100.1, 50],
    [20, 1000, -0.1],
    [20, 1000, 100.1],
    [Number.NaN, 1000, 50],
  ])('refuses %d °C, %d hPa, %d %%', (t, hpa, percent) => {
    expect(() => airDensityKgPerM3(t, hpa, percent)).toThrow(OutsideValidity);
    expect(() => airDensityPartials(t, hpa, percent)).toThrow(OutsideValidity);
  });

  it('takes the ends of every range', () => {
    expect(airDensityKgPerM3(5, 600, 0)).toBeGreaterThan(0);
    expect(airDensityKgPerM3(40, 1100, 100)).toBeGreaterThan(0);
    expect(airFormulaExtrapolated(15)).toBe(false);
    expect(airFormulaExtrapolated(27)).toBe(false);
  });
});

describe('standard atmosphere, ISO 2533', () => {
  it.each(readTable('standard-atmosphere.csv'))('$altitude_m m: $p_Pa Pa', (row) => {
    const printed = cell(row, 'p_Pa');
    const pa = 100 * standardAtmosphereHpa(number(row, 'altitude_m'));
    expect(Math.abs(pa - Number(printed))).toBeLessThanOrEqual(halfDigit(printed));
  });
});

describe('dew point', () => {
  // tables of psychrometry, from memory, to 0.1 K
  it.each([
    [20, 50, 9.3],
    [25, 60, 16.7],
    [30, 80, 26.2],
  ])('%d °C and %d %%: %d °C', (t, percent, printed) => {
    expect(Math.abs((dewPointC(t, percent) ?? Number.NaN) - printed)).toBeLessThanOrEqual(0.05);
  });

  it('is the air temperature itself when saturated, and below it otherwise', () => {
    fc.assert(
      fc.property(air, ({ t, percent }) => {
        expect(dewPointC(t, 100)).toBeCloseTo(t, 8);
        expect(dewPointC(t, percent)).toBeLessThan(t);
      }),
    );
  });

  it('does not exist in perfectly dry air', () => {
    expect(dewPointC(20, 0)).toBeNull();
  });
});
