/** The vessel form's values: what a kind asks for, and how typed text becomes a body. */
import type { Vessel, VesselBody, VesselChange } from '../../../server/glassware/contract.ts';
import type { Basis, Material, VesselKind } from '../../../server/metrology/record.ts';
import { text } from '../../messages/en.ts';
import { vesselFormText, vesselText } from '../../messages/en-glassware.ts';
import { readNumber } from '../../parts/read-number.ts';

export interface VesselDraft {
  tag: string;
  kind: VesselKind | '';
  nominalVolumeMl: string;
  basis: Basis | '';
  /** `ISO 1042|1998`, empty where no standard is named. */
  standard: string;
  class: string;
  marked: string;
  markedUnit: 'mL' | '%';
  material: Material;
  expansionPerK: string;
  referenceTemperatureC: '20' | '27';
  divisionMl: string;
  marks: string;
  neckDiameterMm: string;
  expectedSpreadMl: string;
  waitingTimeS: string;
  /** A whole number. */
  channels: string;
  /** Empty where it is not known. */
  blowOut: 'yes' | 'no' | '';
  serial: string;
  maker: string;
  location: string;
  acquiredOn: string;
  /** A whole number; empty where the laboratory's interval counts. */
  intervalMonths: string;
  intervalReason: string;
  note: string;
  inUse: boolean;
}

export const EMPTY_DRAFT: VesselDraft = {
  tag: '',
  kind: '',
  nominalVolumeMl: '',
  basis: '',
  standard: '',
  class: '',
  marked: '',
  markedUnit: 'mL',
  material: 'borosilicate-3.3',
  expansionPerK: '',
  referenceTemperatureC: '20',
  divisionMl: '',
  marks: '',
  neckDiameterMm: '',
  expectedSpreadMl: '',
  waitingTimeS: '',
  channels: '',
  blowOut: '',
  serial: '',
  maker: '',
  location: '',
  acquiredOn: '',
  intervalMonths: '',
  intervalReason: '',
  note: '',
  inUse: true,
};

type Detail = 'divisionMl' | 'marks' | 'neckDiameterMm' | 'waitingTimeS' | 'channels' | 'blowOut';

/** What a kind is usually adjusted for, and which details it has. */
const KINDS: Record<VesselKind, { basis: Basis; details: readonly Detail[] }> = {
  'volumetric-flask': { basis: 'contain', details: ['neckDiameterMm'] },
  'single-volume-pipette': { basis: 'deliver', details: ['waitingTimeS', 'neckDiameterMm', 'blowOut'] },
  'graduated-pipette': { basis: 'deliver', details: ['divisionMl', 'waitingTimeS', 'blowOut'] },
  burette: { basis: 'deliver', details: ['divisionMl', 'waitingTimeS'] },
  'measuring-cylinder': { basis: 'contain', details: ['divisionMl'] },
  beaker: { basis: 'contain', details: ['marks', 'divisionMl', 'neckDiameterMm'] },
  'conical-flask': { basis: 'contain', details: ['marks', 'divisionMl', 'neckDiameterMm'] },
  pycnometer: { basis: 'contain', details: [] },
  'piston-pipette': { basis: 'deliver', details: ['channels'] },
  other: { basis: 'contain', details: ['divisionMl', 'neckDiameterMm'] },
};

export const usualBasis = (kind: VesselKind): Basis => KINDS[kind].basis;
export const hasDetail = (kind: VesselKind | '', detail: Detail): boolean =>
  kind !== '' && KINDS[kind].details.includes(detail);
/** A pycnometer and other ware may go without a tolerance. */
export const needsTolerance = (kind: VesselKind | ''): boolean => kind !== 'pycnometer' && kind !== 'other';

const QUANTITIES = [
  'nominalVolumeMl',
  'expansionPerK',
  'divisionMl',
  'neckDiameterMm',
  'expectedSpreadMl',
  'waitingTimeS',
] as const;
const UNITS: Record<(typeof QUANTITIES)[number], string> = {
  nominalVolumeMl: 'mL',
  expansionPerK: '',
  divisionMl: 'mL',
  neckDiameterMm: 'mm',
  expectedSpreadMl: 'mL',
  waitingTimeS: 's',
};

/** An expansion coefficient is a small number: 9.9e-6 is written out, 0.0000099. */
const writtenOut = (typed: string): string => {
  const match = /^\s*(\d+)(?:[.,](\d+))?[eE][-−](\d{1,2})\s*$/.exec(typed);
  if (!match) return typed;
  const [, whole = '', fraction = '', exponent = '0'] = match;
  const digits = whole.padStart(Number(exponent) + 1, '0');
  return `${digits.slice(0, -Number(exponent))}.${digits.slice(-Number(exponent))}${fraction}`;
};

export type Body = Partial<VesselBody>;

/** Body of the fields the kind has; `problems` by field name where a typed number cannot be read. */
export function readDraft(draft: VesselDraft): { body: Body; problems: Partial<Record<string, string>> } {
  const problems: Partial<Record<string, string>> = {};
  const body: Body = {
    tag: draft.tag.trim(),
    ...(draft.kind ? { kind: draft.kind } : {}),
    ...(draft.basis ? { basis: draft.basis } : {}),
    material: draft.material,
    referenceTemperatureC: draft.referenceTemperatureC,
  };
  for (const field of QUANTITIES) {
    if (draft[field].trim() === '' && field !== 'nominalVolumeMl') continue;
    if (isDetail(field) && !hasDetail(draft.kind, field)) continue;
    const read = readNumber(field === 'expansionPerK' ? writtenOut(draft[field]) : draft[field], UNITS[field]);
    if (read.ok) body[field] = read.value;
    else problems[field] = read.problem;
  }
  Object.assign(body, readTolerance(draft, problems), readMarks(draft, problems));
  Object.assign(body, readChannels(draft, problems), readInterval(draft, problems));
  if (hasDetail(draft.kind, 'blowOut') && draft.blowOut !== '') body.blowOut = draft.blowOut === 'yes';
  for (const field of ['serial', 'maker', 'location', 'acquiredOn', 'intervalReason', 'note'] as const)
    if (draft[field].trim() !== '') body[field] = draft[field].trim();
  return { body, problems };
}

/** What a new vessel lacks, all at once; before its kind is chosen, the kind alone. `isLot`: tags stand elsewhere. */
export function missingIn(draft: VesselDraft, isLot = false): Partial<Record<string, string>> {
  const words = vesselFormText.missing;
  if (draft.kind === '') return { kind: words.kind };
  const hasMark = draft.marked.trim() !== '';
  return {
    ...(isLot || draft.tag.trim() !== '' ? {} : { tag: words.tag }),
    ...(draft.nominalVolumeMl.trim() === '' ? { nominalVolumeMl: words.nominal } : {}),
    ...(draft.standard === '' && !hasMark && needsTolerance(draft.kind) ? { tolerance: vesselFormText.foundNone } : {}),
    ...(draft.standard !== '' && draft.class === '' && !hasMark ? { 'tolerance/class': words.class } : {}),
    ...(draft.material === 'other' && draft.expansionPerK.trim() === '' ? { expansionPerK: words.expansion } : {}),
  };
}

const isDetail = (field: string): field is Detail =>
  field === 'divisionMl' || field === 'marks' || field === 'neckDiameterMm' || field === 'waitingTimeS';

function readTolerance(draft: VesselDraft, problems: Partial<Record<string, string>>): Pick<Body, 'tolerance'> {
  const [standard = '', edition = ''] = draft.standard.split('|');
  const named = standard === '' ? {} : { standard, edition, class: draft.class || '-' };
  if (draft.marked.trim() === '') return standard === '' ? {} : { tolerance: named };
  const field = draft.markedUnit === 'mL' ? 'markedMl' : 'markedPercent';
  const read = readNumber(draft.marked.replace('±', ''), draft.markedUnit);
  if (!read.ok) {
    problems[`tolerance/${field}`] = read.problem;
    return {};
  }
  return { tolerance: { ...named, [field]: read.value } };
}

function readMarks(draft: VesselDraft, problems: Partial<Record<string, string>>): Pick<Body, 'marks'> {
  if (!hasDetail(draft.kind, 'marks') || draft.marks.trim() === '') return {};
  const marks: string[] = [];
  for (const typed of draft.marks.trim().split(/[\s;]+/)) {
    const read = readNumber(typed, 'mL');
    if (read.ok) marks.push(read.value);
    else problems.marks ??= read.problem;
  }
  return { marks };
}

const MOST_CHANNELS = 384;

function readChannels(draft: VesselDraft, problems: Partial<Record<string, string>>): Pick<Body, 'channels'> {
  const typed = draft.channels.trim();
  if (!hasDetail(draft.kind, 'channels') || typed === '') return {};
  const channels = Number(typed);
  if (/^\d+$/.test(typed) && channels >= 1 && channels <= MOST_CHANNELS) return { channels };
  problems.channels = vesselFormText.channelsWhole;
  return {};
}

function readInterval(draft: VesselDraft, problems: Partial<Record<string, string>>): Pick<Body, 'intervalMonths'> {
  const typed = draft.intervalMonths.trim();
  if (typed === '') return {};
  if (/^\d{1,3}$/.test(typed)) return { intervalMonths: Number(typed) };
  problems.intervalMonths = vesselFormText.intervalWhole;
  return {};
}

/** An interval of its own says why, wherever it is new. */
export const intervalProblems = (before: VesselDraft, after: VesselDraft): Partial<Record<string, string>> =>
  after.intervalMonths.trim() !== '' &&
  after.intervalMonths.trim() !== before.intervalMonths &&
  after.intervalReason.trim() === ''
    ? { intervalReason: vesselFormText.intervalReasonMissing }
    : {};

export const draftOf = (vessel: Vessel): VesselDraft => ({
  tag: vessel.tag,
  kind: vessel.kind,
  nominalVolumeMl: vessel.nominalVolumeMl,
  basis: vessel.basis,
  standard: vessel.tolerance?.standard ? `${vessel.tolerance.standard}|${vessel.tolerance.edition ?? ''}` : '',
  class: vessel.tolerance?.class ?? '',
  marked: vessel.tolerance?.markedMl ?? vessel.tolerance?.markedPercent ?? '',
  markedUnit: vessel.tolerance?.markedPercent ? '%' : 'mL',
  material: vessel.material,
  expansionPerK: vessel.expansionPerK ?? '',
  referenceTemperatureC: vessel.referenceTemperatureC === '27' ? '27' : '20',
  divisionMl: vessel.divisionMl ?? '',
  marks: vessel.marks?.join(' ') ?? '',
  neckDiameterMm: vessel.neckDiameterMm ?? '',
  expectedSpreadMl: vessel.expectedSpreadMl ?? '',
  waitingTimeS: vessel.waitingTimeS ?? '',
  channels: vessel.channels === null ? '' : String(vessel.channels),
  blowOut: vessel.blowOut === null ? '' : vessel.blowOut ? 'yes' : 'no',
  serial: vessel.serial ?? '',
  maker: vessel.maker ?? '',
  location: vessel.location ?? '',
  acquiredOn: vessel.acquiredOn ?? '',
  intervalMonths: vessel.intervalMonths === null ? '' : String(vessel.intervalMonths),
  intervalReason: vessel.intervalReason ?? '',
  note: vessel.note ?? '',
  inUse: vessel.inUse,
});

const EMPTIED = [
  'tolerance',
  'expansionPerK',
  'divisionMl',
  'marks',
  'neckDiameterMm',
  'expectedSpreadMl',
  'waitingTimeS',
  'channels',
  'blowOut',
  'serial',
  'maker',
  'location',
  'acquiredOn',
  'intervalMonths',
  'intervalReason',
] as const;

/** The fields in which two bodies differ; an emptied one becomes null. */
export function changesBetween(before: VesselDraft, after: VesselDraft): Omit<VesselChange, 'reason'> {
  const old: Record<string, unknown> = { ...readDraft(before).body, inUse: before.inUse };
  const next: Record<string, unknown> = { ...readDraft(after).body, inUse: after.inUse };
  for (const field of EMPTIED) {
    old[field] ??= null;
    next[field] ??= null;
  }
  const changed = Object.keys(next).filter((field) => JSON.stringify(next[field]) !== JSON.stringify(old[field]));
  return Object.fromEntries(changed.map((field) => [field, next[field]]));
}

const FIELDS = Object.keys(EMPTY_DRAFT) as (keyof VesselDraft)[];

/** My changes on top of what was saved meanwhile: where only the other one changed something, theirs stays. */
export function mergeDrafts(before: VesselDraft, mine: VesselDraft, present: VesselDraft): VesselDraft {
  const changes: Partial<VesselDraft> = Object.fromEntries(
    FIELDS.filter((field) => mine[field] !== before[field]).map((field) => [field, mine[field]] as const),
  );
  return { ...present, ...changes };
}

/** Fields in which the three versions differ, in words. */
export const versionsOf = (before: VesselDraft, mine: VesselDraft, present: VesselDraft) =>
  FIELDS.filter((field) => mine[field] !== before[field] || present[field] !== before[field]).map((field) => ({
    name: vesselText.facts[field] ?? field,
    before: inWords(before[field]),
    mine: inWords(mine[field]),
    present: inWords(present[field]),
  }));

const inWords = (value: string | boolean): string =>
  typeof value === 'string' ? value.replace('|', ':') : value ? text.words.yes : text.words.no;
