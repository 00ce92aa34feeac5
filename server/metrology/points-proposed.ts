import { numberOf } from './decimal.ts';
import type { DecimalText, VesselFacts, VesselKind } from './record.ts';

/** Test points worth offering for a vessel, and which of them are proposed. */
export interface ProposedPoints {
  offered: DecimalText[];
  proposed: DecimalText[];
}

const GRADUATED: ReadonlySet<VesselKind> = new Set(['graduated-pipette', 'burette', 'measuring-cylinder']);
/**
 * Ware with a scale, judged at several points and by the difference of their errors.
 * @source iso-4788-2005, the limit holds at every point and for the difference of any two errors
 */
export const isGraduated = (kind: VesselKind): boolean => GRADUATED.has(kind);

const OFFERED_SHARES = [1, 0.8, 0.6, 0.5, 0.4, 0.2, 0.1];
const PROPOSED_SHARES = [1, 0.5, 0.1];

function shareOf(nominalMl: DecimalText, share: number): DecimalText {
  return share === 1 ? nominalMl : String(Number((numberOf(nominalMl) * share).toPrecision(10)));
}

/**
 * Test points from practice. Piston pipettes: 100, 50 and 10 % of the nominal volume. Graduated ware: the same, and
 * fifths besides; in use at least half of the capacity should be drawn. Listed marks are all points; one-mark ware has
 * its mark.
 * @returns volumes in mL as decimal text, largest first except for listed marks
 * @source common-practice, full, half and a tenth of a scale
 * @source ukas-lab-15-2009, graduated ware at several points, at least half of the capacity in use
 * @source iso-8655-2-2002, piston pipettes at 10, 50 and 100 %
 */
export function proposePoints(vessel: Pick<VesselFacts, 'kind' | 'nominalVolumeMl' | 'marks'>): ProposedPoints {
  const { kind, nominalVolumeMl, marks } = vessel;
  const at = (shares: readonly number[]) => shares.map((share) => shareOf(nominalVolumeMl, share));
  if (marks != null && marks.length > 0) return { offered: [...marks], proposed: [...marks] };
  if (kind === 'piston-pipette') return { offered: at(PROPOSED_SHARES), proposed: at(PROPOSED_SHARES) };
  if (isGraduated(kind)) return { offered: at(OFFERED_SHARES), proposed: at(PROPOSED_SHARES) };
  return { offered: [nominalVolumeMl], proposed: [nominalVolumeMl] };
}
