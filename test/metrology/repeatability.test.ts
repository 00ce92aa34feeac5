import { describe, expect, it } from 'vitest';
import { evaluate } from '../../server/metrology/evaluate.ts';
import { spreadsTooMuch } from '../../server/metrology/repeatability.ts';
import type { CalibrationRecord } from '../../server/metrology/record.ts';
import type { PointResult } from '../../server/metrology/result.ts';
import { toleranceRows } from '../../server/metrology/tolerance-table.ts';
import { number, readTable } from './fixture.ts';
import { codes, flask, record, trialsOf } from './make.ts';

function point(masses: string[], changes: Partial<CalibrationRecord> = {}): PointResult {
  return evaluate(record({ trials: trialsOf(masses), ...changes }), toleranceRows).points[0] as PointResult;
}

const pooled = (sdMl: string, degreesOfFreedom: number) =>
  ({ repeatability: { use: 'pooled', sdMl, degreesOfFreedom } }) as const;

describe('own spread', () => {
  it('is s with n − 1 degrees of freedom, s/√n for the mean', () => {
    const result = point(['99.700', '99.710', '99.720']);
    expect(result.repeatability).toMatchObject({ kind: 'own', degreesOfFreedom: 2 });
    const [line] = result.budget;
    expect(line?.contributionMl).toBeCloseTo((result.sdMl ?? 0) / Math.sqrt(3), 14);
    expect(line).toMatchObject({ component: 'repeatability', degreesOfFreedom: 2, distribution: 't' });
  });
});

describe('pooled spread', () => {
  it('takes the place of the own one, with its degrees of freedom', () => {
    const result = point(['99.700', '99.710', '99.720'], pooled('0.008', 27));
    expect(result.repeatability).toEqual({ kind: 'pooled', sdMl: 0.008, degreesOfFreedom: 27 });
    expect(result.budget[0]?.contributionMl).toBeCloseTo(0.008 / Math.sqrt(3), 14);
    // the spread of these trials is still shown
    expect(result.sdMl).toBeCloseTo(0.01003, 5);
  });

  it('lets one trial be judged', () => {
    const result = point(['99.713'], pooled('0.008', 27));
    expect(result).toMatchObject({ n: 1, sdMl: null, verdict: 'pass' });
    expect(result.repeatability?.kind).toBe('pooled');
  });

  it('gives way to trials that spread too much for it', () => {
    // F(0.99; 2, 27) = 5.49: s/s_p above 2.34
    const wide = point(['99.68', '99.71', '99.74'], pooled('0.008', 27));
    expect(wide.repeatability?.kind).toBe('own');
    expect(codes(wide.findings)).toContain('own-spread-used');
  });

  it('is refused on fewer than ten degrees of freedom, and says so', () => {
    const few = point(['99.700', '99.710', '99.720'], pooled('0.008', 9));
    expect(few.repeatability?.kind).toBe('own');
    expect(codes(few.findings)).toContain('pooled-too-few');
    const one = point(['99.713'], pooled('0.008', 9));
    expect(one).toMatchObject({ verdict: 'not-decidable', repeatability: { kind: 'predicted' } });
    const pending = point(['99.700', '99.710'], { repeatability: { use: 'pooled' } });
    expect(codes(pending.findings)).toContain('pooled-too-few');
  });

  it.each(readTable('f-quantiles-library.csv'))('limit of another library: F(0.99; $nu1, $nu2)', (row) => {
    const limit = Math.sqrt(number(row, 'f_0.99'));
    const spread = { kind: 'pooled', sdMl: 1, degreesOfFreedom: number(row, 'nu2') } as const;
    const n = number(row, 'nu1') + 1;
    expect(spreadsTooMuch(limit * (1 + 1e-7), n, spread)).toBe(true);
    expect(spreadsTooMuch(limit * (1 - 1e-7), n, spread)).toBe(false);
  });
});

describe('predicted spread', () => {
  it('of one trial: √(2·r² + h²), 8 degrees of freedom, marked', () => {
    const vessel = flask({ neckDiameterMm: '12' });
    const result = point(['99.713'], { vessel, instruments: { balance: { repeatabilityG: '0.003' } } });
    const setting = ((Math.PI / 4) * 144 * 0.1) / 1000;
    // 0.003 g are 0.003009 mL in this air
    const expected = Math.sqrt(2 * 0.0030092 ** 2 + setting ** 2);
    expect(result.repeatability?.sdMl).toBeCloseTo(expected, 6);
    expect(result.repeatability).toMatchObject({ kind: 'predicted', degreesOfFreedom: 8 });
    expect(result.budget[0]).toMatchObject({ assumed: true, degreesOfFreedom: 8 });
    expect(codes(result.findings)).toContain('predicted-spread');
    expect(result).toMatchObject({ sdMl: null, verdict: 'not-decidable', meetsClass: null });
  });

  it('adds the spread expected of the vessel', () => {
    const plain = point(['99.713'], { vessel: flask() }).repeatability?.sdMl ?? 0;
    const more = point(['99.713'], { vessel: flask({ expectedSpreadMl: '0.02' }) }).repeatability?.sdMl ?? 0;
    expect(more).toBeCloseTo(Math.hypot(plain, 0.02), 14);
  });

  it('still fails what is beyond doubt', () => {
    expect(point(['98.000']).verdict).toBe('fail');
  });
});

describe('two and three trials', () => {
  it('are judged with the large k they deserve', () => {
    // ν = 1 and 2: k at 95.45 % is 13.97 and 4.53 where the spread alone counts (GUM table G.2, from memory)
    const two = point(['99.60', '99.90'], { vessel: flask({ tolerance: { markedMl: '5' } }) });
    expect(two.coverageFactor).toBeGreaterThan(10);
    expect(two.coverageFactor).toBeLessThan(13.97);
    const three = point(['99.60', '99.75', '99.90'], { vessel: flask({ tolerance: { markedMl: '5' } }) });
    expect(three.coverageFactor).toBeGreaterThan(4);
    expect(three.coverageFactor).toBeLessThan(4.53);
  });
});
