import { describe, expect, it } from 'vitest';
import {
  airDensityCurve,
  atmosphereCurve,
  factorCurve,
  simpleErrorCurve,
  simpleErrorMl,
  waterDensityCurve,
} from '../../web/plots/reference-curves.ts';
import { cell, halfDigit, number, readTable } from '../metrology/fixture.ts';

const at = (curve: readonly { x: number; y: number }[], x: number): number =>
  curve.find((point) => Math.abs(point.x - x) < 1e-9)?.y ?? NaN;

describe('curves of the reference room', () => {
  // Tanaka et al. 2001, table 1: the density is largest at 3.98 °C; published values at 0, 20 and 40 °C.
  it('show the density of water over the whole range of its formula, with the peak near 4 °C', () => {
    const curve = waterDensityCurve();
    expect([curve[0]?.x, curve.at(-1)?.x]).toEqual([0, 40]);
    const peak = curve.reduce((best, point) => (point.y > best.y ? point : best));
    expect(peak.x).toBeCloseTo(3.98, 1);
    const published = readTable('water-density-tanaka-2001.csv');
    const [celsius, density] = Object.keys(published[0] ?? {});
    const known = published.filter((row) => at(curve, number(row, celsius ?? '')) > 0);
    expect(known.length).toBeGreaterThan(10);
    for (const row of known) {
      const printed = cell(row, density ?? '');
      expect(Math.abs(at(curve, number(row, celsius ?? '')) - Number(printed))).toBeLessThanOrEqual(halfDigit(printed));
    }
  });

  // ISO 2533:1975.
  it('show the standard atmosphere', () => {
    const curve = atmosphereCurve();
    expect([curve[0]?.x, curve.at(-1)?.x]).toEqual([-430, 5000]);
    expect(Math.abs((curve.at(-1)?.y ?? NaN) - 540.2)).toBeLessThanOrEqual(0.05);
  });

  // CIPM-2007 at 20 °C, 1013.25 hPa, 50 %: 1.1993 kg/m³; along the curve the density is nearly proportional to pressure.
  it('show the density of air over the pressures of its formula', () => {
    const curve = airDensityCurve(20, 50);
    expect([curve[0]?.x, curve.at(-1)?.x]).toEqual([600, 1100]);
    const [low, high] = [at(curve, 1010), at(curve, 1020)];
    expect(Math.abs(low + ((high - low) * 3.25) / 10 - 1.1993)).toBeLessThanOrEqual(0.00005);
  });

  // ISO 8655-6, table A.1, at 1013 hPa.
  it('show Z as ISO 8655-6 lists it', () => {
    const rows = readTable('z-iso-8655-6.csv').filter((row) => Number.isInteger(number(row, 't_C')));
    const air = airDensityCurve(20, 50);
    const [low, high] = [at(air, 1010), at(air, 1020)];
    const curve = factorCurve(low + ((high - low) * 3) / 10);
    const known = rows.filter((row) => at(curve, number(row, 't_C')) > 0);
    expect(known.length).toBeGreaterThan(2);
    // The table is that of another formula for water and air; its last digit is all that is asked for.
    for (const row of known) expect(at(curve, number(row, 't_C'))).toBeCloseTo(number(row, '1013'), 4);
  });
});

describe('error of simple division', () => {
  // Z of ISO 8655-6, table A.1, 20.0 °C and 1013 hPa: 1.0029 mL/g, so 100 mL weigh 100/1.0029 g; half a digit of Z is 0.005 mL.
  it('is what Z says', () => {
    const cost = { volumeMl: 100, airKgPerM3: 1.1991, expansionPerK: 9.9e-6, referenceC: 20 };
    expect(Math.abs(simpleErrorMl(cost, 20) - (100 / 1.0029 - 100))).toBeLessThanOrEqual(0.005);
  });

  it('grows in proportion to the volume and with the warmth of the water', () => {
    const cost = { volumeMl: 100, airKgPerM3: 1.2, expansionPerK: 9.9e-6, referenceC: 20 };
    expect(simpleErrorMl({ ...cost, volumeMl: 1000 }, 25)).toBeCloseTo(10 * simpleErrorMl(cost, 25), 9);
    const values = simpleErrorCurve(cost).map((point) => point.y);
    expect(values.every((value, index) => index === 0 || value < (values[index - 1] ?? NaN))).toBe(true);
  });
});
