import { describe, expect, it } from 'vitest';
import { evaluate } from '../../server/metrology/evaluate.ts';
import { grubbsCritical } from '../../server/metrology/outlier.ts';
import type { CalibrationRecord } from '../../server/metrology/record.ts';
import { toleranceRows } from '../../server/metrology/tolerance-table.ts';
import { cell, halfDigit, readTable } from './fixture.ts';
import { record, trialsOf } from './make.ts';

function suspects(masses: string[], changes: Partial<CalibrationRecord> = {}): (number | undefined)[] {
  const result = evaluate(record({ trials: trialsOf(masses), ...changes }), toleranceRows);
  const findings = result.points[0]?.findings ?? [];
  return findings.filter((one) => one.code === 'suspected-outlier').map((one) => one.trial);
}

describe('Grubbs, 5 % two-sided', () => {
  const rows = readTable('grubbs-critical-values.csv');

  // a public table prints 2.202 for n = 7; the digits are swapped, 2.020 is right
  it.each(rows)('n = $n: $two_sided_0.05', (row) => {
    const printed = cell(row, 'two_sided_0.05');
    expect(Math.abs(grubbsCritical(Number(cell(row, 'n'))) - Number(printed))).toBeLessThanOrEqual(halfDigit(printed));
  });

  it.each(rows)('n = $n, 1 %: $two_sided_0.01', (row) => {
    const printed = cell(row, 'two_sided_0.01');
    const value = grubbsCritical(Number(cell(row, 'n')), 0.01);
    expect(Math.abs(value - Number(printed))).toBeLessThanOrEqual(halfDigit(printed));
  });

  it('covers 3 to 50 trials', () => expect(rows.length).toBe(22));
});

describe('suspected outliers', () => {
  const quiet = ['99.7101', '99.7105', '99.7098', '99.7102', '99.7100'];

  it('stand out of six trials and more', () => {
    expect(suspects([...quiet, '99.7103'])).toEqual([]);
    expect(suspects([...quiet, '99.7203'])).toEqual([6]);
  });

  it('never stand out of five without a pooled spread', () => {
    expect(suspects([...quiet.slice(0, 4), '99.7203'])).toEqual([]);
  });

  it('stand out of few by 3.5 pooled spreads', () => {
    const repeatability = { use: 'pooled', sdMl: '0.001', degreesOfFreedom: 20 } as const;
    expect(suspects([...quiet.slice(0, 4), '99.7203'], { repeatability })).toEqual([5]);
    expect(suspects([...quiet.slice(0, 4), '99.7123'], { repeatability })).toEqual([]);
  });

  it('never within three last digits', () => {
    const equal = ['99.7100', '99.7100', '99.7100', '99.7100', '99.7100', '99.7100', '99.7103'];
    expect(suspects(equal)).toEqual([]);
    expect(suspects([...equal.slice(0, 6), '99.7105'])).toEqual([7]);
  });

  it('exclude nothing', () => {
    const result = evaluate(record({ trials: trialsOf([...quiet, '99.7203']) }), toleranceRows);
    expect(result.points[0]).toMatchObject({ n: 6, nRecorded: 6 });
  });
});
