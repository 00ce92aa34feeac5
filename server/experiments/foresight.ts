/** What a plan takes in time, and whether its balances are fine enough for its rows. Pure. */
import { numberOf } from '../metrology/decimal.ts';
import type { ExperimentPlan, Foresight } from './contract.ts';
import { wareOf, wareToleranceMl } from './ware-facts.ts';

/** From one reading to the next at one balance, a class at work; common practice, no source. */
const SECONDS_PER_WEIGHING = 30;
/** Empty and full. */
const WEIGHINGS_PER_TRIAL = 2;
/** The uncertainty may be a third of the tolerance before it disturbs a judgement, as for calibrations. */
const LARGEST_SHARE = 1 / 3;

type Plan = Pick<ExperimentPlan, 'rows' | 'balances' | 'expectedGroups' | 'lessonMinutes'>;

const weighingsOf = ({ rows, expectedGroups }: Plan, most: number): number =>
  rows.reduce((sum, row) => sum + Math.min(row.trialsPerGroup, most), 0) * expectedGroups * WEIGHINGS_PER_TRIAL;

const minutesOf = (plan: Plan, most: number): number =>
  (weighingsOf(plan, most) * SECONDS_PER_WEIGHING) / plan.balances.length / 60;

/** As many trials for each group as fit, taken from the rows with most first; one of each row at least. */
const proposalOf = (plan: Plan): Foresight['proposal'] => {
  const largest = Math.max(...plan.rows.map((row) => row.trialsPerGroup));
  let most = largest;
  while (most > 1 && minutesOf(plan, most) > plan.lessonMinutes) most -= 1;
  return {
    trialsPerGroup: plan.rows.map(({ key, trialsPerGroup }) => ({ key, trials: Math.min(trialsPerGroup, most) })),
    minutes: minutesOf(plan, most),
    fits: minutesOf(plan, most) <= plan.lessonMinutes,
  };
};

/**
 * Expanded uncertainty in mL that the last digit d of a balance alone gives to a volume: two readings, each rounded,
 * rectangular, k = 2: 2·d/√6, one gram for one millilitre.
 * @source jcgm-100-2008, F.2.2.1 for the resolution of a display
 */
export const resolutionUncertaintyMl = (resolutionG: number): number => (2 * resolutionG) / Math.sqrt(6);

const tooCoarseIn = (plan: Plan): Foresight['tooCoarse'] =>
  plan.rows.flatMap((row) => {
    const toleranceMl = wareToleranceMl(wareOf({ conditions: {}, balances: [] }, row, null));
    if (toleranceMl === null) return [];
    return plan.balances.flatMap(({ label, resolutionG }) => {
      if (resolutionG === undefined) return [];
      const expandedUncertaintyMl = resolutionUncertaintyMl(numberOf(resolutionG));
      if (expandedUncertaintyMl <= toleranceMl * LARGEST_SHARE) return [];
      return [{ row: row.key, balance: label, expandedUncertaintyMl, toleranceMl }];
    });
  });

/** Minutes = weighings × 30 s ÷ balances; fewer trials where that is longer than the lesson; balances too coarse. */
export const foresightOf = (plan: Plan): Foresight => {
  const weighings = weighingsOf(plan, Number.POSITIVE_INFINITY);
  const minutes = minutesOf(plan, Number.POSITIVE_INFINITY);
  const fits = minutes <= plan.lessonMinutes;
  return {
    weighings,
    minutes,
    fits,
    proposal: fits ? null : proposalOf(plan),
    balancesNeeded: Math.max(1, Math.ceil((weighings * SECONDS_PER_WEIGHING) / (plan.lessonMinutes * 60))),
    tooCoarse: tooCoarseIn(plan),
  };
};
