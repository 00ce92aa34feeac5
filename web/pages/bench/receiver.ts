/** How the receiver is weighed under a vessel that delivers: chosen once for a calibration, remembered in the browser. */
import type { EmptySource } from '../../../server/metrology/record.ts';
import { readNumber } from '../../parts/read-number.ts';

/** emptied: weighed empty for each delivery · cumulative: not emptied, each reading begins the next trial · tared. */
export const RECEIVER_WAYS = ['emptied', 'cumulative', 'tared'] as const;
export type ReceiverWay = (typeof RECEIVER_WAYS)[number];

export interface Receiver {
  way: ReceiverWay;
  /** As typed, where the balance of the record has none; empty where nobody knows. */
  capacityG: string;
}

const SOURCES: Record<ReceiverWay, EmptySource> = { emptied: 'own', cumulative: 'carried', tared: 'tared' };
export const sourceOf = (way: ReceiverWay): EmptySource => SOURCES[way];

interface Weighed {
  emptySource?: EmptySource | null | undefined;
}

/** The way the trials so far were weighed: one carried reading shows that the receiver is not emptied. */
export function wayOf(trials: readonly Weighed[]): ReceiverWay {
  if (trials.some(({ emptySource }) => emptySource === 'carried')) return 'cumulative';
  return trials.at(-1)?.emptySource === 'tared' ? 'tared' : 'emptied';
}

const shelfOf = (calibrationId: string): string => `tarebook-receiver-${calibrationId}`;
const isWay = (value: unknown): value is ReceiverWay => RECEIVER_WAYS.some((way) => way === value);

/** What was chosen at this browser; else what the trials show. A browser that keeps nothing asks again. */
export function rememberedReceiver(calibrationId: string, trials: readonly Weighed[]): Receiver {
  const shown: Receiver = { way: wayOf(trials), capacityG: '' };
  try {
    const kept = JSON.parse(localStorage.getItem(shelfOf(calibrationId)) ?? '{}') as Partial<Record<string, unknown>>;
    const { way, capacityG } = kept;
    return { way: isWay(way) ? way : shown.way, capacityG: typeof capacityG === 'string' ? capacityG : '' };
  } catch {
    return shown;
  }
}

export function rememberReceiver(calibrationId: string, receiver: Receiver): void {
  try {
    localStorage.setItem(shelfOf(calibrationId), JSON.stringify(receiver));
  } catch {
    // The choice holds as long as the page is open.
  }
}

/**
 * What the balance will have to carry after the next delivery into a receiver that is not emptied.
 * @param standingG last reading, g
 * @param pointMl volume to be delivered, mL; a millilitre of water weighs close to a gram
 * @param capacityG of the balance, g; empty or unreadable where it is not known
 * @returns load in g and whether it is above the capacity; null where one of them is not known
 */
export function loadAfterNext(
  standingG: string,
  pointMl: string,
  capacityG: string,
): { loadG: number; isAbove: boolean } | null {
  const capacity = readNumber(capacityG, 'g');
  const loadG = Number(standingG) + Number(pointMl);
  if (!capacity.ok || !Number.isFinite(loadG)) return null;
  return { loadG, isAbove: loadG > Number(capacity.value) };
}
