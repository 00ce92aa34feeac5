/** Text of what is seen over time: drift, intervals, acceptance, control charts. */
import type { IntervalReason } from '../../server/metrology/over-time/interval.ts';
import { plural } from './en.ts';

const calibrations = (count: number) => plural(count, { one: '1 calibration', other: `${count} calibrations` });
const failing = (count: number) => plural(count, { one: '1 vessel that fails', other: `${count} vessels that fail` });
const vessels = (count: number) => plural(count, { one: '1 vessel', other: `${count} vessels` });

export const chartText = {
  table: 'The numbers',
  axisMl: 'Mean volume, mL',
  days: 'Day of the calibration',
  order: 'Check',
  legend: 'Dot with whiskers: mean ± U. Band: tolerance.',
  legendTrend: 'Dotted: the straight line through the means, with its 95 % band.',
  marks: {
    pass: 'filled dot: pass',
    conditional: 'open dot: conditional',
    fail: 'triangle: fail',
    undecided: 'square: not decidable',
    plain: '',
  },
};

export const overTimeText = {
  title: 'Over time',
  what: 'what is seen over time',
  none: 'Once a calibration has left “open”, its mean volume stands here, and the next one beside it.',
  point: 'Test point',
  leftOut: (count: number) =>
    `${calibrations(count)} on another basis or reference temperature left out: nothing to compare with.`,
  sentence: (count: number, pointMl: string) =>
    `${calibrations(count)} at ${pointMl} mL: mean volume with U, against the tolerance.`,
  columns: {
    day: 'Day',
    mean: 'Mean mL',
    uncertainty: 'U mL',
    change: 'Change mL',
    normalised: 'EΔ',
    explained: 'What EΔ says',
    verdict: 'Verdict',
  },
  change: {
    first: 'The first calibration: there is nothing yet to compare with.',
    within: (changeMl: string, day: string, normalised: string) =>
      `${changeMl} mL since ${day}, EΔ ${normalised}: no more than two such results differ by chance.`,
    beyond: (changeMl: string, day: string, normalised: string) =>
      `${changeMl} mL since ${day}, EΔ ${normalised}: more than two such results let expect. Look for a cause: heat, alkali, a chip, another way of setting the meniscus.`,
    unknown: (changeMl: string, day: string) =>
      `${changeMl} mL since ${day}. Nothing is known of how far it may be chance.`,
    explain:
      'EΔ is the change over twice its standard uncertainty. Only what came anew that day counts: spread, last digits, the air, the gradient in the water; the meniscus where another person set it; balance and thermometer where the certificate changed. Above 1 in size, the vessel or the work has changed.',
  },
  trend: {
    tooFew: (count: number) =>
      `A trend is sought from five calibrations on; here ${plural(count, { one: 'is one', other: `are ${count}` })}.`,
    none: (slope: string, reach: string) => `No trend seen: ${slope} ± ${reach} mL a year (95 %).`,
    seen: (slope: string, reach: string) => `It drifts: ${slope} ± ${reach} mL a year (95 %).`,
    leaves: (day: string) => `It may leave the tolerance from ${day} on, the early edge of the band.`,
    leavesNot: 'Within 20 years the band stays inside the tolerance.',
    noTolerance: 'No tolerance is stated that it could leave.',
  },
  interval: {
    title: 'Next calibration',
    advice: (months: number, day: string | null) =>
      day === null ? `Advised: ${months} months.` : `Advised: after ${months} months, by ${day}.`,
    reasons: {
      'nothing-known': 'No calibration with a verdict yet: a year to begin with.',
      kept: 'Kept: it becomes longer after three passes in a row with at most half the tolerance and no change.',
      lengthened: 'Twice as long: three passes in a row, at most half the tolerance, no change.',
      shortened: 'Half as long: the last calibration failed.',
      longest: 'Five years are the longest, however good the vessel.',
      'leaves-first': 'The drift may reach the tolerance before the interval ends: the early edge of its band.',
      shortest: 'Half a year is the shortest. Think about another vessel.',
    } satisfies Record<IntervalReason, string>,
    inForce: (months: number | null) =>
      months === null ? 'In the register: as the laboratory has set.' : `In the register: ${months} months.`,
    row: (count: number) => `${count} of 3 good ones in a row.`,
    weakness:
      'This rule looks back only. It foresees no damage: heat above 150 °C, alkali, hydrofluoric acid or a chip end the interval at once.',
  },
  outside: {
    title: 'Compare with another laboratory',
    mean: 'Their mean volume',
    uncertainty: 'Their U (k = 2)',
    result: (value: string, isGood: boolean) =>
      `Eₙ ${value}: ${isGood ? 'the two results agree' : 'the two results do not agree'} (limit 1).`,
    fill: 'Type both numbers of their certificate; the last calibration here stands beside them.',
    what: 'For results of another laboratory only: two results of this one share instruments, and EΔ is for them.',
  },
};

export const instrumentTimeText = {
  what: 'checks and certificates over time',
  chart: (known: string, unit: string) => `Checks at ${known} ${unit} on a control chart`,
  chartSentence: (count: number, outside: number) =>
    `${plural(count, { one: '1 check', other: `${count} checks` })}; ${outside === 0 ? 'none outside the limits' : `${outside} outside the limits`}.`,
  limits: (centre: string, low: string, high: string, unit: string) =>
    `Centre ${centre} ${unit}, limits ${low} to ${high} ${unit}.`,
  base: (count: number) => `Limits from the ${count} oldest: mean ± 2.660 times the mean moving range.`,
  baseSince: (count: number, on: string) =>
    `Limits from the ${count} oldest since the certificate of ${on}: mean ± 2.660 times the mean moving range.`,
  firstGuess: 'Fewer than ten checks: the limits are a first guess.',
  tooFew: (count: number, on: string) =>
    `${count === 0 ? 'No check' : 'One check'} since the certificate of ${on}. Centre and limits begin anew and need two checks; ten make them more than a first guess.`,
  begun: (number: string | null, on: string) =>
    `Certificate ${number === null ? '' : `${number} `}of ${on}: centre and limits begin anew.`,
  certificateOf: (on: string) => `certificate of ${on}`,
  outsideWhat: 'A check outside says: stop, look for a cause, check again before the next calibration.',
  difference: (unit: string) => `Reading minus known, ${unit}`,
  columns: { number: 'Check', day: 'Day', difference: 'Difference', range: 'Moving range', found: 'Found' },
  marks: { fail: 'triangle: outside', conditional: 'open dot: a jump' },
  inside: 'inside',
  outside: 'outside',
  jump: 'jump',
  certificates: 'Certificates over time',
  certificatesNone: 'No certificate has been entered.',
  certificateColumns: {
    number: 'Certificate',
    on: 'Of',
    due: 'Until',
    uncertainty: 'U',
    drift: 'Change since the one before',
  },
  driftAt: (change: string, at: string, unit: string) => `${change} ${unit} at ${at} ${unit}`,
  driftUnknown: 'no correction to compare with',
  dependents: 'What depended on it',
  dependentsWhat: 'When it is found wrong: every calibration it was used for, to look at again.',
  dependentsOpen: 'List the calibrations',
  from: 'First day',
  to: 'Last day',
  badDay: 'Type a day like 2026-09-14, or leave it empty.',
  found: (count: number) => `${calibrations(count)}.`,
  dependentColumns: {
    day: 'Day',
    vessel: 'Vessel',
    verdict: 'Verdict',
    state: 'State',
    role: 'Used as',
    certificate: 'Certificate',
  },
  roles: {
    balance: 'balance',
    thermometer: 'thermometer of the water',
    barometer: 'barometer',
    hygrometer: 'hygrometer',
    airThermometer: 'thermometer of the air',
  },
  more: 'Show more',
  noCertificate: 'none',
  outOfService: 'Take it out of service, with the reason, under “Change or new certificate”.',
};

export const makersText = {
  title: 'By maker',
  lead: 'How the errors of what was delivered are spread, and what a sample of a delivery tells.',
  what: 'the makers',
  ware: 'Glassware',
  unknownMaker: 'maker not stated',
  option: (maker: string, nominal: string, kind: string, count: number) =>
    `${maker}: ${nominal} mL ${kind}, ${vessels(count)}`,
  none: 'As soon as two vessels of one maker, kind and size are registered, their errors stand here side by side.',
};

export const distributionText = {
  title: 'Errors side by side',
  what: 'the errors',
  nothing: 'None of these vessels has a finished calibration at its nominal volume yet.',
  counted: (counted: number, all: number) => `${counted} of ${vessels(all)} calibrated at the nominal volume.`,
  newest: (count: number) => `The ${count} newest were looked at.`,
  spread: (mean: string, sd: string | null, low: string, high: string) =>
    `Mean error ${mean} mL${sd === null ? '' : `, spread ${sd} mL`}, from ${low} to ${high} mL.`,
  columns: {
    class: 'Class',
    tolerance: 'Tolerance',
    within: 'Keep it',
    share: 'Share',
    reach: '95 % of such ware',
    beyond: 'Beyond doubt outside',
  },
  within: (count: number, of: number) => `${count} of ${of}`,
  reach: (low: string, high: string) => `${low} to ${high} %`,
  what95:
    'The last but one column says how far the share of all such ware may lie from that of these vessels, if they are a fair sample of it. The value alone is counted here, without U.',
  vessels: 'The vessels',
  vesselColumns: { tag: 'Tag', day: 'Calibrated', bias: 'Error mL', uncertainty: 'U mL', verdict: 'Verdict' },
};

export const acceptanceText = {
  title: 'Accept a delivery from a sample',
  what: 'For one delivery by itself; it is no scheme of switching between plans. Draw the sample at random.',
  lot: 'Vessels delivered',
  sample: 'Vessels tested',
  acceptAtMost: 'Accept with at most so many that fail',
  good: 'A good delivery may hold so many that fail',
  limiting: 'A bad delivery holds so many that fail',
  whole: 'A whole number, please.',
  notMore: 'No more than were delivered.',
  notBelow: 'More than a good delivery holds.',
  atLeastOne: 'At least one.',
  found: (tested: number, notPassing: number, judged: 'accepts' | 'refuses' | 'waits') =>
    `${vessels(tested)} tested so far, ${notPassing === 0 ? 'all pass' : `${notPassing} of them ${notPassing === 1 ? 'does' : 'do'} not`}: ${
      {
        accepts: 'by this plan the delivery is accepted.',
        refuses: 'by this plan the delivery is refused.',
        waits: 'the sample of this plan is not complete.',
      }[judged]
    }`,
  producers: (percent: string, good: number) =>
    `A delivery with ${failing(good)} is refused with a probability of ${percent} %.`,
  consumers: (percent: string, limiting: number) =>
    `A delivery with ${failing(limiting)} is accepted with a probability of ${percent} %.`,
  smallest: (sample: number, limiting: number) =>
    `A delivery with ${failing(limiting)} passes in at most one case of ten with a sample of ${sample} or more.`,
  cannot: 'No sample tells such a delivery apart: it would be accepted with so many that fail.',
};
