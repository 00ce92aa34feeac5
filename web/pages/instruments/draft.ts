/** The form's values: what each kind asks for, and how typed text becomes a body and back. */
import type { Instrument, InstrumentKind } from '../../../server/instruments/contract.ts';
import { instrumentsText } from '../../messages/en-instruments.ts';
import { readNumber } from '../../parts/read-number.ts';

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

/** The body as the server takes it: only fields of the kind, only what was typed. */
export function readDraft(draft: InstrumentDraft): DraftRead {
  const body: InstrumentBodyDraft = { kind: draft.kind };
  const problems: Record<string, string> = {};
  for (const field of WORDS) {
    const typed = (draft.texts[field] ?? '').trim();
    if (typed === '' && field !== 'tag') continue;
    body[field] = typed;
    if ((field === 'certificateOn' || field === 'dueOn') && !isDay(typed))
      problems[field] = instrumentsText.form.badDay;
  }
  for (const field of quantitiesOf(draft.kind)) {
    const typed = draft.texts[field] ?? '';
    if (typed.trim() === '') continue;
    const read = readNumber(typed, UNITS[field]);
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
  const rows: CorrectionRow[] = [];
  const seen = new Set<number>();
  for (const [index, row] of corrections.entries()) {
    if (row.at.trim() === '' && row.correction.trim() === '') continue;
    const at = readNumber(row.at, READING_UNITS[kind]);
    const correction = readNumber(row.correction, READING_UNITS[kind]);
    if (!at.ok) problems[`corrections/${index}/at`] = at.problem;
    if (!correction.ok) problems[`corrections/${index}/correction`] = correction.problem;
    if (!at.ok || !correction.ok) continue;
    if (seen.has(Number(at.value))) problems[`corrections/${index}/at`] = instrumentsText.corrections.twice;
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

/** Fields in which two drafts differ, in the order of the form, with both texts. */
export function differences(mine: InstrumentDraft, present: InstrumentDraft) {
  const fields: TextField[] = [...WORDS, ...quantitiesOf(mine.kind), 'degreesOfFreedom'];
  const texts = fields.map((field) => ({
    field,
    mine: mine.texts[field]?.trim() ?? '',
    present: present.texts[field]?.trim() ?? '',
  }));
  const covers = (draft: InstrumentDraft) => draft.covers.map((one) => instrumentsText.covers[one]).join(', ');
  const table = (draft: InstrumentDraft) => draft.corrections.map((row) => `${row.at}: ${row.correction}`).join('; ');
  const use = (draft: InstrumentDraft) => (draft.inUse ? instrumentsText.page.inUse : instrumentsText.outOfUse);
  return [
    ...texts,
    { field: 'certificateCovers' as const, mine: covers(mine), present: covers(present) },
    { field: 'corrections' as const, mine: table(mine), present: table(present) },
    { field: 'inUse' as const, mine: use(mine), present: use(present) },
  ].filter((one) => one.mine !== one.present);
}
