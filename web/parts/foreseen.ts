/** What a foreseen uncertainty means for a set-up, and what would improve it. */
import type { Calibration, CapabilityOnWire } from '../../server/calibrations/contract.ts';
import type { StripData } from '../plots/tolerance-strip.ts';

export type ForeseenPoint = CapabilityOnWire['points'][number];

/** The point that is hardest to decide: the largest U over T; without a tolerance the first. */
export const hardestPoint = (capability: CapabilityOnWire): ForeseenPoint | undefined =>
  capability.points.reduce<ForeseenPoint | undefined>(
    (worst, point) => (worst === undefined || (point.ratio ?? 0) > (worst.ratio ?? 0) ? point : worst),
    undefined,
  );

/** The empty strip, with the part of the band in which a mean could pass. */
export const emptyStrip = (point: ForeseenPoint): StripData => ({
  nominalMl: Number(point.pointMl),
  toleranceMl: point.toleranceMl,
  guardedMl: point.passPossibleWithinMl,
  volumesMl: [],
});

export const isAboveThird = (ratio: number | null): boolean => ratio !== null && ratio > 1 / 3;

export type Help =
  | { help: 'trials'; count: number }
  | { help: 'balance'; tag: string; expandedUncertaintyMl: number }
  | { help: 'pooled' | 'spread' | 'balanceFiner' | 'temperature' | 'air' | 'meniscus' | 'tolerance' };

const HELP_BY_COMPONENT: readonly [
  beginning: string,
  help: 'spread' | 'balanceFiner' | 'temperature' | 'air' | 'meniscus',
][] = [
  ['repeatability', 'spread'],
  ['balance-', 'balanceFiner'],
  ['water-temperature', 'temperature'],
  ['air-', 'air'],
  ['meniscus', 'meniscus'],
];

/** What would let this point be decided, the surest first. */
export function helpsFor(point: ForeseenPoint, balanceId: string): Help[] {
  const { trialsForDecision, plannedTrials, largestComponent, repeatability, balances } = point;
  const better = balances
    .filter(({ id, does }) => does && id !== balanceId)
    .sort((one, other) => one.expandedUncertaintyMl - other.expandedUncertaintyMl)[0];
  const found = HELP_BY_COMPONENT.find(([beginning]) => largestComponent.startsWith(beginning));
  return [
    ...(trialsForDecision !== null && trialsForDecision > plannedTrials
      ? [{ help: 'trials' as const, count: trialsForDecision }]
      : []),
    ...(better
      ? [{ help: 'balance' as const, tag: better.tag, expandedUncertaintyMl: better.expandedUncertaintyMl }]
      : []),
    ...(plannedTrials === 1 && repeatability.kind !== 'pooled' ? [{ help: 'pooled' as const }] : []),
    ...(found ? [{ help: found[1] }] : []),
    { help: 'tolerance' as const },
  ];
}

/** Whether the pooled spread is that of the other vessels of the lot, and not of earlier calibrations. */
export const isPooledOverLot = ({ repeatability }: Pick<Calibration, 'repeatability'>): boolean =>
  repeatability.use === 'pooled' && repeatability.over === 'lot';
