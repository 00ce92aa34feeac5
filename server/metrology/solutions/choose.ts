import type { Basis, VesselKind } from '../record.ts';
import { oneUseUncertaintyMl } from './vessel-in-use.ts';
import type { VesselInUse } from './vessel-in-use.ts';

/** What a volume is wanted for. */
export const SOLUTION_JOBS = ['make-up', 'portion', 'any-portion', 'titrate', 'hold'] as const;
export type SolutionJob = (typeof SOLUTION_JOBS)[number];

export interface Wanted {
  job: SolutionJob;
  volumeMl: number;
  /** Wanted accuracy ±, per cent of the volume; null where none is asked for. */
  accuracyPercent: number | null;
  /** The solution will be standardised: its volume decides nothing. */
  standardised: boolean;
}

export const CHOICE_REASONS = [
  'holds-does-not-deliver',
  'delivers-does-not-hold',
  'never-store',
  'one-mark',
  'scale-is-no-measure',
  'measures-density',
  'too-small',
  'other-volume',
  'too-coarse',
  'too-uncertain',
  'tolerance-too-wide',
  'tolerance-unknown',
  'overdue',
] as const;
export type SolutionChoiceReason = (typeof CHOICE_REASONS)[number];

/** Needs of a job, and the kinds that meet it from the cheapest on. */
export interface Needs {
  basis: Basis | null;
  kinds: readonly VesselKind[];
}

const NEEDS: Record<SolutionJob, Needs> = {
  'make-up': { basis: 'contain', kinds: ['measuring-cylinder', 'volumetric-flask'] },
  portion: {
    basis: 'deliver',
    kinds: ['measuring-cylinder', 'graduated-pipette', 'single-volume-pipette', 'burette', 'piston-pipette'],
  },
  'any-portion': { basis: 'deliver', kinds: ['measuring-cylinder', 'graduated-pipette', 'burette', 'piston-pipette'] },
  titrate: { basis: 'deliver', kinds: ['burette'] },
  hold: { basis: null, kinds: ['beaker', 'conical-flask'] },
};

/** What a job needs of a vessel. */
export function needsOf(job: SolutionJob): Needs {
  return NEEDS[job];
}

const GRADUATED: ReadonlySet<VesselKind> = new Set([
  'graduated-pipette',
  'burette',
  'measuring-cylinder',
  'piston-pipette',
]);

/**
 * Kinds for a job, from the cheapest to the dearest, and why each of the others is not for it.
 * @source common-practice, the trade's choice of ware
 */
export function kindsFor(job: SolutionJob): { kind: VesselKind; against: SolutionChoiceReason | null }[] {
  const { kinds } = NEEDS[job];
  const others = (Object.keys(AGAINST) as (keyof typeof AGAINST)[]).filter((kind) => !kinds.includes(kind));
  return [
    ...kinds.map((kind) => ({ kind, against: null })),
    ...others.map((kind) => ({ kind, against: AGAINST[kind](job) })),
  ];
}

/** Why a kind is not for a job it is not listed for. */
const AGAINST: Record<Exclude<VesselKind, 'other'>, (job: SolutionJob) => SolutionChoiceReason> = {
  'volumetric-flask': (job) => (job === 'hold' ? 'never-store' : 'holds-does-not-deliver'),
  'single-volume-pipette': (job) => (job === 'make-up' || job === 'hold' ? 'delivers-does-not-hold' : 'one-mark'),
  'graduated-pipette': (job) => (job === 'titrate' ? 'too-coarse' : 'delivers-does-not-hold'),
  burette: () => 'delivers-does-not-hold',
  'measuring-cylinder': (job) => (job === 'hold' ? 'never-store' : 'too-coarse'),
  beaker: () => 'scale-is-no-measure',
  'conical-flask': () => 'scale-is-no-measure',
  pycnometer: () => 'measures-density',
  'piston-pipette': (job) => (job === 'titrate' ? 'too-coarse' : 'delivers-does-not-hold'),
};

/** A vessel of the register, seen as a candidate. */
export interface Candidate {
  id: string;
  kind: VesselKind;
  basis: Basis;
  overdue: boolean;
  /** What the vessel holds or delivers as a whole, mL. */
  nominalMl: number;
  /** What one use of it gives at the wanted volume; at the nominal volume where it has one mark. */
  use: VesselInUse;
}

export interface Judged {
  id: string;
  adequate: boolean;
  against: SolutionChoiceReason[];
  /** Standard uncertainty of one use, mL; null where even the tolerance is unknown. */
  oneUseMl: number | null;
}

/** A wanted accuracy may be used up to a third by twice the uncertainty of one use … */
const UNCERTAINTY_SHARE = 1 / 3;
/** … and to a fifth by the tolerance of a vessel nobody calibrated. */
const TOLERANCE_SHARE = 1 / 5;

function accuracyMl({ job, volumeMl, accuracyPercent, standardised }: Wanted): number | null {
  return accuracyPercent === null || standardised || job === 'hold' ? null : (volumeMl * accuracyPercent) / 100;
}

/**
 * Whether a vessel nobody calibrated is good enough: T ≤ A/5; null where no accuracy counts.
 * @source ukas-lab-15-2009, no calibration where the permissible error is at most 1/5 of the accuracy required
 */
export function isWithinTolerance(toleranceMl: number, wanted: Wanted): boolean | null {
  const accuracy = accuracyMl(wanted);
  return accuracy === null ? null : toleranceMl <= TOLERANCE_SHARE * accuracy;
}

/**
 * Whether a standard uncertainty of one use is small enough: 2·u ≤ A/3; null where no accuracy counts.
 * @source common-practice, a third of what is allowed for the uncertainty
 */
export function isWithinUncertainty(uncertaintyMl: number, wanted: Wanted): boolean | null {
  const accuracy = accuracyMl(wanted);
  return accuracy === null ? null : 2 * uncertaintyMl <= UNCERTAINTY_SHARE * accuracy;
}

function againstAccuracy(use: VesselInUse, oneUseMl: number | null, wanted: Wanted): SolutionChoiceReason | null {
  if (accuracyMl(wanted) === null) return null;
  if (oneUseMl === null) return 'tolerance-unknown';
  if (use.measured === null) return isWithinTolerance(use.toleranceMl ?? 0, wanted) ? null : 'tolerance-too-wide';
  return isWithinUncertainty(oneUseMl, wanted) ? null : 'too-uncertain';
}

function againstWare(kind: VesselKind, basis: Basis, job: SolutionJob): SolutionChoiceReason | null {
  const { basis: needed, kinds } = NEEDS[job];
  // A flask marked to deliver is rare, and made for one portion.
  const fits = kinds.includes(kind) || kind === 'other' || (kind === 'volumetric-flask' && basis === needed);
  if (!fits) return AGAINST[kind](job);
  if (needed === null || basis === needed) return null;
  return needed === 'deliver' ? 'holds-does-not-deliver' : 'delivers-does-not-hold';
}

function againstVolume({ kind, nominalMl }: Candidate, { job, volumeMl }: Wanted): SolutionChoiceReason | null {
  if (job === 'hold' || GRADUATED.has(kind)) return nominalMl < volumeMl ? 'too-small' : null;
  return nominalMl === volumeMl ? null : 'other-volume';
}

/**
 * One vessel for a job. It is adequate when its kind and basis fit, it measures the volume, it is in date, and
 * 2·u(one use) ≤ A/3 where calibrated, T ≤ A/5 where not, for a wanted accuracy A. What is standardised anyway needs
 * no accuracy.
 * @throws RangeError when volume or accuracy are not above 0
 * @source ukas-lab-15-2009, no calibration where the permissible error is at most 1/5 of the accuracy required; the
 * share of a third is common practice
 */
export function judgeCandidate(candidate: Candidate, wanted: Wanted): Judged {
  const { volumeMl, accuracyPercent, job } = wanted;
  if (!(volumeMl > 0) || (accuracyPercent !== null && !(accuracyPercent > 0))) {
    throw new RangeError('a choice needs a volume and an accuracy above 0');
  }
  const { id, kind, basis, use, overdue } = candidate;
  const unknown = use.measured === null && use.toleranceMl === null;
  const oneUseMl = unknown ? null : oneUseUncertaintyMl(use);
  const against: SolutionChoiceReason[] = [];
  const ware = againstWare(kind, basis, job);
  if (ware !== null) against.push(ware);
  for (const reason of [againstVolume(candidate, wanted), againstAccuracy(use, oneUseMl, wanted)]) {
    if (reason !== null) against.push(reason);
  }
  if (overdue && job !== 'hold' && !wanted.standardised) against.push('overdue');
  return { id, adequate: against.length === 0, against, oneUseMl };
}

/**
 * Candidates in the order to take them: adequate ones from the cheapest kind and the widest tolerance on, then the
 * others, those with the fewest reasons against them first.
 * @source common-practice, the plainest ware that does is taken
 */
export function rankCandidates(candidates: readonly Candidate[], wanted: Wanted): Judged[] {
  const { kinds } = NEEDS[wanted.job];
  const cost = (kind: VesselKind): number => (kinds.includes(kind) ? kinds.indexOf(kind) : kinds.length);
  const judged = candidates.map((candidate) => ({ candidate, judgement: judgeCandidate(candidate, wanted) }));
  judged.sort((one, other) => {
    const [a, b] = [one.judgement, other.judgement];
    return (
      a.against.length - b.against.length ||
      cost(one.candidate.kind) - cost(other.candidate.kind) ||
      (other.candidate.use.toleranceMl ?? Infinity) - (one.candidate.use.toleranceMl ?? Infinity) ||
      (a.oneUseMl ?? Infinity) - (b.oneUseMl ?? Infinity)
    );
  });
  return judged.map(({ judgement }) => judgement);
}
