/** The form's values: what each kind asks for, and how typed text becomes a body and back. */
import type { Instrument, InstrumentKind } from '../../../server/instruments/contract.ts';
import { instrumentsText } from '../../messages/en-instruments.ts';
import { readNumber } from '../../parts/read-number.ts';
import type { VersionsRow } from '../../parts/versions.tsx';

export const KINDS: readonly InstrumentKind[] = ['balance', 'thermometer', 'barometer', 'hygrometer'];
export const COVERED = ['resolution', 'linearity', 'repeatability'] as const;
export type Covered = (typeof COVERED)[number];

type Words =
  'tag' | 'maker' | 'model' | 'serial' | 'location' | 'certificateNumber' | 'certificateOn' | 'dueOn' | 'note';
export type QuantityField =
  | 'resolutionG'
  | 'repeatabilityG'
  | 'linearityG'
  | 'capacityG'
  | 'driftRelative'
  | 'expandedUncertaintyG'
  | 'expandedUncertaintyRelative'
  | 'resolutionC'
  | 'expandedUncertaintyC'
  | 'gradientC'
  | 'expandedUncertaintyHpa'
  | 'expandedUncertaintyPercent'
  | 'coverageFactor';
export type TextField = Words | QuantityField | 'degreesOfFreedom';

export interface CorrectionRow {
  at: string;
  correction: string;
}

/** Everything typed, whatever the kind: switching the kind there and back loses nothing. */
export interface InstrumentDraft {
  kind: InstrumentKind;
  texts: Partial<Record<TextField, string>>;
  covers: readonly Covered[];
  corrections: readonly CorrectionRow[];
  inUse: boolean;
}

export const UNITS: Record<QuantityField, string> = {
  resolutionG: 'g',
  repeatabilityG: 'g',
  linearityG: 'g',
  capacityG: 'g',
  driftRelative: '',
  expandedUncertaintyG: 'g',
  expandedUncertaintyRelative: '',
  resolutionC: '°C',
  expandedUncertaintyC: '°C',
  gradientC: '°C',
  expandedUncertaintyHpa: 'hPa',
  expandedUncertaintyPercent: '%',
  coverageFactor: '',
};

/** Unit of the readings, and so of their corrections. */
export const READING_UNITS: Record<InstrumentKind, string> = {
  balance: 'g',
  thermometer: '°C',
  barometer: 'hPa',
  hygrometer: '%',
};

interface FieldsOfKind {
  display: readonly QuantityField[];
  behaviour: readonly QuantityField[];
  certificate: readonly QuantityField[];
}

/** Quantities a kind has, in the groups of the form. */
export const FIELDS: Record<InstrumentKind, FieldsOfKind> = {
  balance: {
    display: ['resolutionG', 'capacityG'],
    behaviour: ['repeatabilityG', 'linearityG', 'driftRelative'],
    certificate: ['expandedUncertaintyG', 'expandedUncertaintyRelative', 'coverageFactor'],
  },
  thermometer: {
    display: ['resolutionC'],
    behaviour: ['gradientC'],
    certificate: ['expandedUncertaintyC', 'coverageFactor'],
  },
  barometer: { display: [], behaviour: [], certificate: ['expandedUncertaintyHpa', 'coverageFactor'] },
  hygrometer: { display: [], behaviour: [], certificate: ['expandedUncertaintyPercent', 'coverageFactor'] },
};

export const WORDS: readonly Words[] = [
  'tag',
  'maker',
  'model',
  'serial',
  'location',
  'certificateNumber',
  'certificateOn',
  'dueOn',
  'note',
];

export const quantitiesOf = (kind: InstrumentKind): QuantityField[] => {
  const { display, behaviour, certificate } = FIELDS[kind];
  return [...display, ...behaviour, ...certificate];
};

export const EMPTY_ROW: CorrectionRow = { at: '', correction: '' };
export const emptyDraft = (kind: InstrumentKind): InstrumentDraft => ({
  kind,
  texts: {},
  covers: [],
  corrections: [],
  inUse: true,
});

export type InstrumentBodyDraft = Record<string, unknown>;
export interface DraftRead {
  body: InstrumentBodyDraft;
  /** By the name of the field. */
  problems: Record<string, string>;
}

const DAY = /^\d{4}-\d{2}-\d{2}$/;
const isDay = (typed: string): boolean => {
  const time = Date.parse(`${typed}T00:00:00Z`);
  return DAY.test(typed) && Number.isFinite(time) && new Date(time).toISOString().startsWith(typed);
};

/** Small shares are often printed with an exponent: 1.5e-6 is written out, 0.0000015, with the same digits. */
function writtenOut(typed: string): string {
  const match = /^\s*(\d+)(?:[.,](\d+))?[eE][-−](\d{1,2})\s*$/.exec(typed);
  if (!match) return typed;
  const [, whole = '', fraction = '', exponent = '0'] = match;
  const places = Number(exponent);
  const digits = whole.padStart(places + 1, '0');
  return `${digits.slice(0, digits.length - places)}.${digits.slice(digits.length - places)}${fraction}`;
}

const isRelative = (field: QuantityField): boolean =>
  field === 'driftRelative' || field === 'expandedUncertaintyRelative';

const readQuantity = (field: QuantityField, typed: string) =>
  readNumber(isRelative(field) ? writtenOut(typed) : typed, UNITS[field]);

/** A relative quantity in parts in a million, as it stands on most papers; null for other fields and unclear numbers. */
export function partsPerMillion(field: QuantityField, typed: string): string | null {
  if (!isRelative(field)) return null;
  const read = readQuantity(field, typed);
  return read.ok ? String(Number((Number(read.value) * 1e6).toPrecision(4))) : null;
}

/** The body as the server takes it: only fields of the kind, only what was typed. */
export function readDraft(draft: InstrumentDraft): DraftRead {
  const body: InstrumentBodyDraft = { kind: draft.kind };
  const problems: Record<string, string> = {};
  for (const field of WORDS) {
    const typed = (draft.texts[field] ?? '').trim();
    if (typed === '' && field !== 'tag') continue;
    body[field] = typed;
    if ((field === 'certificateOn' || field === 'dueOn') && !isDay(typed))
      problems[field] = instrumentsText.form.badDay(instrumentsText.fields[field]);
  }
  for (const field of quantitiesOf(draft.kind)) {
    const typed = draft.texts[field] ?? '';
    if (typed.trim() === '') continue;
    const read = readQuantity(field, typed);
    if (read.ok) body[field] = read.value;
    else problems[field] = read.problem;
  }
  readDegrees(draft, body, problems);
  if (draft.kind === 'balance' && draft.covers.length > 0) body.certificateCovers = [...draft.covers];
  readCorrections(draft, body, problems);
  return { body, problems };
}

function readDegrees({ texts }: InstrumentDraft, body: InstrumentBodyDraft, problems: Record<string, string>): void {
  const typed = (texts.degreesOfFreedom ?? '').trim();
  if (typed === '') return;
  if (/^[1-9]\d{0,6}$/.test(typed)) body.degreesOfFreedom = Number(typed);
  else problems.degreesOfFreedom = instrumentsText.form.wholeNumber;
}

/** Rows left empty are left out; a row half filled is a problem of its empty field. */
function readCorrections(
  { corrections, kind }: InstrumentDraft,
  body: InstrumentBodyDraft,
  problems: Record<string, string>,
): void {
  const words = instrumentsText.corrections;
  const rows: CorrectionRow[] = [];
  const seen = new Set<number>();
  for (const [index, row] of corrections.entries()) {
    if (row.at.trim() === '' && row.correction.trim() === '') continue;
    const at = readNumber(row.at, READING_UNITS[kind]);
    const correction = readNumber(row.correction, READING_UNITS[kind]);
    if (!at.ok) problems[`corrections/${index}/at`] = words.problem(index + 1, at.problem);
    if (!correction.ok) problems[`corrections/${index}/correction`] = words.problem(index + 1, correction.problem);
    if (!at.ok || !correction.ok) continue;
    if (seen.has(Number(at.value))) problems[`corrections/${index}/at`] = words.twice(index + 1);
    seen.add(Number(at.value));
    rows.push({ at: at.value, correction: correction.value });
  }
  if (rows.length > 0) body.corrections = rows;
}

/** An entry of the register as text in the form. */
export function draftOf(instrument: Instrument): InstrumentDraft {
  const texts: Partial<Record<TextField, string>> = {};
  for (const field of [...WORDS, ...quantitiesOf(instrument.kind)]) {
    const value = instrument[field];
    if (value !== undefined) texts[field] = value;
  }
  if (instrument.degreesOfFreedom !== undefined) texts.degreesOfFreedom = String(instrument.degreesOfFreedom);
  return {
    kind: instrument.kind,
    texts,
    covers: instrument.certificateCovers ?? [],
    corrections: instrument.corrections ?? [],
    inUse: instrument.inUse,
  };
}

/**
 * Two columns from a sheet as rows: tab, semicolon or several spaces between the columns. Null when it is no table of
 * two columns; then the text is pasted as it is.
 */
export function pastedRows(pasted: string): CorrectionRow[] | null {
  const lines = pasted
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter((line) => line !== '');
  const rows = lines.map((line) => line.split(/\t|;|\s{2,}| (?=[-−+]?\d)/).map((cell) => cell.trim()));
  if (rows.length === 0 || rows.some((cells) => cells.length !== 2)) return null;
  return rows.map(([at = '', correction = '']) => ({ at, correction }));
}

type FieldName = keyof typeof instrumentsText.fields;

/** Every field of the form in words, in its order. */
function inWords(draft: InstrumentDraft): [FieldName, string][] {
  const texts: TextField[] = [...WORDS, ...quantitiesOf(draft.kind), 'degreesOfFreedom'];
  return [
    ...texts.map((field): [FieldName, string] => [field, draft.texts[field]?.trim() ?? '']),
    ['certificateCovers', draft.covers.map((one) => instrumentsText.covers[one]).join(', ')],
    ['corrections', draft.corrections.map((row) => `${row.at}: ${row.correction}`).join('; ')],
    ['inUse', draft.inUse ? instrumentsText.page.inUse : instrumentsText.outOfUse],
  ];
}

export const isSame = (one: InstrumentDraft, other: InstrumentDraft): boolean =>
  JSON.stringify(inWords(one)) === JSON.stringify(inWords(other));

/** Fields in which the three differ, in words. */
export function versionsOf(before: InstrumentDraft, mine: InstrumentDraft, present: InstrumentDraft): VersionsRow[] {
  const old = new Map(inWords(before));
  const saved = new Map(inWords(present));
  return inWords(mine)
    .map(([field, words]) => ({
      name: instrumentsText.fields[field],
      before: old.get(field) ?? '',
      mine: words,
      present: saved.get(field) ?? '',
    }))
    .filter((row) => row.mine !== row.before || row.present !== row.before);
}

/** What I changed, on top of what was saved meanwhile. The table of corrections and the ticks count as one field each. */
export function merge(before: InstrumentDraft, mine: InstrumentDraft, present: InstrumentDraft): InstrumentDraft {
  const old = new Map(inWords(before));
  const changed = new Set(inWords(mine).flatMap(([field, words]) => (words === old.get(field) ? [] : [field])));
  const texts = { ...present.texts };
  for (const field of [...WORDS, ...quantitiesOf(mine.kind), 'degreesOfFreedom'] as const)
    if (changed.has(field)) texts[field] = mine.texts[field] ?? '';
  return {
    kind: present.kind,
    texts,
    covers: changed.has('certificateCovers') ? mine.covers : present.covers,
    corrections: changed.has('corrections') ? mine.corrections : present.corrections,
    inUse: changed.has('inUse') ? mine.inUse : present.inUse,
  };
}
