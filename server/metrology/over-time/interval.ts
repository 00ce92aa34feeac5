import type { Verdict } from '../result.ts';

/** What the staircase looks at of one calibration. */
export interface PastCalibration {
  verdict: Verdict | null;
  /** Largest |b|/T of its points; null without a tolerance. */
  errorShare: number | null;
  /** Largest |E_Δ| of its points to the calibration before; null for the first. */
  normalisedChange: number | null;
}

/** Why an interval is advised as it is. */
export const INTERVAL_REASONS = [
  /** No calibration yet, or none with a verdict. */
  'nothing-known',
  /** Not yet three good ones in a row. */
  'kept',
  /** Three passes in a row with small error and no change. */
  'lengthened',
  /** The last one failed. */
  'shortened',
  /** Would be longer or shorter, were it not for the bounds. */
  'longest',
  'shortest',
  /** The early edge of a trend reaches the tolerance before the interval ends. */
  'leaves-first',
] as const;
export type IntervalReason = (typeof INTERVAL_REASONS)[number];

export interface IntervalAdvice {
  months: number;
  reason: IntervalReason;
  /** Good calibrations in a row since the last change of the interval, 0 to 2. */
  goodInARow: number;
}

/** First interval, months. */
export const FIRST_MONTHS = 12;
export const SHORTEST_MONTHS = 6;
export const LONGEST_MONTHS = 60;
const NEEDED = 3;

function failed(calibration: PastCalibration): boolean {
  return calibration.verdict === 'fail' || calibration.verdict === 'conditional-fail';
}

function good(calibration: PastCalibration): boolean {
  const { verdict, errorShare, normalisedChange } = calibration;
  const small = errorShare !== null && errorShare <= 0.5 * (1 + 1e-9);
  return verdict === 'pass' && small && Math.abs(normalisedChange ?? 0) <= 1;
}

/**
 * Interval to the next calibration by a staircase: twice as long after three passes in a row with |b| ≤ T/2 and
 * |E_Δ| ≤ 1, half as long after a fail, between 6 and 60 months, 12 months to begin with. It looks back only: damage,
 * heat or alkali end an interval at once, whatever it says.
 * @param history oldest first; calibrations that decided nothing belong in it
 * @source ilac-g24-2022, automatic adjustment or staircase
 * @source ukas-lab-15-2009, first interval of at most one year
 */
export function adviseInterval(history: readonly PastCalibration[]): IntervalAdvice {
  let months = FIRST_MONTHS;
  let reason: IntervalReason = 'nothing-known';
  let goodInARow = 0;
  for (const calibration of history) {
    if (calibration.verdict === null || calibration.verdict === 'none-stated') continue;
    reason = 'kept';
    goodInARow = good(calibration) ? goodInARow + 1 : 0;
    if (failed(calibration)) {
      reason = months <= SHORTEST_MONTHS ? 'shortest' : 'shortened';
      months = Math.max(SHORTEST_MONTHS, months / 2);
    } else if (goodInARow === NEEDED) {
      reason = months >= LONGEST_MONTHS ? 'longest' : 'lengthened';
      months = Math.min(LONGEST_MONTHS, months * 2);
      goodInARow = 0;
    }
  }
  return { months, reason, goodInARow };
}

/**
 * When to calibrate again: after the advised months, or on the day on which a trend may leave the tolerance, whichever
 * comes first.
 * @param lastOn day of the last calibration, ISO text
 * @param leavesOn early edges of the trends of the vessel's points, ISO text
 * @source common-practice, an interval ends before the vessel may have left its tolerance
 */
export function nextCalibration(
  advice: IntervalAdvice,
  lastOn: string,
  leavesOn: readonly string[],
): IntervalAdvice & { nextOn: string } {
  const regular = monthsLater(lastOn, advice.months);
  const [earliest] = [...leavesOn].sort();
  if (earliest === undefined || earliest >= regular) return { ...advice, nextOn: regular };
  return { ...advice, reason: 'leaves-first', nextOn: earliest };
}

/**
 * The same day of the month so many months later; the last day of the month where it has no such day.
 * @param iso calendar day as ISO text
 * @source common-practice, intervals are counted in calendar months
 */
export function monthsLater(iso: string, months: number): string {
  const [year = 0, month = 0, day = 0] = iso.split('-').map(Number);
  const lastDay = new Date(Date.UTC(year, month - 1 + months + 1, 0)).getUTCDate();
  return new Date(Date.UTC(year, month - 1 + months, Math.min(day, lastDay))).toISOString().slice(0, 10);
}
