/** Whether a balance is fine enough for a piston pipette, before anything is delivered. */
import { finding } from './findings.ts';
import type { VesselFacts } from './record.ts';
import type { Finding } from './result.ts';

export interface BalanceNeed {
  resolutionG: number;
  repeatabilityG: number;
}

/** Nominal volume up to, mL; last digit and repeatability, g. */
const NEEDS: readonly [upToMl: number, resolutionG: number, repeatabilityG: number][] = [
  [0.01, 0.000001, 0.000002],
  [0.1, 0.00001, 0.00002],
  [1, 0.0001, 0.0002],
  [10, 0.0001, 0.0002],
  [200, 0.001, 0.002],
];
const SLACK = 1e-9;

/**
 * Last digit and repeatability in g that a balance should have for a piston pipette of this nominal volume in mL, up to
 * 200 mL. The nominal volume chooses the balance for every setting.
 * @returns null above 200 mL
 * @source common-practice, from memory of the balance table of ISO 8655-6:2002, not checked in it
 */
export function balanceNeed(nominalMl: number): BalanceNeed | null {
  const row = NEEDS.find(([upToMl]) => nominalMl <= upToMl * (1 + SLACK));
  return row === undefined ? null : { resolutionG: row[1], repeatabilityG: row[2] };
}

const mg = (grams: number): string => `${Number((grams * 1000).toPrecision(6))} mg`;

/**
 * What is too coarse about a balance for a piston pipette; none for other ware, and none about what is not known of it.
 * @param balance its last digit and repeatability, g
 * @source common-practice, from memory of the balance table of ISO 8655-6:2002, not checked in it
 */
export function balanceFindings(
  { kind, nominalVolumeMl }: Pick<VesselFacts, 'kind' | 'nominalVolumeMl'>,
  balance: { resolutionG: number | null; repeatabilityG: number | null },
): Finding[] {
  const need = kind === 'piston-pipette' ? balanceNeed(Number(nominalVolumeMl)) : null;
  if (need === null) return [];
  const isCoarser = (own: number | null, needed: number): own is number => own !== null && own > needed * (1 + SLACK);
  const seen = [
    ...(isCoarser(balance.resolutionG, need.resolutionG) ? [`shows steps of ${mg(balance.resolutionG)}`] : []),
    ...(isCoarser(balance.repeatabilityG, need.repeatabilityG) ? [`repeats to ${mg(balance.repeatabilityG)}`] : []),
  ];
  if (seen.length === 0) return [];
  const wanted = `steps of ${mg(need.resolutionG)} and a repeatability of ${mg(need.repeatabilityG)}`;
  const detail =
    `This balance ${seen.join(' and ')}. A piston pipette of ${nominalVolumeMl} mL wants ${wanted} ` +
    '(ISO 8655-6:2002 from memory, not checked in print).';
  return [finding('balance-too-coarse', detail)];
}
