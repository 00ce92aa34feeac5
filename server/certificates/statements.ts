/** What a certificate says, in sentences and pairs; PDF and XML print the same. */
import {
  decimalsFor,
  decimalsForTolerance,
  fixed,
  roundedResult,
  roundedText,
  signed,
  significant,
} from '../metrology/display.ts';
import { FINDINGS, type FindingCode } from '../metrology/findings.ts';
import type { DecimalText } from '../metrology/record.ts';
import type { Finding, PointResult, TrialResult, Verdict } from '../metrology/result.ts';
import type { Issued, IssuedAct, IssuedInstrument, Signature, ToleranceBasis } from './issued.ts';
import {
  actWords,
  basisWords,
  kindWords,
  materialWords,
  meniscusRuleWords,
  ruleWords,
  verdictWords,
  waterGradeWords,
} from './words.ts';

export type Fact = [label: string, value: string];

const NOT_STATED = 'not stated';
export const NO_LABORATORY = 'laboratory name not set';
export const NO_ADDRESS = 'laboratory address not set';
export const DEMONSTRATION = 'Invented data: demonstration only';
export const ITEM_ONLY = 'This certificate holds for this item only.';
export const OF_THE_MEAN = 'U is of the mean volume; a single use of the vessel scatters by its spread as well.';

/** Server time as printed: 2026-11-25 14:05 UTC. */
export const moment = (iso: string): string => {
  const zone = /[+-]\d\d:\d\d$/.exec(iso)?.[0] ?? 'UTC';
  return `${iso.slice(0, 10)} ${iso.slice(11, 16)} ${zone}`;
};

export const plural = (count: number, one: string, many: string): string =>
  count === 1 ? `1 ${one}` : `${count} ${many}`;

/** 0.9545 as `95.45 %`. */
export const percentOf = (probability: DecimalText): string =>
  `${roundedText(Number(probability) * 100, probability === '0.9545' ? 2 : 0)} %`;

/** Whether the tolerance may judge on paper. */
export const judges = ({ kind }: ToleranceBasis): boolean =>
  kind === 'marked' || kind === 'read-in-standard' || kind === 'confirmed';

/** A verdict as it may be printed; null where the tolerance was not seen in the standard or none is stated. */
export const printedVerdict = (issued: Pick<Issued, 'toleranceBasis'>, verdict: Verdict | null): Verdict | null =>
  judges(issued.toleranceBasis) && verdict !== 'none-stated' ? verdict : null;

/** Tolerance drawn and printed at a point; none where nothing may be judged by it. */
export const printedToleranceMl = (issued: Pick<Issued, 'toleranceBasis'>, point: PointResult): number | null =>
  judges(issued.toleranceBasis) ? point.toleranceMl : null;

export const toleranceText = (toleranceMl: number): string =>
  `±${fixed(toleranceMl, decimalsForTolerance(toleranceMl))} mL`;

/** Why the tolerance judges, or why there is no verdict. */
export function basisStatement({ toleranceBasis: basis }: Pick<Issued, 'toleranceBasis'>): string {
  switch (basis.kind) {
    case 'marked':
      return 'The tolerance is the one marked on the vessel.';
    case 'read-in-standard':
      return 'The tolerance was read in the standard.';
    case 'confirmed':
      return `The tolerance was confirmed by ${basis.by} on ${basis.at.slice(0, 10)}, seen in ${basis.whereSeen}.`;
    case 'not-checked':
      return 'The tolerance was not checked against the standard, so there is no verdict.';
    case 'none':
      return 'No tolerance stated, so there is no verdict.';
  }
}

/** In place of a verdict where none may be printed. */
export const withoutVerdict = ({ toleranceBasis: { kind } }: Pick<Issued, 'toleranceBasis'>): string =>
  kind === 'not-checked' ? 'not checked against the standard' : kind === 'none' ? 'no tolerance stated' : 'no verdict';

export interface PointFigures {
  point: string;
  mean: string;
  bias: string;
  spread: string;
  expanded: string;
  factor: string;
  /** Standard uncertainty of one single use. */
  single: string;
  decimals: number;
}

const NONE = '–';

/** Figures of a point: U with two significant digits, mean and bias to the same place, k with two decimals. */
export function pointFigures(point: PointResult): PointFigures {
  const { meanMl, biasMl, sdMl, expandedUncertaintyMl: u } = point;
  const decimals = u === null || u === 0 ? 4 : Math.max(0, decimalsFor(u, 2));
  return {
    point: point.pointMl,
    mean: meanMl === null ? NONE : u ? minus(roundedResult(meanMl, u).value) : fixed(meanMl, decimals),
    bias: biasMl === null ? NONE : signed(biasMl, decimals),
    spread: sdMl === null ? NONE : significant(sdMl, 2),
    expanded: u === null ? NONE : u ? roundedResult(0, u).uncertainty : '0',
    factor: point.coverageFactor === null ? NONE : fixed(point.coverageFactor, 2),
    single: point.singleUseUncertaintyMl === null ? NONE : significant(point.singleUseUncertaintyMl, 2),
    decimals,
  };
}

const minus = (text: string): string => text.replace('-', '−');

/** `9 of 10 recorded, 10 planned`. */
export const countWords = (point: PointResult, planned: number | null | undefined): string =>
  `${point.n} counted of ${point.nRecorded} recorded${planned == null ? '' : ` of ${planned} planned`}`;

const yesNo = (stated: boolean | null | undefined, yes: string, no: string): string =>
  stated == null ? NOT_STATED : stated ? yes : no;

export function itemFacts(issued: Issued): Fact[] {
  const { vessel: kept, record } = issued;
  const { vessel } = record;
  const facts: Fact[] = [
    ['Tag', kept.tag],
    ['Kind', kindWords[vessel.kind]],
    ['Nominal volume', `${vessel.nominalVolumeMl} mL`],
    ['Marked', `${basisWords[vessel.basis]}, ${vessel.referenceTemperatureC} °C`],
    ['Maker', kept.maker ?? NOT_STATED],
    ['Serial number', kept.serial ?? NOT_STATED],
    ['Material', materialWords[vessel.material] + expansion(vessel.expansionPerK)],
  ];
  if (vessel.divisionMl != null) facts.push(['Division', `${vessel.divisionMl} mL`]);
  if (vessel.neckDiameterMm != null) facts.push(['Neck diameter', `${vessel.neckDiameterMm} mm`]);
  if (vessel.waitingTimeS != null) facts.push(['Waiting time', `${vessel.waitingTimeS} s`]);
  facts.push(['Class', issued.toleranceName ?? NOT_STATED], ['Tolerance', toleranceWords(issued)]);
  return facts;
}

const expansion = (perK: DecimalText | null | undefined): string =>
  perK == null ? '' : `, cubic expansion ${perK} /K as typed`;

/** `±0.100 mL`, at each point where they differ. */
export function toleranceWords(issued: Issued): string {
  const values = issued.result.points.flatMap(({ pointMl, toleranceMl }) =>
    toleranceMl === null ? [] : [{ pointMl, text: toleranceText(toleranceMl) }],
  );
  const different = new Set(values.map(({ text }) => text));
  if (values.length === 0 || issued.toleranceBasis.kind === 'none') return 'no tolerance stated';
  const systematic =
    different.size === 1 ? values[0]!.text : values.map(({ pointMl, text }) => `${text} at ${pointMl} mL`).join(', ');
  const random = issued.result.points.find(({ randomError }) => randomError != null)?.randomError;
  const worded = random == null ? systematic : `systematic ${systematic}, random ${plainNumber(random.limitMl)} mL`;
  return issued.toleranceBasis.kind === 'not-checked' ? `${worded}, not checked against the standard` : worded;
}

/** The state the item was in when it was calibrated. */
export function itemCondition({ record: { conditions } }: Issued): Fact[] {
  return [
    ['Inspected', yesNo(conditions?.inspected, 'yes, for chips, cracks and dirt', 'no')],
    ['Cleaned', yesNo(conditions?.cleaned, 'yes', 'no')],
    ['Dried', yesNo(conditions?.dried, 'yes', 'no')],
    ['Acclimatised', conditions?.acclimatisedH == null ? NOT_STATED : `${conditions.acclimatisedH} h in the room`],
  ];
}

function pooledOver({ record: { repeatability } }: Issued, count: number): string {
  return repeatability?.use === 'pooled' && repeatability.over === 'lot'
    ? `pooled over the lot, from ${plural(count, 'other vessel', 'other vessels')}`
    : `from ${plural(count, 'earlier calibration', 'earlier calibrations')}`;
}

export function methodStatements(issued: Issued): string[] {
  const { record, result } = issued;
  const wording = record.conditions?.meniscusRule;
  const rule = wording == null ? 'the rule for setting the meniscus is not stated' : meniscusRuleWords[wording];
  const pool = issued.pool;
  return [
    `Gravimetric, in the manner of ISO 4787: the vessel or its receiver is weighed empty, filled to the mark with water of known temperature${result.basis === 'deliver' ? ' and delivered' : ''}, and weighed again. The calibration is ${basisWords[result.basis]}.`,
    'Volume at the reference temperature: V = m · (1 − ρa/ρb) / (ρw − ρa) · (1 − γ · (tw − tref)), each trial with its own water temperature. Water density: Tanaka et al. 2001. Air density: CIPM-2007 at the pressure of the place. Conventional density of the weights: 8000 kg/m³.',
    `Setting of the meniscus: ${rule}.`,
    pool === null
      ? 'Repeatability: the spread of these trials.'
      : `Repeatability: pooled spread ${significant(pool.sdMl, 2)} mL with ${pool.degreesOfFreedom} degrees of freedom, ${pooledOver(issued, pool.from.length)}.`,
    `Uncertainty: JCGM 100:2008; U = k · u, with k from Student t for a coverage probability of ${percentOf(record.coverageProbability ?? '0.9545')}.`,
  ];
}

/** All digits of a number that was typed or stands in a table, written out. */
export const plainNumber = (value: number): string => {
  const shortest = String(value);
  return shortest.includes('e') ? value.toFixed(12).replace(/\.?0+$/, '') : shortest;
};

/** Findings that the paper says elsewhere, or that would give a verdict away where none may be printed. */
const SAID_ELSEWHERE = new Set([
  'no-tolerance',
  'other-basis',
  'tolerance-not-checked',
  'verdict-changed-by-exclusion',
  'random-error-outside',
]);

/** What differs from the plain way, and what was assumed. */
export function deviations(issued: Issued): string[] {
  const { result } = issued;
  const open = (finding: Finding) => !SAID_ELSEWHERE.has(finding.code);
  const several = result.points.length > 1;
  const lines = [
    ...result.findings.filter(open).map(({ detail }) => detail),
    ...result.points.flatMap(({ pointMl, findings }) =>
      findings.filter(open).map(({ detail }) => (several ? `At ${pointMl} mL: ${detail}` : detail)),
    ),
    ...trialRemarks(result.trials),
    ...issued.acts.flatMap((act) => actStatement(issued, act)),
  ];
  return [...new Set(lines)];
}

/** One sentence for each finding that trials share, with the trials it is about. */
function trialRemarks(trials: readonly TrialResult[]): string[] {
  const byCode = new Map<string, { numbers: number[]; detail: string }>();
  for (const { number, findings } of trials) {
    for (const { code, detail } of findings) {
      const known = byCode.get(code);
      if (known === undefined) byCode.set(code, { numbers: [number], detail });
      else known.numbers.push(number);
    }
  }
  return [...byCode].map(([code, { numbers, detail }]) => {
    if (numbers.length === trials.length && trials.length > 1) return `All trials: ${general(code, detail)}`;
    return `${numbers.length === 1 ? 'Trial' : 'Trials'} ${ranges(numbers)}: ${numbers.length === 1 ? detail : general(code, detail)}`;
  });
}

const general = (code: string, detail: string): string => (code in FINDINGS ? FINDINGS[code as FindingCode] : detail);

/** 1, 2, 3, 7 as `1–3, 7`. */
export function ranges(numbers: readonly number[]): string {
  const runs: [number, number][] = [];
  for (const number of numbers) {
    const last = runs.at(-1);
    if (last !== undefined && number === last[1] + 1) last[1] = number;
    else runs.push([number, number]);
  }
  return runs.map(([from, to]) => (from === to ? String(from) : `${from}–${to}`)).join(', ');
}

function actStatement(issued: Issued, { act, at, by, reason, before }: IssuedAct): string[] {
  if (act === 'calibration-measured' && reason === null) return [];
  const name = act === 'calibration-measured' ? 'Ended before the planned number of trials' : (actWords[act] ?? act);
  const verdict = printedVerdict(issued, (before?.verdict ?? null) as Verdict | null);
  const was =
    before === null
      ? ''
      : ` Before: ${before.plannedTrials} planned, ${before.decisionRule}, ${percentOf(before.coverageProbability)}${verdict === null ? '' : `, verdict ${verdictWords[verdict]}`}.`;
  return [`${name} (${by}, ${moment(at)})${reason === null ? '' : `: ${sentence(reason)}`}${was}`];
}

/** Ends with a full stop, whatever was typed. */
export const sentence = (typed: string): string => (/[.!?…]$/.test(typed.trim()) ? typed.trim() : `${typed.trim()}.`);

export interface Condition {
  name: string;
  low: number;
  high: number;
  decimals: number;
  unit: string;
  /** How it was known. */
  how: string;
}

/** Air and water over all trials, after the corrections of the instruments. */
export function conditionsOf({ record, result: { trials } }: Issued): Condition[] {
  if (trials.length === 0) return [];
  const condition = (
    name: string,
    unit: string,
    decimals: number,
    values: number[],
    measured: boolean[],
  ): Condition => ({
    name,
    unit,
    decimals,
    low: Math.min(...values),
    high: Math.max(...values),
    how: measured.every(Boolean) ? 'measured' : measured.some(Boolean) ? 'measured in part, else assumed' : 'assumed',
  });
  const read = record.trials.map(({ waterTemperatureHalfWidthC: assumed }) => assumed == null);
  const air = trials.map(({ air: of }) => of);
  return [
    condition(
      'Water temperature',
      '°C',
      2,
      trials.map((t) => t.corrected.waterTemperatureC),
      read,
    ),
    condition(
      'Air temperature',
      '°C',
      1,
      air.map((a) => a.temperatureC),
      air.map((a) => a.measured.temperature),
    ),
    condition(
      'Air pressure',
      'hPa',
      1,
      air.map((a) => a.pressureHpa),
      air.map((a) => a.measured.pressure),
    ),
    condition(
      'Relative humidity',
      '%',
      0,
      air.map((a) => a.relativeHumidityPercent),
      air.map((a) => a.measured.humidity),
    ),
  ];
}

export const conditionText = ({ low, high, decimals, unit }: Condition): string => {
  const [from, to] = [fixed(low, decimals), fixed(high, decimals)];
  return from === to ? `${from} ${unit}` : `${from} to ${to} ${unit}`;
};

export const waterWords = ({ record: { conditions } }: Issued): string => {
  const grade = waterGradeWords[conditions?.waterGrade ?? 'not-stated'];
  return conditions?.conductivityUsPerCm == null ? grade : `${grade}, ${conditions.conductivityUsPerCm} µS/cm`;
};

/** Certificate of an instrument, or that its traceability is not established; never a blank. */
export const traceability = ({ certificateNumber, certificateOn }: IssuedInstrument): string =>
  certificateNumber === null
    ? 'not established'
    : certificateNumber + (certificateOn === null ? '' : `, ${certificateOn}`);

export function verdictStatement(issued: Issued): string {
  const { result } = issued;
  const verdict = printedVerdict(issued, result.verdict);
  if (verdict === null) return basisStatement(issued);
  const spec = issued.toleranceName === null ? 'the tolerance marked on it' : issued.toleranceName;
  const covers = [
    result.points.length === 1 ? 'the test point' : `all ${result.points.length} test points`,
    ...(result.difference === null ? [] : ['the difference between any two of them']),
  ].join(' and ');
  const random = result.points.some(({ randomError }) => randomError != null);
  const judged = random ? 'mean volume and spread' : 'mean volume';
  const both = random
    ? ' Systematic and random error both have to be within their limits; the rule takes U off the systematic limit alone, the spread is compared as it is.'
    : '';
  return `${verdictWords[verdict]}: ${judged} against ${spec} (${toleranceWords(issued)}), ${covers}, by ${ruleWords[result.decisionRule].name}.${both} ${basisStatement(issued)}`;
}

/** Both errors of a piston pipette, each with its own verdict. */
const randomRemark = (
  pointMl: DecimalText,
  { randomError, sdMl }: Pick<PointResult, 'randomError' | 'sdMl'>,
): string[] =>
  randomError == null
    ? []
    : [
        `At ${pointMl} mL systematic error: ${verdictWords[randomError.systematicVerdict]}; random error: ${verdictWords[randomError.verdict]}, spread ${sdMl === null ? 'not known' : `${significant(sdMl, 2)} mL`} against ${plainNumber(randomError.limitMl)} mL.`,
      ];

/** Both verdicts where an exclusion changes one, and the class met where the rule passes it. */
export function verdictRemarks(issued: Issued): string[] {
  if (!judges(issued.toleranceBasis)) return [];
  return issued.result.points.flatMap(({ pointMl, verdict, verdictWithExcluded, nRecorded, meetsClass, ...point }) => [
    ...randomRemark(pointMl, point),
    ...(verdictWithExcluded === null || verdict === null
      ? []
      : [
          `At ${pointMl} mL an exclusion changes the verdict: without the excluded trials ${verdictWords[verdict]}, with all ${nRecorded} trials ${verdictWords[verdictWithExcluded]}.`,
        ]),
    ...(meetsClass === null || issued.result.points.length > 1
      ? []
      : [`Capacity within the limits of class ${meetsClass}.`]),
  ]);
}

export const signatureRemark = ({ meaning, ownWork }: Signature): string =>
  ownWork && meaning === 'checked'
    ? 'checked by the same person who measured'
    : ownWork && meaning === 'issued'
      ? 'issued by the same person who measured'
      : '';

export const replacesStatement = ({ replaces }: Issued): string | null =>
  replaces === null ? null : `Replaces certificate ${replaces.number}. Reason: ${sentence(replaces.reason)}`;
