/** The largest parts of an uncertainty, and what one more trial would bring, in words. */
import type { Calibration, PointOnWire } from '../../server/calibrations/contract.ts';
import { oneMoreText } from '../messages/en-uncertainty.ts';
import { decimalsForUncertainty, fixed } from './rounding.ts';

const SHOWN = 3;

/** Share of u_c², 0 to 1, the largest first; nothing that contributes nothing. */
export function largestShares(point: Pick<PointOnWire, 'budget'>): { component: string; share: number }[] {
  const variance = point.budget.reduce((sum, { contributionMl }) => sum + contributionMl ** 2, 0);
  return point.budget
    .filter(({ contributionMl }) => contributionMl > 0)
    .map(({ component, contributionMl }) => ({ component, share: contributionMl ** 2 / variance }))
    .sort((one, other) => other.share - one.share)
    .slice(0, SHOWN);
}

type OneMore = NonNullable<Calibration['oneMore'][number]>;

/** Both U with the digits of the smaller, so that a small gain can be seen. */
export function moreWords(nowMl: number, more: OneMore): string {
  const decimals = decimalsForUncertainty(Math.min(nowMl, more.expandedUncertaintyMl));
  const step = oneMoreText.more(fixed(nowMl, decimals), fixed(more.expandedUncertaintyMl, decimals));
  return `${step}; ${more.verdictCouldChange ? oneMoreText.couldChange : oneMoreText.wouldNotChange}.`;
}
