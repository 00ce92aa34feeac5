import { describe, expect, it } from 'vitest';
import { adviseInterval, monthsLater, nextCalibration } from '../../../server/metrology/over-time/interval.ts';
import type { PastCalibration } from '../../../server/metrology/over-time/interval.ts';

const passed: PastCalibration = { verdict: 'pass', errorShare: 0.3, normalisedChange: 0.4 };
const failed: PastCalibration = { verdict: 'fail', errorShare: 1.4, normalisedChange: 0.4 };
const times = (count: number, one: PastCalibration) => Array.from({ length: count }, () => one);

// ILAC-G24 / OIML D 10, staircase; the numbers 2, ½, three in a row, 6 and 60 months are common practice, no source.
// First interval of one year: UKAS LAB 15.
describe('interval advice', () => {
  it.each([
    ['nothing', [], 12, 'nothing-known'],
    ['one without a verdict', [{ ...passed, verdict: 'none-stated' as const }], 12, 'nothing-known'],
    ['two good ones', times(2, passed), 12, 'kept'],
    ['three good ones', times(3, passed), 24, 'lengthened'],
    ['the first, which has no change', [{ ...passed, normalisedChange: null }, ...times(2, passed)], 24, 'lengthened'],
    ['four good ones', times(4, passed), 24, 'kept'],
    ['six good ones', times(6, passed), 48, 'lengthened'],
    ['nine good ones', times(9, passed), 60, 'lengthened'],
    ['twelve good ones', times(12, passed), 60, 'longest'],
    ['a fail', [failed], 6, 'shortened'],
    ['two fails', [failed, failed], 6, 'shortest'],
    ['a fail after three good ones', [...times(3, passed), failed], 12, 'shortened'],
    ['a conditional fail', [{ ...failed, verdict: 'conditional-fail' as const }], 6, 'shortened'],
    ['a large error among three', [passed, { ...passed, errorShare: 0.51 }, passed], 12, 'kept'],
    ['half the tolerance exactly', times(3, { ...passed, errorShare: 0.5 }), 24, 'lengthened'],
    ['a change among three', [passed, { ...passed, normalisedChange: -1.01 }, passed], 12, 'kept'],
    ['a conditional pass', [passed, { ...passed, verdict: 'conditional-pass' as const }, passed], 12, 'kept'],
  ] as const)('after %s', (_name, history, months, reason) => {
    expect(adviseInterval(history)).toMatchObject({ months, reason });
  });
});

describe('the next calibration', () => {
  const advice = adviseInterval(times(3, passed));

  it('comes after the months, or before a trend may leave the tolerance', () => {
    expect(nextCalibration(advice, '2026-03-01', [])).toMatchObject({ nextOn: '2028-03-01', reason: 'lengthened' });
    expect(nextCalibration(advice, '2026-03-01', ['2040-01-01'])).toMatchObject({ nextOn: '2028-03-01' });
    expect(nextCalibration(advice, '2026-03-01', ['2031-01-01', '2027-05-06'])).toMatchObject({
      nextOn: '2027-05-06',
      reason: 'leaves-first',
    });
  });

  it.each([
    ['2026-01-31', 1, '2026-02-28'],
    ['2024-02-29', 12, '2025-02-28'],
    ['2023-08-31', 6, '2024-02-29'],
    ['2026-11-26', 60, '2031-11-26'],
  ])('%s and %i months are %s of the calendar', (day, months, later) => {
    expect(monthsLater(day, months)).toBe(later);
  });
});
