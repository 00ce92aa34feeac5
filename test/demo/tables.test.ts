/** The tables of the demonstration are what its generator makes, and hold what a newcomer may rely on. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { airDensityGPerMl, waterDensityGPerMl } from '../../fixtures/demo/forward.ts';
import { generated } from '../../fixtures/demo/generate.ts';
import { NEWEST_TERM } from '../../fixtures/demo/terms.ts';
import { VESSELS } from '../../fixtures/demo/vessels.ts';
import { readDemoTables, rowsOf } from '../../server/demo/rows.ts';
import { VESSEL_KINDS } from '../../server/metrology/record.ts';

const stored = (name: string): string => readFileSync(new URL(`../../fixtures/demo/${name}`, import.meta.url), 'utf8');

const made = generated();

describe('the generator', () => {
  it.each(Object.keys(made))('makes %s byte for byte', (name) => {
    expect(made[name]).toBe(stored(name));
  });

  it('makes the same a second time', () => {
    expect(generated()).toEqual(made);
  });
});

describe('the way from volume to reading', () => {
  // Air-free water after Tanaka 2001, from memory; the rows of IAPWS-95 differ from it by less than 1 ppm, as their
  // own third column says. The second value lies between two rows.
  it.each([
    [21, 997.9948],
    [20.5, 998.1021],
  ])('has water of %s °C at %s kg/m³ within 1 ppm', (temperatureC, density) => {
    expect(Math.abs(waterDensityGPerMl(temperatureC) * 1000 - density)).toBeLessThan(0.001 + 0.00005);
  });

  // CIPM-2007 test point of fixtures/tables/air-density-cipm-2007.csv with the stated deviation of equation E.3-1.
  it.each([
    [{ temperatureC: 20, pressureHpa: 1013.25, humidityPercent: 50 }, 1.1993139, -16.3],
    [{ temperatureC: 18, pressureHpa: 1000, humidityPercent: 40 }, 1.1932608, -49.6],
    [{ temperatureC: 22, pressureHpa: 950, humidityPercent: 50 }, 1.1157779, 36.9],
  ])('has air of %j at its published density', (air, density, differsPpm) => {
    const found = (airDensityGPerMl(air) * 1000) / density - 1;
    expect(Math.abs(found * 1e6 - differsPpm)).toBeLessThan(0.05 + 0.05);
  });
});

describe('the tables', () => {
  const demo = readDemoTables();

  it('hold about 60 vessels of every kind', () => {
    expect(demo.vessels.length).toBeGreaterThanOrEqual(60);
    expect(new Set(demo.vessels.map((row) => row['kind']))).toEqual(new Set(VESSEL_KINDS));
  });

  it('hold four terms over nearly two years, the newest with some 500 trials', () => {
    const days = demo.calibrations.map((row) => row['performedOn'] ?? '');
    expect(new Set(days.map((day) => day.slice(0, 7))).size).toBe(4);
    expect([days[0], days.at(-1)]).toEqual(['2024-11-11', '2026-09-25']);
    const newest = demo.trials.filter((row) => (row['calibration'] ?? '').startsWith(NEWEST_TERM));
    expect(newest.length).toBeGreaterThan(450);
    expect(newest.length).toBeLessThan(600);
  });

  it('write every reading with the digits of its balance', () => {
    const digits: Record<string, number> = { 'AB-1': 4, 'TL-1': 2 };
    const balances = new Map(demo.calibrations.map((row) => [row['calibration'], row['balance'] ?? '']));
    const odd = demo.trials.filter((row) => {
      const wanted = new RegExp(`^\\d+\\.\\d{${digits[balances.get(row['calibration']) ?? ''] ?? 0}}$`);
      return !wanted.test(row['emptyG'] ?? '') || !wanted.test(row['filledG'] ?? '');
    });
    expect(odd).toEqual([]);
  });

  it('say nothing of the true volumes where a vessel is registered', () => {
    const truths = new Set(VESSELS.flatMap((vessel) => vessel.points.map((point) => point.trueMl)));
    const cells = demo.vessels.flatMap((row) => Object.values(row)).filter((cell) => cell !== '');
    expect(cells.filter((cell) => truths.has(Number(cell)))).toEqual([]);
  });

  it('refuse a line with a cell too many', () => {
    expect(() => rowsOf('tag,kind\nVF-1,volumetric-flask,1\n')).toThrow('A line has 3 cells instead of 2');
  });
});
