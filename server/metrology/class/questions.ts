import { choose } from './choose.ts';
import type { ChoiceReason, Job } from './choose.ts';
import type { RowFigures } from './figures.ts';

/** Why an answer is right, or another is not, as codes; screens word them. */
export const QUESTION_REASONS = [
  'contain-or-deliver',
  'one-mark-or-graduated',
  'other-volume',
  'too-much-spread',
  'biased',
  'too-few-data',
  /** Every row would do. */
  'all-adequate',
  /** The mean lies nearest to the nominal volume. */
  'smallest-bias',
  /** Fillings by anybody lie closest together. */
  'smallest-spread',
  /** The standard allows this ware least. */
  'tightest-limit',
  /** Of s_r and s_L the larger one. */
  'larger-part',
  /** A limit bounds the vessel, not one filling. */
  'limit-bounds-vessel',
] as const;
export type QuestionReason = (typeof QUESTION_REASONS)[number];

/** Reasons about ware for a job, and about the numbers themselves; a question offers the kind its own belong to. */
const ABOUT_WARE: readonly QuestionReason[] = [
  'contain-or-deliver',
  'one-mark-or-graduated',
  'too-much-spread',
  'biased',
  'all-adequate',
];
const ABOUT_NUMBERS: readonly QuestionReason[] = [
  'smallest-bias',
  'smallest-spread',
  'tightest-limit',
  'larger-part',
  'limit-bounds-vessel',
];

/** A job or a statement a group puts itself to, with its right answers. */
export interface Question {
  id: QuestionId;
  /** Key of the one row it is about; null where it is about all. Screens put the row's name beside it. */
  about: string | null;
  /** In plain words, with the numbers of this class. */
  ask: string;
  /** Keys of rows, or of the answers a statement offers; `none` stands for no ware of the class. */
  options: string[];
  /** Every option that is right; at least one. */
  right: string[];
  /** Reasons that hold; at least one. */
  reasons: QuestionReason[];
  /** Why each row that is not right is not; empty for statements. */
  against: { key: string; codes: ChoiceReason[] }[];
}

export const QUESTION_IDS = [
  'make-up-solution',
  'deliver-portion',
  'titrate',
  'odd-volume',
  'acid-bath',
  'rinse',
  'pour-out-flask',
  'nearest-to-true',
  'closest-together',
  'tightest-limit',
  'larger-part',
  'filling-outside',
] as const;
export type QuestionId = (typeof QUESTION_IDS)[number];

type Maker = (id: QuestionId, rows: readonly RowFigures[], volumeMl: number) => Question | null;

const NONE = 'none';

/** The nominal volume that most rows share; the first of equals. */
function usualVolumeMl(rows: readonly RowFigures[]): number {
  const counts = new Map<number, number>();
  for (const { nominalMl } of rows) counts.set(nominalMl, (counts.get(nominalMl) ?? 0) + 1);
  let [usual, most] = [rows[0]?.nominalMl ?? 0, 0];
  for (const [volume, count] of counts) if (count > most) [usual, most] = [volume, count];
  return usual;
}

/** Which ware for a job; right are all adequate rows, `none` where there is none. */
function ware(jobOf: (volumeMl: number) => Job, words: (volumeMl: number) => string): Maker {
  return (id, rows, volumeMl) => {
    const { ranked } = choose(rows, jobOf(volumeMl));
    const adequate = ranked.filter((choice) => choice.adequate).map((choice) => choice.key);
    const against = ranked
      .filter((choice) => !choice.adequate)
      .map(({ key, reasons }) => ({ key, codes: reasons.map((reason) => reason.code) }));
    const codes = [...new Set(against.flatMap((one) => one.codes))];
    return {
      id,
      about: null,
      ask: words(volumeMl),
      options: [...rows.map((row) => row.key), NONE],
      right: adequate.length > 0 ? adequate : [NONE],
      reasons: codes.length > 0 ? codes : ['all-adequate'],
      against,
    };
  };
}

/** Which row has the smallest of a number; rows without it are no option, and two rows at least must have it. */
function smallest(numberOf: (row: RowFigures) => number | null, reason: QuestionReason, ask: string): Maker {
  return (id, rows) => {
    const known = rows.flatMap((row) => {
      const value = numberOf(row);
      return value === null ? [] : [{ key: row.key, value }];
    });
    if (known.length < 2) return null;
    const least = Math.min(...known.map((one) => one.value));
    const right = known.filter((one) => one.value === least).map((one) => one.key);
    return { id, about: null, ask, options: known.map((one) => one.key), right, reasons: [reason], against: [] };
  };
}

/** The tightest limit a standard gives the ware of a row, relative to its volume. */
function tightestLimit(row: RowFigures): number | null {
  const own = row.limits.filter((limit) => limit.name !== 'marked' && limit.name !== 'stated');
  return own.length === 0 ? null : Math.min(...own.map((limit) => limit.toleranceMl)) / row.nominalMl;
}

const relative = (value: number | null) => (value === null ? null : Math.abs(value));

/** s_r against s_L in the row with most groups; left out while either is unknown or both are equal. */
const largerPart: Maker = (id, rows) => {
  const known = rows.filter((row) => row.repeatabilitySdMl !== null && row.betweenSdMl !== null);
  const [row] = [...known].sort((one, other) => other.groups - one.groups);
  if (row === undefined || row.repeatabilitySdMl === row.betweenSdMl) return null;
  const within = (row.repeatabilitySdMl ?? 0) > (row.betweenSdMl ?? 0);
  return {
    id,
    about: row.key,
    ask: 'Which is larger here, the spread within a group or the spread between groups?',
    options: ['within-group', 'between-groups'],
    right: [within ? 'within-group' : 'between-groups'],
    reasons: ['larger-part'],
    against: [],
  };
};

/** Fillings outside a limit of the standard; asked of the first row that has some. */
const fillingOutside: Maker = (id, rows) => {
  for (const { key, limits } of rows) {
    const limit = limits.find(({ fillings }) => fillings.n > 0 && fillings.within < fillings.n);
    if (limit === undefined) continue;
    const { n, within } = limit.fillings;
    return {
      id,
      about: key,
      ask: `${n - within} of ${n} fillings lie outside ±${limit.toleranceMl} mL (${limit.source}). Does the ware break its limit?`,
      options: ['yes', 'no', 'fillings-cannot-say'],
      right: ['fillings-cannot-say'],
      reasons: ['limit-bounds-vessel'],
      against: [],
    };
  }
  return null;
};

/** Water stays on the wall of what is poured out: common practice, no source. */
const pourOut: Maker = (id, rows, volumeMl) =>
  rows.some((row) => row.basis === 'contain')
    ? {
        id,
        about: null,
        ask: `A vessel that holds ${volumeMl} mL at its mark (marked In or TC) is poured out. How much arrives?`,
        options: ['less', 'as-marked', 'more'],
        right: ['less'],
        reasons: ['contain-or-deliver'],
        against: [],
      }
    : null;

/** Jobs and wanted accuracies are our own, of the size a school laboratory asks for. */
const MAKERS: Record<QuestionId, Maker> = {
  'make-up-solution': ware(
    (volumeMl) => ({ need: 'contain', volumeMl, volume: 'fixed', accuracy: { percent: 0.3 } }),
    (volume) => `A standard solution is made up to ${volume} mL, right to 0.3 %. In which ware?`,
  ),
  'deliver-portion': ware(
    (volumeMl) => ({ need: 'deliver', volumeMl, volume: 'fixed', accuracy: { percent: 0.3 } }),
    (volume) => `A sample of ${volume} mL goes into a flask, right to 0.3 %. With which ware?`,
  ),
  titrate: ware(
    (volumeMl) => ({ need: 'deliver', volumeMl, volume: 'any', accuracy: { percent: 0.5 } }),
    (volume) => `A titration takes some volume up to ${volume} mL, read to 0.5 % of that. With which ware?`,
  ),
  'odd-volume': ware(
    (volumeMl) => ({ need: 'deliver', volumeMl: 0.7 * volumeMl, volume: 'any', accuracy: null }),
    (volume) =>
      `${Number((0.7 * volume).toPrecision(3))} mL are to be measured and poured out. Which ware can do that?`,
  ),
  'acid-bath': ware(
    (volumeMl) => ({ need: 'deliver', volumeMl, volume: 'any', accuracy: { percent: 5 } }),
    (volume) => `${volume} mL of dilute acid are poured into a bath, right to 5 %. Which ware will do?`,
  ),
  rinse: ware(
    (volumeMl) => ({ need: 'hold', volumeMl, volume: 'any', accuracy: null }),
    (volume) => `About ${volume} mL of water are kept at hand for rinsing. Which ware will do?`,
  ),
  'pour-out-flask': pourOut,
  'nearest-to-true': smallest(
    (row) => relative(row.relative.biasPercent),
    'smallest-bias',
    'Which ware has the mean nearest to its nominal volume, in per cent?',
  ),
  'closest-together': smallest(
    (row) => relative(row.relative.withinRoomPercent),
    'smallest-spread',
    'Whose fillings, by anybody in the room, lie closest together, in per cent?',
  ),
  'tightest-limit': smallest(
    tightestLimit,
    'tightest-limit',
    'Which ware may by its standard be off least, in per cent?',
  ),
  'larger-part': largerPart,
  'filling-outside': fillingOutside,
};

/**
 * The questions a class can put itself to, with answers worked out from its own figures and the limits of its ware; a
 * question the data cannot answer is left out.
 * @returns none without rows
 * @source common-practice, jobs and accuracies are our own; ware is chosen as in `choose`
 */
export function questionsFor(rows: readonly RowFigures[]): Question[] {
  if (rows.length === 0) return [];
  const volumeMl = usualVolumeMl(rows);
  return QUESTION_IDS.flatMap((id) => MAKERS[id](id, rows, volumeMl) ?? []);
}

/** An answer held against a question: option and reason apart, since one may be right without the other. */
export function checkAnswer(
  question: Question,
  answer: { option: string; reason: QuestionReason },
): { optionRight: boolean; reasonRight: boolean; against: ChoiceReason[] } {
  return {
    optionRight: question.right.includes(answer.option),
    reasonRight: question.reasons.includes(answer.reason),
    against: question.against.find((one) => one.key === answer.option)?.codes ?? [],
  };
}

/**
 * The reasons to choose from: those that hold, and others of their kind, always in the same order.
 * @source common-practice, which reasons stand beside the right ones is our own choice
 */
export function reasonsToOffer({ reasons }: Question): QuestionReason[] {
  const kind = reasons.some((reason) => ABOUT_NUMBERS.includes(reason)) ? ABOUT_NUMBERS : ABOUT_WARE;
  return QUESTION_REASONS.filter((reason) => reasons.includes(reason) || kind.includes(reason));
}
