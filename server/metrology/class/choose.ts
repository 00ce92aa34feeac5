import { significant } from '../display.ts';
import type { Basis, VesselKind } from '../record.ts';
import type { RowFigures } from './figures.ts';

/** Ware whose scale measures any volume; all other ware holds the one volume of its mark, or only roughly. */
const GRADUATED: ReadonlySet<VesselKind> = new Set(['graduated-pipette', 'burette', 'measuring-cylinder']);
/** Ware with marks for orientation, which measures no volume it is asked for. */
const HOLDS: ReadonlySet<VesselKind> = new Set(['beaker', 'conical-flask', 'other']);
/** Spreads taken on either side: about 95 of 100 fillings of a normal spread. */
const SPREADS = 2;
/** Fewest trials and groups a recommendation leans on; our own choice. */
const FEWEST_TRIALS = 4;
const FEWEST_GROUPS = 2;

/** What the volume is wanted for. */
export interface Job {
  /** `contain`: made up in the vessel; `deliver`: poured out of it; `hold`: the volume matters little. */
  need: Basis | 'hold';
  volumeMl: number;
  /** One fixed volume, or any that comes up. */
  volume: 'fixed' | 'any';
  /** Wanted accuracy ±, in mL or in per cent of the volume; null where none is asked for. */
  accuracy: { ml: number } | { percent: number } | null;
}

export type ChoiceReason =
  'contain-or-deliver' | 'one-mark-or-graduated' | 'other-volume' | 'too-much-spread' | 'biased' | 'too-few-data';

export interface Choice {
  key: string;
  adequate: boolean;
  /** Why not; empty for an adequate row. */
  reasons: { code: ChoiceReason; detail: string }[];
  biasMl: number | null;
  withinRoomSdMl: number | null;
  /** |bias| + 2·s_R, mL. */
  reachMl: number | null;
  /** Wanted accuracy, mL. */
  wantedMl: number | null;
}

export interface Chosen {
  /** Adequate rows first, then the others, each from the smallest reach to the largest; unknown reach last. */
  ranked: Choice[];
  /** The row to take; null when none is adequate. */
  best: string | null;
}

function wantedOf(job: Job): number | null {
  if (job.accuracy === null || job.need === 'hold') return null;
  return 'ml' in job.accuracy ? job.accuracy.ml : (job.volumeMl * job.accuracy.percent) / 100;
}

function mL(value: number): string {
  return `${significant(value, 2)} mL`;
}

function reasonsOfWare(row: RowFigures, job: Job): Choice['reasons'] {
  const { kind, basis, nominalMl } = row;
  const reasons: Choice['reasons'] = [];
  const add = (code: ChoiceReason, detail: string) => reasons.push({ code, detail });
  if (job.need === 'hold') {
    if (nominalMl < job.volumeMl) add('other-volume', `It holds ${nominalMl} mL, ${job.volumeMl} mL are wanted.`);
    return reasons;
  }
  if (basis !== job.need) {
    const words = { contain: 'what it holds', deliver: 'what it pours out' };
    add('contain-or-deliver', `The class measured ${words[basis]}; wanted is ${words[job.need]}.`);
  }
  const scale = GRADUATED.has(kind) || kind === 'piston-pipette';
  if (job.volume === 'any' && !scale) {
    const detail = HOLDS.has(kind) ? 'Its marks are for orientation only.' : 'It has one mark and measures one volume.';
    add('one-mark-or-graduated', detail);
  } else if (scale ? nominalMl < job.volumeMl : nominalMl !== job.volumeMl) {
    add('other-volume', `It measures ${nominalMl} mL, ${job.volumeMl} mL are wanted.`);
  }
  return reasons;
}

/** Which of the two parts is too large; both when neither alone is. */
function reasonsOfReach(biasMl: number, withinRoomSdMl: number, wantedMl: number): Choice['reasons'] {
  const [off, spread] = [Math.abs(biasMl), SPREADS * withinRoomSdMl];
  if (off + spread <= wantedMl) return [];
  const reasons: Choice['reasons'] = [];
  if (off > wantedMl || off >= spread) {
    reasons.push({ code: 'biased', detail: `Its mean is ${mL(off)} off, ±${mL(wantedMl)} are wanted.` });
  }
  if (spread > wantedMl || spread >= off) {
    const detail = `Fillings spread by ±${mL(spread)} (2·s_R), ±${mL(wantedMl)} are wanted.`;
    reasons.push({ code: 'too-much-spread', detail });
  }
  return reasons;
}

function choiceOf(row: RowFigures, job: Job): Choice {
  const { key, biasMl, withinRoomSdMl, n, groups } = row;
  const wantedMl = wantedOf(job);
  const known = biasMl !== null && withinRoomSdMl !== null;
  const reasons = reasonsOfWare(row, job);
  if (wantedMl !== null && (!known || n < FEWEST_TRIALS || groups < FEWEST_GROUPS)) {
    const detail = `${n} ${n === 1 ? 'trial' : 'trials'} of ${groups} ${groups === 1 ? 'group' : 'groups'}; a recommendation needs ${FEWEST_TRIALS} of ${FEWEST_GROUPS}.`;
    reasons.push({ code: 'too-few-data', detail });
  }
  if (wantedMl !== null && known) reasons.push(...reasonsOfReach(biasMl, withinRoomSdMl, wantedMl));
  const reachMl = known ? Math.abs(biasMl) + SPREADS * withinRoomSdMl : null;
  return { key, adequate: reasons.length === 0, reasons, biasMl, withinRoomSdMl, reachMl, wantedMl };
}

/**
 * Which ware to take for a job, by what the class itself measured: adequate when it fits the job and |bias| + 2·s_R is
 * within the wanted accuracy. The criterion is our own. It adds trueness and precision as they add up in the worst
 * common case: s_R, since the next filling may be by anybody in the room; twice, which holds about 95 of 100 fillings
 * of a normal spread; the bias in full, since the ware is used uncorrected.
 * @throws RangeError when the volume or the wanted accuracy is not above 0
 * @source iso-5725-1-2023, accuracy as trueness and precision together; the sum of both is our own
 */
export function choose(rows: readonly RowFigures[], job: Job): Chosen {
  const wanted = wantedOf(job);
  if (!(job.volumeMl > 0) || (wanted !== null && !(wanted > 0))) {
    throw new RangeError('choose needs a volume and an accuracy above 0');
  }
  const far = (choice: Choice) => choice.reachMl ?? Number.POSITIVE_INFINITY;
  const order = (one: Choice, other: Choice) => {
    if (one.adequate !== other.adequate) return one.adequate ? -1 : 1;
    return far(one) === far(other) ? 0 : far(one) - far(other);
  };
  const ranked = rows.map((row) => choiceOf(row, job)).sort(order);
  const [first] = ranked;
  return { ranked, best: first?.adequate === true ? first.key : null };
}
