/** One trial while it is typed: what is carried over from the trial before, and how its fields are read. */
import type { TrialBody } from '../../../server/calibrations/contract.ts';
import type { EmptySource } from '../../../server/metrology/record.ts';
import { newKey } from '../../api.ts';
import type { OutboxEntry, TypedTrial } from '../../outbox.ts';
import { readNumber } from '../../parts/read-number.ts';
import { deliveryText } from '../../messages/en-delivery.ts';
import { decimalsOf } from '../../parts/rounding.ts';
import { type ReceiverWay, sourceOf } from './receiver.ts';

/** A trial before this one, saved or on its way. */
export interface EarlierTrial {
  number: number;
  pointMl: string;
  emptyG: string;
  filledG: string;
  waterTemperatureC: string;
  waterTemperatureHalfWidthC?: string | null | undefined;
  emptySource?: EmptySource | null | undefined;
  emptyState?: 'dry' | 'drained' | null | undefined;
  tip?: string | null | undefined;
  channel?: number | null | undefined;
  drainPosition?: string | null | undefined;
}

/** The readings an empty reading can be taken over from: the last dry one, and the last filled one. */
export interface TakenOver {
  reused: EarlierTrial | null;
  carried: EarlierTrial | null;
}

export const takenOverFrom = (earlier: readonly EarlierTrial[]): TakenOver => ({
  reused: earlier.findLast((trial) => (trial.emptySource ?? 'own') === 'own') ?? null,
  carried: earlier.at(-1) ?? null,
});

export const BLANK_TRIAL: TypedTrial = {
  emptyG: '',
  filledG: '',
  waterTemperatureC: '',
  isAssumed: false,
  waterTemperatureHalfWidthC: '',
  emptySource: 'own',
  emptyState: '',
  emptyOf: null,
  deliveryTimeS: '',
  waitingTimeS: '',
  openTimeS: '',
  tip: '',
  channel: '',
  drainPosition: '',
  note: '',
};

const waterAsIn = (last: EarlierTrial) => ({
  waterTemperatureC: last.waterTemperatureC,
  isAssumed: last.waterTemperatureHalfWidthC != null,
  waterTemperatureHalfWidthC: last.waterTemperatureHalfWidthC ?? '',
});

/**
 * Nothing is asked twice: water temperature, tip, channel and the way the tip is held are as in the trial before, and can
 * be changed. The empty reading comes from where the way of working says, else from where it came before. On a sheet each
 * trial has its own water temperature, which is never filled in by itself.
 */
export function nextEntry(
  of: { calibrationId: string; tag: string; pointMl: string },
  earlier: readonly EarlierTrial[],
  way: ReceiverWay | null = null,
  isFromSheet = false,
): OutboxEntry {
  const last = earlier.at(-1);
  const typed: TypedTrial = last
    ? {
        ...BLANK_TRIAL,
        ...(isFromSheet ? {} : waterAsIn(last)),
        emptyState: last.emptyState ?? '',
        tip: last.tip ?? '',
        channel: last.channel == null ? '' : String(last.channel),
        drainPosition: last.drainPosition ?? '',
      }
    : BLANK_TRIAL;
  const source = way === null ? (last?.emptySource ?? 'own') : sourceOf(way);
  return {
    ...of,
    id: newKey(),
    madeAt: Date.now(),
    state: 'typed',
    typed: withEmptySource(typed, source, takenOverFrom(earlier)),
    body: null,
    problem: null,
    savedNumber: null,
  };
}

/** The typed trial with another origin of its empty reading; a reading taken over fills the field. */
export function withEmptySource(typed: TypedTrial, source: EmptySource, from: TakenOver): TypedTrial {
  if (source === 'tared') return { ...typed, emptySource: source, emptyOf: null, emptyG: '0' };
  const trial = source === 'reused' ? from.reused : source === 'carried' ? from.carried : null;
  if (trial === null)
    return { ...typed, emptySource: 'own', emptyOf: null, emptyG: typed.emptySource === 'own' ? typed.emptyG : '' };
  const reading = source === 'reused' ? trial.emptyG : trial.filledG;
  return { ...typed, emptySource: source, emptyOf: trial.number, emptyG: reading };
}

/** What was carried over follows the last filled reading, also where that one came later or was corrected. */
export function followCarried(typed: TypedTrial, from: TakenOver): TypedTrial {
  const isBehind =
    typed.emptySource === 'carried' &&
    from.carried !== null &&
    (typed.emptyOf !== from.carried.number || typed.emptyG !== from.carried.filledG);
  return isBehind ? withEmptySource(typed, 'carried', from) : typed;
}

export type EntryField = 'emptyG' | 'filledG' | 'waterTemperatureC';
export const UNITS: Record<EntryField, string> = { emptyG: 'g', filledG: 'g', waterTemperatureC: '°C' };

const TIMES = ['deliveryTimeS', 'waitingTimeS', 'openTimeS'] as const;
type Optional = 'waterTemperatureHalfWidthC' | (typeof TIMES)[number];

export type FieldProblems = Partial<Record<string, string>>;

/** Body of a complete trial, or the fields that cannot be read yet. */
export function readEntry(entry: Pick<OutboxEntry, 'pointMl' | 'typed'>): {
  body: TrialBody | null;
  problems: FieldProblems;
} {
  const { typed } = entry;
  const problems: FieldProblems = {};
  const value = (field: EntryField | Optional, unit: string): string => {
    const read = readNumber(typed[field], unit);
    if (read.ok) return read.value;
    problems[field] = read.problem;
    return '';
  };
  const filledG = value('filledG', 'g');
  const emptyG = typed.emptySource === 'tared' ? zeroLike(filledG) : value('emptyG', 'g');
  const waterTemperatureC = value('waterTemperatureC', '°C');
  const optional: Partial<Record<Optional, string>> = {};
  if (typed.isAssumed) optional.waterTemperatureHalfWidthC = value('waterTemperatureHalfWidthC', '°C');
  for (const field of TIMES) if (typed[field].trim() !== '') optional[field] = value(field, 's');
  const channel = readChannel(typed.channel ?? '');
  if (channel === null) problems.channel = deliveryText.channelWhole;
  if (Object.keys(problems).length > 0) return { body: null, problems };
  return {
    problems,
    body: {
      pointMl: entry.pointMl,
      emptyG,
      filledG,
      waterTemperatureC,
      ...optional,
      ...(typed.isCarried ? { waterTemperatureSource: 'carried' as const } : {}),
      ...(typed.emptySource === 'own' ? {} : { emptySource: typed.emptySource }),
      ...(typed.emptyOf === null ? {} : { emptyOf: typed.emptyOf }),
      ...(typed.emptyState === '' ? {} : { emptyState: typed.emptyState }),
      ...(typed.tip?.trim() ? { tip: typed.tip.trim() } : {}),
      ...(channel == null ? {} : { channel }),
      ...(typed.drainPosition ? { drainPosition: typed.drainPosition } : {}),
      ...(typed.note.trim() === '' ? {} : { note: typed.note.trim() }),
    },
  };
}

const MOST_CHANNELS = 384;

/** @returns undefined for an empty field, null for what is no channel */
function readChannel(typed: string): number | null | undefined {
  if (typed.trim() === '') return undefined;
  const channel = Number(typed.trim());
  return /^\s*\d+\s*$/.test(typed) && channel >= 1 && channel <= MOST_CHANNELS ? channel : null;
}

/** A zero with as many decimals as the reading, as a tared display shows it. */
const zeroLike = (reading: string): string => {
  const decimals = decimalsOf(reading);
  return decimals === 0 ? '0' : `0.${'0'.repeat(decimals)}`;
};
