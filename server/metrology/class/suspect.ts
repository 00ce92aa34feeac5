import { FEWEST, grubbsCritical, STEPS } from '../outlier.ts';
import { summarise } from '../statistics.ts';
import { numberAt, type ClassGroup } from './data.ts';

/** Probability of a false alarm: above the first limit a straggler, above the second an outlier. */
const STRAGGLER = 0.05;
const OUTLIER = 0.01;

/** The trial of a row that lies farthest out. It is asked about, never left out by a number alone. */
export interface Suspect {
  group: string;
  /** Place among the trials of its group, from 0. */
  index: number;
  /** Its number as recorded. */
  number: number;
  valueMl: number;
  /** Distance from the mean of all trials in their standard deviations. */
  g: number;
  stragglerLimit: number;
  outlierLimit: number;
  level: 'straggler' | 'outlier';
}

/**
 * The suspicious trial of a row, if one: Grubbs' test of the trial farthest from the mean of all trials, two-sided,
 * from six trials on and never within three last digits. Above the 5 % value a straggler, above the 1 % value an
 * outlier.
 * @param lastDigitMl last digit of a weighing as volume, mL; 0 where not known
 * @source iso-5725-2-2019, Grubbs' tests with stragglers and outliers; here over the trials of a row
 */
export function suspectOf(groups: readonly ClassGroup[], lastDigitMl = 0): Suspect | null {
  const all = groups.flatMap((group) => group.trialsMl);
  if (all.length < FEWEST) return null;
  const { mean, sd, n } = summarise(all);
  let farthest: Pick<Suspect, 'group' | 'index' | 'number' | 'valueMl'> | null = null;
  let distance = 0;
  for (const group of groups) {
    for (const [index, valueMl] of group.trialsMl.entries()) {
      const own = Math.abs(valueMl - mean);
      if (own > distance)
        [farthest, distance] = [{ group: group.key, index, number: numberAt(group, index), valueMl }, own];
    }
  }
  if (farthest === null || sd === null || distance <= STEPS * lastDigitMl) return null;
  const g = distance / sd;
  const stragglerLimit = grubbsCritical(n, STRAGGLER);
  const outlierLimit = grubbsCritical(n, OUTLIER);
  if (g <= stragglerLimit) return null;
  return { ...farthest, g, stragglerLimit, outlierLimit, level: g > outlierLimit ? 'outlier' : 'straggler' };
}

/** The groups without one trial. */
export function withoutTrial(groups: readonly ClassGroup[], left: Pick<Suspect, 'group' | 'index'>): ClassGroup[] {
  return groups.map((group) => {
    if (group.key !== left.group) return group;
    const stays = (_: unknown, index: number): boolean => index !== left.index;
    const numbers = group.trialsMl.map((_, index) => numberAt(group, index));
    return { ...group, trialsMl: group.trialsMl.filter(stays), numbers: numbers.filter(stays) };
  });
}
