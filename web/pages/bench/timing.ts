/** Timing of one delivery: what a press of the one key means, and how a time stands to the standard's. */
import type { DeliveryLimits } from '../../../server/metrology/delivery-times.ts';
import { readNumber } from '../../parts/read-number.ts';

/** idle: nothing runs · delivering: since the jet was opened · waiting: since the meniscus came to rest. */
export type Timing = { phase: 'idle' } | { phase: 'delivering' | 'waiting'; sinceMs: number };

export const IDLE: Timing = { phase: 'idle' };

/** Times that a press settled, s as text. */
export interface Timed {
  deliveryTimeS?: string;
  waitingTimeS?: string;
}

/** A tenth of a second is as much as a hand on a key can tell. */
export const secondsText = (ms: number): string => (ms / 1000).toFixed(1);

/**
 * One press: delivery begins; delivery ends, and the waiting begins where the vessel asks for one; the waiting ends.
 * @param nowMs of a clock that only goes forward
 * @param waits the vessel asks for a waiting time
 */
export function press(timing: Timing, nowMs: number, waits: boolean): { timing: Timing; timed: Timed } {
  if (timing.phase === 'idle') return { timing: { phase: 'delivering', sinceMs: nowMs }, timed: {} };
  const seconds = secondsText(nowMs - timing.sinceMs);
  if (timing.phase === 'waiting') return { timing: IDLE, timed: { waitingTimeS: seconds } };
  return {
    timing: waits ? { phase: 'waiting', sinceMs: nowMs } : IDLE,
    timed: { deliveryTimeS: seconds },
  };
}

/** Keys a hand presses lie further apart than those of a balance that types. */
const HAND_MS = 80;

/**
 * Whether a key press is a hand's on the timing key: not held down, and not in the midst of what a balance types.
 * @param sinceLastKeyMs time since the key press before, ms
 */
export const isTimingKey = (event: { key: string; repeat: boolean }, sinceLastKeyMs: number): boolean =>
  event.key === TIMING_KEY && !event.repeat && sinceLastKeyMs > HAND_MS;

/** A function key: no balance or scanner types it, and browsers leave it alone. */
export const TIMING_KEY = 'F8';

export type TimeStanding = 'within' | 'too-short' | 'too-long';

/** How a time stands to the limits of the standard; both ends are inside. */
export function standingOf(seconds: string, { min, max }: DeliveryLimits): TimeStanding | null {
  const read = readNumber(seconds, 's');
  if (!read.ok) return null;
  const value = Number(read.value);
  if (value < min) return 'too-short';
  return max !== undefined && value > max ? 'too-long' : 'within';
}
