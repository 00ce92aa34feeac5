/** Text about what can be decided: before the first weighing, while weighing, and of a result. */
import type { DecisionRule } from '../../server/metrology/record.ts';
import { plural } from './en.ts';

const trials = (count: number) => plural(count, { one: '1 trial', other: `${count} trials` });

export const capabilityText = {
  title: 'What this set-up can decide',
  what: 'the foreseen uncertainty',
  waiting: 'Choose points and a number of trials; then it is worked out here.',
  foreseen: (u: string, t: string) => `U ≈ ${u} mL of T ${t} mL`,
  foreseenAlone: (u: string) => `U ≈ ${u} mL`,
  ratio: (percent: string) => `${percent} % of T`,
  noTolerance: 'No tolerance is stated, so there is nothing to decide; the volume is measured with this uncertainty.',
  passWithin: (bias: string) => `It can decide. A vessel passes with a bias of up to ±${bias} mL.`,
  passSimple: 'It can decide. Under the simple rule the value alone counts, up to the limit itself.',
  aboveThird: (percent: string) => `U is ${percent} % of T, more than a third: vessels near the limit stay in doubt.`,
  cannot: (u: string, t: string) =>
    `This set-up cannot decide this tolerance: U ≈ ${u} mL is not smaller than T ${t} mL. Only a vessel far outside would be found out.`,
  cannotWithOne:
    'This set-up cannot decide this tolerance: a single trial shows no spread of its own. Only a vessel far outside would be found out.',
  cannotRandom: (limit: string) =>
    `This set-up cannot decide the random error: the weighing itself may spread more than the limit of ${limit} mL. A finer balance would do.`,
  stripLabel: (u: string, t: string, pass: string) =>
    `Foreseen: U ${u} mL takes from the tolerance ±${t} mL all but ±${pass} mL.`,
  stripLabelAll: (u: string, t: string) => `Foreseen: U ${u} mL takes the whole tolerance ±${t} mL.`,
  eaten: 'dark: where a mean passes; pale: what U takes away',
  eatenAll: 'U takes the whole band: nowhere would a mean pass',
  largest: (component: string, percent: string) => `Largest part: ${component}, ${percent} %.`,
  trialsForThird: (count: number) => `U ≤ T/3 from ${trials(count)}`,
  noneForThird: 'U ≤ T/3 not within 20 trials',
  trialsForDecision: (count: number) => `U < T from ${trials(count)}`,
  noneForDecision: 'U < T not within 20 trials',
  balances: 'Balances in the register',
  balancesWhat: 'All else as chosen here.',
  balance: 'Balance',
  uncertainty: 'U mL',
  would: 'would do',
  wouldNot: 'would not',
  chosen: 'chosen',
  helpsTitle: 'What would help',
  helps: {
    trials: (count: number) => `Plan at least ${trials(count)}.`,
    balance: (tag: string, u: string) => `Weigh with ${tag}: U ≈ ${u} mL.`,
    pooled: 'Take the pooled spread of earlier calibrations.',
    spread: 'More trials, or a steadier setting of the meniscus: the spread is the largest part.',
    balanceFiner: 'A finer balance, or its certificate entered: the weighing is the largest part.',
    temperature: 'A thermometer with a certificate, well stirred water: its temperature is the largest part.',
    air: 'Read the air at the balance: what is assumed of it is the largest part.',
    meniscus:
      'The diameter at the mark entered for the vessel: the setting of the meniscus is the largest part, and no balance changes that.',
    tolerance: 'A wider tolerance class, where the use allows it.',
  },
  goOnReason: 'Why it is begun all the same',
  goOnHelp: 'Kept in the note of the calibration, for whoever reads “not decidable” later.',
  goOnMissing: 'This set-up cannot decide the tolerance. Change it, or say why it is begun all the same.',
  goOnNote: (reason: string) => `Begun with a set-up that cannot decide the tolerance: ${reason}`,
  points: 'Foreseen at each test point',
  point: 'Point mL',
  share: 'U/T',
  third: 'U ≤ T/3 from',
  decision: 'U < T from',
  largestColumn: 'Largest part',
  notWithin: '> 20',
  shortCan: 'can decide',
  shortCannot: 'cannot decide',
  spreadTitle: 'Spread that counts',
  spreadHelp: 'Chosen before the first trial.',
  own: 'of these trials',
  ownHelp: (u: string) => `Foreseen from balance and mark: U ≈ ${u} mL.`,
  ownHelpAlone: 'Needs no past, and a good number of trials.',
  pooled: 'pooled from the record',
  pooledHelp: (s: string, freedom: number, u: string) =>
    `Earlier calibrations of the same kind, volume, basis and balance: s_p ${s} mL with ${freedom} degrees of freedom. U ≈ ${u} mL.`,
  pooledNone:
    'The record has fewer than ten degrees of freedom for this kind, volume, basis and balance; until then the spread of these trials counts.',
  pooledUnknown: 'Of the same kind, volume, basis and balance, from ten degrees of freedom on.',
  predictedFrom: (s: string) => `Spread of a single trial foreseen from balance and mark: ${s} mL.`,
  pooledFrom: (s: string, freedom: number) =>
    `Pooled spread of a single trial: ${s} mL, ${freedom} degrees of freedom.`,
  pooledFromMany: (s: string, freedom: number, calibrations: number) =>
    plural(calibrations, {
      one: `Pooled spread of a single trial: ${s} mL, ${freedom} degrees of freedom from 1 earlier calibration.`,
      other: `Pooled spread of a single trial: ${s} mL, ${freedom} degrees of freedom from ${calibrations} earlier calibrations.`,
    }),
  pooledOverLot: (s: string, freedom: number, others: number) =>
    plural(others, {
      one: `Spread of a single trial, pooled over the lot: ${s} mL, ${freedom} degrees of freedom from 1 other vessel.`,
      other: `Spread of a single trial, pooled over the lot: ${s} mL, ${freedom} degrees of freedom from ${others} other vessels.`,
    }),
};

export const ruleText: Record<DecisionRule, { name: string; risk: string }> = {
  guarded: {
    name: 'guarded',
    risk: 'A pass needs the whole uncertainty inside the tolerance. A vessel that passes is wrong at most about once in forty, at the edge; nearer the middle far more rarely. A vessel near the limit gets a conditional word.',
  },
  simple: {
    name: 'simple',
    risk: 'The value alone decides, where U is at most a third of T. A vessel exactly at the limit is passed or failed wrongly up to half the time.',
  },
};

export const pointBudgetText = {
  caption: (pointMl: string) => `Components of the uncertainty at ${pointMl} mL`,
  componentAndSource: 'Component, and where it is from',
  value: 'Value',
  standard: 'u',
  distribution: 'Distribution',
  sensitivity: 'Sensitivity',
  distributions: { t: 'Student t', normal: 'normal', rectangular: 'rectangular', none: 'none' } as Record<
    string,
    string
  >,
  combined: 'Together, u_c',
  freedom: 'Degrees of freedom',
  factor: (percent: string) => `k for ${percent} %`,
  expanded: 'U = k · u_c',
  ofTheMean: 'U is the uncertainty of the mean volume; a single filling scatters by s as well.',
  ofOneUse: (u: string) => `One use of the vessel has the standard uncertainty ${u} mL.`,
  pool: (s: string, freedom: number, calibrations: number) =>
    plural(calibrations, {
      one: `Pooled spread ${s} mL with ${freedom} degrees of freedom, from 1 earlier calibration.`,
      other: `Pooled spread ${s} mL with ${freedom} degrees of freedom, from ${calibrations} earlier calibrations.`,
    }),
  poolOverLot: (s: string, freedom: number, others: number) =>
    plural(others, {
      one: `Spread pooled over the lot: ${s} mL with ${freedom} degrees of freedom, from 1 other vessel.`,
      other: `Spread pooled over the lot: ${s} mL with ${freedom} degrees of freedom, from ${others} other vessels.`,
    }),
  noTolerance: 'No tolerance is stated: mean and uncertainty are given, and no verdict.',
  verdict: 'Verdict',
  meets: (toleranceClass: string) => `capacity within the limits of class ${toleranceClass}`,
  ratio: 'U against T',
  ratioIs: (percent: string, u: string, t: string) => `${percent} % (${u} of ${t} mL)`,
  aboveThird: 'More than a third of the tolerance: vessels near the limit stay in doubt.',
  conformity: 'Probability of conformity',
  conformityIs: 'that the true error lies within the tolerance',
  rule: 'Decision rule',
  difference: 'Between points',
  differenceIs: (value: string, u: string) => `errors differ by ${value} mL at most, U ${u} mL`,
};

export const refereeText = {
  title: 'Referee',
  what: 'Draws every input at random from its own distribution, works out the volume each time, and compares the spread of the results with the budget. Nothing is stored.',
  run: 'Run the referee',
  again: 'Run again with another seed',
  running: 'Drawing …',
  tooFew:
    'Too few readings: with three trials or fewer, and no pooled spread, draws say nothing that the budget does not. From four trials on the referee can speak.',
  outcomes: {
    confirmed: 'Confirmed.',
    'gum-wider': 'Differs: the budget is wider, on the safe side.',
    'gum-narrower': 'Differs: the budget is narrower than the draws.',
    'too-few-readings': 'Too few readings.',
  },
  apart: (low: string, high: string, tolerance: string) =>
    `The ends of the drawn interval lie ${low} mL (low) and ${high} mL (high) from those of the budget; up to ${tolerance} mL counts as agreement.`,
  intervals: 'Coverage intervals side by side',
  way: 'By',
  low: 'Low mL',
  high: 'High mL',
  standard: 'u mL',
  budget: 'budget, normal',
  drawn: 'draws',
  student: 'draws, spread t-distributed',
  seed: (seed: string, draws: string) => `${draws} draws, seed ${seed}. The same seed gives the same answer.`,
  notStable: 'The draws had not quite settled when the limit was reached.',
};

export const oneMoreText = {
  title: 'What decides here',
  largest: 'Largest parts of U',
  more: (before: string, after: string) => `One more trial: U ${before} → ${after} mL`,
  wouldNotChange: 'the verdict would not change',
  couldChange: 'the verdict could still change',
  planned: (count: number, u: string) => `At the planned ${count}: U ≈ ${u} mL.`,
  finalAt: (count: number) => `The verdict is final at ${count} trials.`,
  isFinal: 'The planned number is reached: the verdict is final.',
};
