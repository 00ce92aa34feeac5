import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { OutsideValidity } from '../../server/metrology/outside-validity.ts';
import {
  dissolvedAirKgPerM3,
  tapWaterFactor,
  waterDensityKgPerM3,
  waterDensityPerK,
} from '../../server/metrology/water-density.ts';
import { cell, halfDigit, number, readTable } from './fixture.ts';

const tanaka = readTable('water-density-tanaka-2001.csv');

describe('water density, Tanaka 2001', () => {
  it('covers every whole degree from 0 to 40', () => {
    expect(tanaka.map((row) => number(row, 't_C'))).toEqual(Array.from({ length: 41 }, (_, degree) => degree));
  });

  it.each(tanaka)('$t_C °C: $air_free kg/m3', (row) => {
    const printed = cell(row, 'air_free');
    expect(Math.abs(waterDensityKgPerM3(number(row, 't_C')) - Number(printed))).toBeLessThanOrEqual(halfDigit(printed));
  });

  it.each(tanaka.filter((row) => row['air_saturated'] !== ''))('$t_C °C with dissolved air', (row) => {
    const t = number(row, 't_C');
    const printed = cell(row, 'air_saturated');
    const density = waterDensityKgPerM3(t) + dissolvedAirKgPerM3(t);
    expect(Math.abs(density - Number(printed))).toBeLessThanOrEqual(halfDigit(printed));
  });

  it.each(readTable('water-density-iapws-95.csv'))('$t_C °C: $tanaka_minus_iapws_ppm ppm from IAPWS-95', (row) => {
    const iapws = number(row, 'density');
    const ppm = (1e6 * (waterDensityKgPerM3(number(row, 't_C')) - iapws)) / iapws;
    // the table prints 6 decimals of the density, 0.5 ppb, and 3 decimals of the ppm
    const printed = cell(row, 'tanaka_minus_iapws_ppm');
    expect(Math.abs(ppm - Number(printed))).toBeLessThanOrEqual(halfDigit(printed) + 0.0005);
  });
});

/** Kell 1975 as printed, on the temperature scale of 1968; here for comparison only. */
function kell1975(t90: number): number {
  const t = 1.00024 * t90;
  const upper =
    999.83952 +
    16.945176 * t -
    7.9870401e-3 * t ** 2 -
    46.170461e-6 * t ** 3 +
    105.56302e-9 * t ** 4 -
    280.54253e-12 * t ** 5;
  return upper / (1 + 16.87985e-3 * t);
}

/** Jones and Harris 1992, air-free, five terms; here for comparison only. */
function fiveTerm(t: number): number {
  return 999.85308 + 6.32693e-2 * t - 8.523829e-3 * t ** 2 + 6.943248e-5 * t ** 3 - 3.821216e-7 * t ** 4;
}

describe('other formulas of the trade', () => {
  const others = readTable('water-density-other-formulas.csv').filter((row) => row['five_term'] !== '');

  it.each(others)('$t_C °C as printed', (row) => {
    const t = number(row, 't_C');
    expect(Math.abs(kell1975(t) - number(row, 'kell_1975'))).toBeLessThanOrEqual(halfDigit(cell(row, 'kell_1975')));
    expect(Math.abs(fiveTerm(t) - number(row, 'five_term'))).toBeLessThanOrEqual(halfDigit(cell(row, 'five_term')));
  });

  it('lie within the differences stated for 5 to 40 °C', () => {
    const worst = { kell: 0, five: 0 };
    for (let tenth = 50; tenth <= 400; tenth += 1) {
      const t = tenth / 10;
      const own = waterDensityKgPerM3(t);
      worst.kell = Math.min(worst.kell, (1e6 * (kell1975(t) - own)) / own);
      worst.five = Math.min(worst.five, (1e6 * (fiveTerm(t) - own)) / own);
    }
    // stated: −3.73 ppm at 30.7 °C and −4.078 ppm at 27.2 °C
    expect(Math.abs(worst.kell + 3.73)).toBeLessThanOrEqual(0.005);
    expect(Math.abs(worst.five + 4.078)).toBeLessThanOrEqual(0.0005);
  });
});

describe('slope of the water density', () => {
  it.each(readTable('water-density-derivative.csv'))('$t_C °C: $per_K kg/m3/K', (row) => {
    const t = number(row, 't_C');
    const printed = cell(row, 'per_K');
    expect(Math.abs(waterDensityPerK(t) - Number(printed))).toBeLessThanOrEqual(halfDigit(printed));
  });

  it('is that of the formula', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 39.99, noNaN: true }), (t) => {
        const h = 1e-3;
        const central = (waterDensityKgPerM3(t + h) - waterDensityKgPerM3(t - h)) / (2 * h);
        expect(Math.abs(waterDensityPerK(t) - central)).toBeLessThan(1e-7);
      }),
    );
  });

  it('makes water lighter with every degree from 4 °C on', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 4, max: 39, noNaN: true }),
        fc.double({ min: 0.01, max: 1, noNaN: true }),
        (t, step) => {
          expect(waterDensityKgPerM3(t + step)).toBeLessThan(waterDensityKgPerM3(t));
        },
      ),
    );
  });
});

describe('what the formula does not cover', () => {
  it.each([-0.01, 40.01, 100, Number.NaN])('refuses %d °C', (t) => {
    expect(() => waterDensityKgPerM3(t)).toThrow(OutsideValidity);
    expect(() => waterDensityPerK(t)).toThrow(OutsideValidity);
  });

  it('names quantity, value, range and source', () => {
    let caught: unknown;
    try {
      waterDensityKgPerM3(41);
    } catch (error) {
      caught = error;
    }
    expect(caught).toBeInstanceOf(OutsideValidity);
    expect(caught).toMatchObject({
      quantity: 'Water temperature',
      value: 41,
      range: [0, 40],
      unit: '°C',
      source: 'tanaka-2001',
    });
  });
});

describe('tap water', () => {
  it('weighs 0.5 ppm more for each µS/cm (common practice, no source)', () => {
    expect(tapWaterFactor(0)).toBe(1);
    expect((tapWaterFactor(600) - 1) * 1e6).toBeCloseTo(300, 6);
  });

  it('counts as 200 ppm denser when nobody measured (common practice, no source)', () => {
    expect((tapWaterFactor(null) - 1) * 1e6).toBeCloseTo(200, 6);
  });
});
