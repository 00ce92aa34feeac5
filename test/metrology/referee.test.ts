import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evaluate } from '../../server/metrology/evaluate.ts';
import type { CalibrationRecord, VesselFacts } from '../../server/metrology/record.ts';
import { numericalTolerance, Referee, refereeOf, refereePoint } from '../../server/metrology/referee.ts';
import type { RefereePoint } from '../../server/metrology/referee.ts';
import { toleranceRows } from '../../server/metrology/tolerance-table.ts';
import { flask, record, trialsOf } from './make.ts';

const fine = {
  balance: { resolutionG: '0.0001', linearityG: '0.0003', expandedUncertaintyG: '0.0003' },
  thermometer: { expandedUncertaintyC: '0.1', resolutionC: '0.1' },
};

function ready(given: CalibrationRecord): RefereePoint {
  const point = refereePoint(given, toleranceRows, 0);
  if (point === null) throw new Error('no trials');
  return point;
}

describe('numerical tolerance of JCGM 101, 7.9.2', () => {
  // u written with one significant digit c·10^r: half of 10^r
  it.each([
    [0.0037, 0.0005],
    [0.035, 0.005],
    [0.0096, 0.005],
    [0.94, 0.05],
    [2.1, 0.5],
  ])('u = %d: %d', (u, expected) => {
    expect(numericalTolerance(u)).toBeCloseTo(expected, 12);
  });
});

describe('the referee', () => {
  const trials = trialsOf(['99.7121', '99.7189', '99.7074', '99.7150', '99.7102']);
  const given = record({ instruments: fine, trials });

  it('stands on the same budget as the result', () => {
    const result = evaluate(given, toleranceRows).points[0];
    expect(ready(given)).toMatchObject({
      n: 5,
      meanMl: result?.meanMl,
      combinedUncertaintyMl: result?.combinedUncertaintyMl,
    });
  });

  it('calls few readings few', () => {
    const three = refereeOf(ready({ ...given, trials: trials.slice(0, 3) }), 1);
    expect(three).toMatchObject({ outcome: 'too-few-readings', drawn: null, student: null });
    const repeatability = { use: 'pooled', sdMl: '0.004', degreesOfFreedom: 20 } as const;
    const pooled = refereeOf(ready({ ...given, trials: trials.slice(0, 3), repeatability }), 1);
    expect(pooled.outcome).not.toBe('too-few-readings');
    expect(pooled.student).toBeNull();
    expect(refereePoint({ ...given, trials: [] }, toleranceRows, 0)).toBeNull();
  });

  it('is the same for the same seed', () => {
    const first = refereeOf(ready(given), 7, 50_000);
    expect(refereeOf(ready(given), 7, 50_000)).toEqual(first);
    expect(refereeOf(ready(given), 8, 50_000).drawn?.low).not.toBe(first.drawn?.low);
  });

  it('gives a wider interval where the spread itself is uncertain', () => {
    const spread = trialsOf(['99.60', '99.80', '99.65', '99.75']);
    const result = refereeOf(ready({ ...given, trials: spread }), 3, 300_000);
    const width = (one: { low: number; high: number } | null) => (one === null ? 0 : one.high - one.low);
    expect(width(result.student)).toBeGreaterThan(1.2 * width(result.drawn));
  });

  it('can be stepped and says how far it is', () => {
    const referee = new Referee(ready(given), 5, 20_000);
    let steps = 0;
    while (!referee.finished) {
      referee.step();
      steps += 1;
    }
    expect(steps).toBe(4);
    expect(referee.draws).toBe(40_000);
    expect(referee.result().drawn?.draws).toBe(20_000);
  });
});

const VESSELS: readonly VesselFacts[] = [
  flask(),
  flask({ nominalVolumeMl: '10', material: 'soda-lime' }),
  flask({ nominalVolumeMl: '1000', referenceTemperatureC: '27' }),
  flask({ kind: 'measuring-cylinder', nominalVolumeMl: '100', divisionMl: '1', tolerance: { markedMl: '0.5' } }),
  flask({
    kind: 'measuring-cylinder',
    nominalVolumeMl: '250',
    divisionMl: '2',
    material: 'polypropylene',
    tolerance: { markedMl: '2' },
  }),
  flask({ kind: 'single-volume-pipette', nominalVolumeMl: '25', basis: 'deliver', tolerance: { markedMl: '0.03' } }),
  flask({ kind: 'beaker', nominalVolumeMl: '50', divisionMl: '10', tolerance: { markedPercent: '5' } }),
];

/** A set-up as laboratories have them: vessel, instruments, room, and trials that spread by a few last digits. */
const setUps = fc
  .record({
    vessel: fc.constantFrom(...VESSELS),
    decimals: fc.integer({ min: 2, max: 4 }),
    offsets: fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 4, maxLength: 10 }),
    waterC: fc.integer({ min: 170, max: 260 }),
    airC: fc.integer({ min: 180, max: 260 }),
    pressure: fc.integer({ min: 8600, max: 10_300 }),
    humidity: fc.integer({ min: 25, max: 75 }),
    certified: fc.boolean(),
    measured: fc.boolean(),
  })
  .map(({ vessel, decimals, offsets, waterC, airC, pressure, humidity, certified, measured }): CalibrationRecord => {
    const mass = 0.9969 * Number(vessel.nominalVolumeMl);
    const masses = offsets.map((offset) => (mass + offset * 2 * 10 ** -decimals).toFixed(decimals));
    return {
      vessel,
      trials: trialsOf(masses, {
        pointMl: vessel.nominalVolumeMl,
        emptyG: (0).toFixed(decimals),
        waterTemperatureC: (waterC / 10).toFixed(1),
      }),
      conditions: measured
        ? {
            airTemperatureC: (airC / 10).toFixed(1),
            airPressureHpa: (pressure / 10).toFixed(1),
            relativeHumidityPercent: String(humidity),
          }
        : {},
      instruments: certified
        ? {
            balance: { resolutionG: (10 ** -decimals).toFixed(decimals), expandedUncertaintyRelative: '0.00001' },
            thermometer: { expandedUncertaintyC: '0.1', resolutionC: '0.1' },
          }
        : {},
    };
  });

/** Every change draws 30 set-ups; the soak run draws 200. */
const SET_UPS = process.env['TAREBOOK_SOAK'] === '1' ? 200 : 30;

describe('realistic set-ups drawn at random', () => {
  it('have the u of the budget within 0.5 %, and never a wider interval', () => {
    fc.assert(
      fc.property(setUps, fc.integer({ min: 1, max: 2 ** 30 }), (given, seed) => {
        // without the second run, which is not compared here
        const result = refereeOf({ ...ready(given), studentModel: null }, seed, 300_000);
        const ratio = (result.drawn?.standardUncertainty ?? 0) / result.gum.standardUncertainty;
        expect(Math.abs(ratio - 1)).toBeLessThan(0.005);
        expect(['confirmed', 'gum-wider']).toContain(result.outcome);
      }),
      // 300 000 draws know u to 0.13 %: a fixed seed keeps chance out of the check
      { numRuns: SET_UPS, seed: 20261125 },
    );
  }, 900_000);
});
