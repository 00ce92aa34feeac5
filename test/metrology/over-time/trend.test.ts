import { describe, expect, it } from 'vitest';
import { fitLine, lineAt, trendOf } from '../../../server/metrology/over-time/trend.ts';
import { number, readTable } from '../fixture.ts';

describe('straight line by least squares', () => {
  it('gives the certified values of Norris', () => {
    // NIST/ITL StRD, linear least squares, Norris: certified values.
    const line = fitLine(
      readTable('nist-strd-norris.csv').map((row) => ({ x: number(row, 'x'), y: number(row, 'y') })),
    );
    expect(line.n).toBe(36);
    expect(line.slope).toBeCloseTo(1.00211681802045, 13);
    expect(line.intercept).toBeCloseTo(-0.262323073774029, 11);
    expect(line.slopeStandardError).toBeCloseTo(0.429796848199937e-3, 15);
    expect(line.interceptStandardError).toBeCloseTo(0.232818234301152, 12);
    expect(line.residualSd).toBeCloseTo(0.884796396144373, 12);
  });

  it('has a band around the mean of t·s/√n and at 0 of t times the certified error of the intercept', () => {
    // t(0.975, 34) = 2.032 (from memory, tables of Student's t); the standard errors are certified by NIST.
    const line = fitLine(
      readTable('nist-strd-norris.csv').map((row) => ({ x: number(row, 'x'), y: number(row, 'y') })),
    );
    expect(lineAt(line, line.meanX).halfWidth / ((2.032 * 0.884796396144373) / 6)).toBeCloseTo(1, 3);
    expect(lineAt(line, 0).halfWidth / (2.032 * 0.232818234301152)).toBeCloseTo(1, 3);
    expect(lineAt(line, 0).value).toBeCloseTo(-0.262323073774029, 11);
  });

  it('needs three points at two places', () => {
    expect(() =>
      fitLine([
        { x: 0, y: 0 },
        { x: 1, y: 1 },
      ]),
    ).toThrow(RangeError);
    expect(() => fitLine([0, 1, 2].map((y) => ({ x: 4, y })))).toThrow(RangeError);
  });
});

const yearly = (means: readonly number[]) => means.map((meanMl, year) => ({ day: 365 * year, meanMl }));

describe('trend of a vessel', () => {
  it('is not sought below five calibrations, nor within one day', () => {
    expect(trendOf(yearly([100, 100.01, 100.02, 100.03]), 100, 0.1)).toBeNull();
    const oneDay = [1, 2, 3, 4, 5].map((meanMl) => ({ day: 7, meanMl }));
    expect(trendOf(oneDay, 3, 1)).toBeNull();
  });

  it('names no day for scatter', () => {
    const trend = trendOf(yearly([100.01, 99.99, 100.02, 99.99, 100.0]), 100, 0.1);
    expect(trend).toMatchObject({ significant: false, leavesOnDay: null });
  });

  it('names the early edge of the band, before the line itself leaves', () => {
    // By hand: slope (−0.0101 + 0.0301 + 2 · 0.0399)/10 = 0.00998 mL a year, the line meets 100.1 mL after ten years.
    const trend = trendOf(yearly([100.0, 100.0101, 100.0199, 100.0301, 100.0399]), 100, 0.1);
    expect(trend?.significant).toBe(true);
    expect(trend?.slopeMlPerDay).toBeCloseTo(0.00998 / 365, 12);
    expect(trend?.leavesOnDay).toBeLessThan(3650);
    expect(trend?.leavesOnDay).toBeGreaterThan(3400);
    expect(trend?.band.at(-1)?.highMl).toBeGreaterThanOrEqual(100.1);
    expect(trend?.band.at(-2)?.highMl).toBeLessThan(100.1);
  });

  it('looks down as well as up', () => {
    const up = trendOf(yearly([100.0, 100.0101, 100.0199, 100.0301, 100.0399]), 100, 0.1);
    const down = trendOf(yearly([100.0, 99.9899, 99.9801, 99.9699, 99.9601]), 100, 0.1);
    expect(down?.leavesOnDay).toBe(up?.leavesOnDay);
  });

  it('names the last day where the vessel is out already, and none without a tolerance or within 20 years', () => {
    const drifting = yearly([100.0, 100.0101, 100.0199, 100.0301, 100.0399]);
    expect(trendOf(drifting, 100, 0.03)?.leavesOnDay).toBe(4 * 365);
    expect(trendOf(drifting, 100, null)?.leavesOnDay).toBeNull();
    expect(trendOf(drifting, 100, 1)?.leavesOnDay).toBeNull();
  });
});
