/** The form of a plan: typed values, and how they become what the server takes. */
import type { z } from 'zod';
import type { ExperimentChange, ExperimentPlan, foresightBody, WareRow } from '../../../server/experiments/contract.ts';
import type { Basis, VesselKind } from '../../../server/metrology/record.ts';
import { planText } from '../../messages/en-teaching.ts';
import { readNumber } from '../../parts/read-number.ts';

export interface RowDraft {
  key: string;
  label: string;
  kind: VesselKind;
  nominalVolumeMl: string;
  basis: Basis;
  /** `standard|edition|class`, `mL`, `%`, or empty for none. */
  limit: string;
  marked: string;
  divisionMl: string;
  trials: string;
  drops: string;
  waterTemperatureC: string;
  /** Tags with commas. */
  vessels: string;
  /** What the form does not show stays as it was. */
  rest: Pick<WareRow, 'material' | 'referenceTemperatureC'> &
    Partial<Pick<WareRow, 'expansionPerK' | 'neckDiameterMm'>>;
}

export interface BalanceDraft {
  label: string;
  resolutionG: string;
  instrumentId?: string | undefined;
}

export interface PlanDraft {
  title: string;
  question: string;
  design: ExperimentPlan['design'];
  rows: RowDraft[];
  balances: BalanceDraft[];
  expectedGroups: string;
  lessonMinutes: string;
  asks: ExperimentPlan['asks'];
  airTemperatureC: string;
  airPressureHpa: string;
  relativeHumidityPercent: string;
  waterTemperatureC: string;
  cautionNote: string;
}

/** A plan as it comes from a template or an experiment. */
export type PlanShown = Omit<ExperimentPlan, 'title' | 'rows' | 'balances' | 'conditions'> & {
  title: string;
  rows: readonly (Omit<WareRow, 'tolerance'> & {
    tolerance?: ShownTolerance | undefined;
    vessels?: readonly { tag: string }[];
  })[];
  balances: readonly { label: string; resolutionG?: string | undefined; instrumentId?: string | undefined }[];
  conditions: Partial<Record<keyof ExperimentPlan['conditions'], string | undefined>>;
};
interface ShownTolerance {
  standard?: string | undefined;
  edition?: string | undefined;
  class?: string | undefined;
  markedMl?: string | undefined;
  markedPercent?: string | undefined;
}

const limitOf = (tolerance: ShownTolerance | undefined): Pick<RowDraft, 'limit' | 'marked'> => {
  if (!tolerance) return { limit: '', marked: '' };
  if (tolerance.markedMl !== undefined) return { limit: 'mL', marked: tolerance.markedMl };
  if (tolerance.markedPercent !== undefined) return { limit: '%', marked: tolerance.markedPercent };
  return { limit: `${tolerance.standard ?? ''}|${tolerance.edition ?? ''}|${tolerance.class ?? ''}`, marked: '' };
};

const rowDraft = (row: PlanShown['rows'][number]): RowDraft => ({
  key: row.key,
  label: row.label,
  kind: row.kind,
  nominalVolumeMl: row.nominalVolumeMl,
  basis: row.basis,
  ...limitOf(row.tolerance),
  divisionMl: row.divisionMl ?? '',
  trials: String(row.trialsPerGroup),
  drops: row.drops === undefined ? '' : String(row.drops),
  waterTemperatureC: row.waterTemperatureC ?? '',
  vessels: (row.vessels ?? []).map(({ tag }) => tag).join(', '),
  rest: {
    material: row.material,
    referenceTemperatureC: row.referenceTemperatureC,
    ...(row.expansionPerK === undefined ? {} : { expansionPerK: row.expansionPerK }),
    ...(row.neckDiameterMm === undefined ? {} : { neckDiameterMm: row.neckDiameterMm }),
  },
});

export const planDraft = (plan: PlanShown): PlanDraft => ({
  title: plan.title,
  question: plan.question,
  design: plan.design,
  rows: plan.rows.map(rowDraft),
  balances: plan.balances.map(({ label, resolutionG = '', instrumentId }) => ({ label, resolutionG, instrumentId })),
  expectedGroups: String(plan.expectedGroups),
  lessonMinutes: String(plan.lessonMinutes),
  asks: plan.asks,
  airTemperatureC: plan.conditions.airTemperatureC ?? '',
  airPressureHpa: plan.conditions.airPressureHpa ?? '',
  relativeHumidityPercent: plan.conditions.relativeHumidityPercent ?? '',
  waterTemperatureC: plan.conditions.waterTemperatureC ?? '',
  cautionNote: plan.cautionNote ?? '',
});

let made = 0;
/** A key no other row of the draft has. */
const freshKey = (rows: readonly RowDraft[]): string => {
  const taken = new Set(rows.map(({ key }) => key));
  do made += 1;
  while (taken.has(`row-${made}`));
  return `row-${made}`;
};

/** A further row like the last one, to be changed. */
export const furtherRow = (rows: readonly RowDraft[]): RowDraft => {
  const last = rows.at(-1);
  const key = freshKey(rows);
  if (last) return { ...last, key, label: '', vessels: '' };
  return {
    ...{ key, label: '', kind: 'volumetric-flask', nominalVolumeMl: '25', basis: 'contain', limit: '', marked: '' },
    ...{ divisionMl: '', trials: '3', drops: '', waterTemperatureC: '', vessels: '' },
    rest: { material: 'glass', referenceTemperatureC: '20' },
  };
};

export type Problems = Record<string, string>;

const whole = (typed: string, least: number, most: number): number | null => {
  const number = /^\s*\d{1,4}\s*$/.test(typed) ? Number(typed) : Number.NaN;
  return number >= least && number <= most ? number : null;
};

/** Collects what cannot be read, by the name of the field. */
class Reader {
  readonly problems: Problems = {};

  quantity(typed: string, unit: string, pointer: string): string | undefined {
    if (typed.trim() === '') return undefined;
    const read = readNumber(typed, unit);
    if (read.ok) return read.value;
    this.problems[pointer] = read.problem;
    return undefined;
  }

  needed(typed: string, unit: string, pointer: string): string {
    const read = readNumber(typed, unit);
    if (read.ok) return read.value;
    this.problems[pointer] = read.problem;
    return '';
  }

  whole(typed: string, least: number, most: number, pointer: string): number {
    const number = whole(typed, least, most);
    if (number === null) this.problems[pointer] = planText.wholeNumber(least, most);
    return number ?? least;
  }
}

const given = <Key extends string, Value>(key: Key, value: Value | undefined): Partial<Record<Key, Value>> =>
  value === undefined ? {} : ({ [key]: value } as Record<Key, Value>);

const MOST_TRIALS = 30;
const MOST_DROPS = 1000;

function toleranceIn(reader: Reader, { limit, marked }: RowDraft, at: string): Pick<WareRow, 'tolerance'> {
  if (limit === '') return {};
  if (limit === 'mL') return { tolerance: { markedMl: reader.needed(marked, 'mL', `${at}/tolerance/markedMl`) } };
  if (limit === '%')
    return { tolerance: { markedPercent: reader.needed(marked, '%', `${at}/tolerance/markedPercent`) } };
  const [standard = '', edition = '', toleranceClass = ''] = limit.split('|');
  return { tolerance: { standard, edition, class: toleranceClass } };
}

function readRow(reader: Reader, row: RowDraft, index: number, ids: ReadonlyMap<string, string>): WareRow {
  const at = `rows/${index}`;
  const tags = tagsIn(row.vessels);
  const missing = tags.find((tag) => !ids.has(tag));
  if (missing !== undefined) reader.problems[`${at}/vesselIds`] = planText.vesselUnknown(missing);
  return {
    key: row.key,
    label: row.label.trim(),
    kind: row.kind,
    nominalVolumeMl: reader.needed(row.nominalVolumeMl, 'mL', `${at}/nominalVolumeMl`),
    basis: row.basis,
    ...row.rest,
    ...toleranceIn(reader, row, at),
    ...given('divisionMl', reader.quantity(row.divisionMl, 'mL', `${at}/divisionMl`)),
    ...given('waterTemperatureC', reader.quantity(row.waterTemperatureC, '°C', `${at}/waterTemperatureC`)),
    ...(tags.length === 0 ? {} : { vesselIds: tags.flatMap((tag) => ids.get(tag) ?? []) }),
    trialsPerGroup: reader.whole(row.trials, 1, MOST_TRIALS, `${at}/trialsPerGroup`),
    ...(row.drops.trim() === '' ? {} : { drops: reader.whole(row.drops, 1, MOST_DROPS, `${at}/drops`) }),
  };
}

export const tagsIn = (typed: string): string[] =>
  typed
    .split(/[,;\n]+/)
    .map((tag) => tag.trim())
    .filter((tag) => tag !== '');

/** @param ids of registered vessels, by tag */
export function readPlan(
  draft: PlanDraft,
  ids: ReadonlyMap<string, string> = new Map(),
): {
  body: Required<Omit<ExperimentChange, 'namesHidden' | 'predictionsShown' | 'confirm' | 'note'>>;
  problems: Problems;
} {
  const reader = new Reader();
  const body = {
    title: draft.title.trim(),
    question: draft.question.trim(),
    design: draft.design,
    rows: draft.rows.map((row, index) => readRow(reader, row, index, ids)),
    balances: draft.balances.map(({ label, resolutionG, instrumentId }, index) => ({
      label: label.trim(),
      ...given('resolutionG', reader.quantity(resolutionG, 'g', `balances/${index}/resolutionG`)),
      ...given('instrumentId', instrumentId),
    })),
    expectedGroups: reader.whole(draft.expectedGroups, 1, 60, 'expectedGroups'),
    lessonMinutes: reader.whole(draft.lessonMinutes, 10, 480, 'lessonMinutes'),
    asks: draft.asks,
    conditions: {
      ...given('airTemperatureC', reader.quantity(draft.airTemperatureC, '°C', 'conditions/airTemperatureC')),
      ...given('airPressureHpa', reader.quantity(draft.airPressureHpa, 'hPa', 'conditions/airPressureHpa')),
      ...given(
        'relativeHumidityPercent',
        reader.quantity(draft.relativeHumidityPercent, '%', 'conditions/relativeHumidityPercent'),
      ),
      ...given('waterTemperatureC', reader.quantity(draft.waterTemperatureC, '°C', 'conditions/waterTemperatureC')),
    },
    cautionNote: draft.cautionNote.trim() || null,
  };
  return { body, problems: reader.problems };
}

export type ForesightBody = z.infer<typeof foresightBody>;

/** What the server needs to foresee the lesson; null while something cannot be read. */
export function foresightIn(draft: PlanDraft): ForesightBody | null {
  const { body, problems } = readPlan({ ...draft, rows: draft.rows.map((row) => ({ ...row, vessels: '' })) });
  const isNamed = body.rows.every(({ label }) => label !== '') && body.balances.every(({ label }) => label !== '');
  if (Object.keys(problems).length > 0 || !isNamed || body.rows.length === 0 || body.balances.length === 0) return null;
  const { rows, balances, expectedGroups, lessonMinutes } = body;
  return { rows, balances, expectedGroups, lessonMinutes };
}
