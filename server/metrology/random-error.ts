import type { VesselFacts } from './record.ts';
import type { RandomError, Verdict } from './result.ts';
import type { ToleranceRow } from './tolerance-row.ts';
import { vesselVerdict } from './verdict.ts';

/** Share of the limit within which two numbers count as equal. */
const SLACK = 1e-9;

/**
 * Random limit of a piston pipette in mL: that of its nominal volume holds at every setting.
 * @param row of the standard the pipette names; a systematic limit marked on it leaves the random one in force
 * @returns null for other ware, and where the standard is not known
 * @source iso-8655-2-2002, maximum permissible errors; per cent is of the nominal volume
 */
export function randomLimitMl(
  vessel: Pick<VesselFacts, 'kind' | 'nominalVolumeMl'>,
  row: ToleranceRow | null,
): number | null {
  if (vessel.kind !== 'piston-pipette' || row === null) return null;
  if (row.randomMl !== undefined) return row.randomMl;
  return row.randomPercent === undefined ? null : (Number(vessel.nominalVolumeMl) * row.randomPercent) / 100;
}

/**
 * Whether the spread of single deliveries keeps the random limit; equality is inside. The spread is compared as it is:
 * the standard takes no uncertainty off it. One delivery shows no spread and decides nothing.
 * @param sdMl standard deviation of the counted trials, mL; null below two
 * @source iso-8655-2-2002, maximum permissible random error
 */
export function judgeRandom(sdMl: number | null, limitMl: number): RandomError['verdict'] {
  if (sdMl === null) return 'not-decidable';
  return sdMl <= limitMl * (1 + SLACK) ? 'pass' : 'fail';
}

/**
 * Verdict of a piston pipette at one setting: systematic error by the rule of the calibration, random error against its
 * own limit, both within; the graver of the two.
 * @source iso-8655-2-2002, both errors within their limits
 */
export function jointVerdict(systematic: Verdict, random: RandomError['verdict']): Verdict {
  return vesselVerdict([systematic, random]) ?? systematic;
}
