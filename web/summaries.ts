/** Strips of calibrations as lists and histories bring them. */
import type { CalibrationSummary } from '../server/glassware/contract.ts';
import type { StripData } from './plots/tolerance-strip.ts';

type SummaryPoint = CalibrationSummary['points'][number];

/** @param guarded whether the judging rule keeps the uncertainty clear of the limits */
export const stripOf = (point: SummaryPoint, guarded = true): StripData => ({
  nominalMl: Number(point.pointMl),
  toleranceMl: point.toleranceMl,
  guardedMl: guardedPart(point.toleranceMl, point.expandedUncertaintyMl, guarded),
  volumesMl: point.volumesMl,
  excludedMl: point.excludedVolumesMl,
  meanMl: point.meanMl,
  expandedUncertaintyMl: point.expandedUncertaintyMl,
});

/** Half-width in mL of the part of the band in which a mean passes: T − U; null without both or under the simple rule. */
export const guardedPart = (
  toleranceMl: number | null,
  uncertaintyMl: number | null,
  guarded: boolean,
): number | null => (guarded && toleranceMl !== null && uncertaintyMl !== null ? toleranceMl - uncertaintyMl : null);

/** The point that decides what one wants to see first: the one with the worst verdict, else the first. */
export const leadingPoint = (calibration: CalibrationSummary): SummaryPoint | undefined => {
  const order = ['fail', 'conditional-fail', 'not-decidable', 'conditional-pass', 'pass', 'none-stated'];
  const rank = (point: SummaryPoint) => (point.verdict === null ? order.length : order.indexOf(point.verdict));
  return [...calibration.points].sort((a, b) => rank(a) - rank(b))[0];
};
