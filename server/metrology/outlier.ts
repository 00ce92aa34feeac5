import tQuantile from '@stdlib/stats-base-dists-t-quantile';
import { finding } from './findings.ts';
import type { Finding, TrialResult } from './result.ts';
import type { Summary } from './statistics.ts';

const ALPHA = 0.05;
/** Fewest values that Grubbs' test is put to here. */
export const FEWEST = 6;
/** A deviation within this many last digits is no outlier, whatever the spread. */
export const STEPS = 3;
/** Below six trials: how many pooled standard deviations are far. */
const POOLED_LIMIT = 3.5;

const critical = new Map<string, number>();

/**
 * Critical value of Grubbs' test for n ≥ 3 values, two-sided, 5 % unless said otherwise:
 * (n − 1)/√n·√(t²/(n − 2 + t²)), t at 1 − α/(2n) with n − 2 degrees of freedom.
 * @source grubbs-1969, criterion for a single outlier at either end
 */
export function grubbsCritical(n: number, alpha = ALPHA): number {
  const key = `${n} ${alpha}`;
  const known = critical.get(key);
  if (known !== undefined) return known;
  const t = tQuantile(1 - alpha / (2 * n), n - 2);
  const value = ((n - 1) / Math.sqrt(n)) * Math.sqrt((t * t) / (n - 2 + t * t));
  critical.set(key, value);
  return value;
}

/**
 * The trial farthest from the mean, when it is suspect: from six trials on by Grubbs' test, below that by a pooled
 * spread where there is one; never within three last digits. It excludes nothing.
 * @param stepMl last digit of a reading as volume, mL
 * @param pooledSdMl pooled spread of single trials, null for none
 * @source grubbs-1969, criterion for a single outlier at either end
 */
export function outlierFinding(
  counted: readonly TrialResult[],
  volumes: Summary,
  stepMl: number,
  pooledSdMl: number | null,
): Finding[] {
  let farthest: TrialResult | null = null;
  let deviation = 0;
  for (const trial of counted) {
    const own = Math.abs(trial.volumeMl - volumes.mean);
    if (own > deviation) [farthest, deviation] = [trial, own];
  }
  if (farthest === null || volumes.sd === null || deviation <= STEPS * stepMl) return [];
  const limit =
    volumes.n >= FEWEST
      ? grubbsCritical(volumes.n) * volumes.sd
      : pooledSdMl === null
        ? Number.POSITIVE_INFINITY
        : POOLED_LIMIT * pooledSdMl;
  if (deviation <= limit) return [];
  const detail = `Trial ${farthest.number} lies ${deviation.toPrecision(2)} mL from the mean. Look for a cause: the number alone excludes nothing.`;
  return [finding('suspected-outlier', detail, farthest.number)];
}
