/**
 * Wrong tries are counted for each account from each place. A place is a browser that signed in to that account before, or
 * an address: so nobody locks a person out of a browser they use, and right sign-ins are never counted.
 */
import { isIPv6 } from 'node:net';
import { Problem } from '../problem.ts';

const FREE_TRIES = 5;
const FIRST_WAIT_MS = 2_000;
const LONGEST_WAIT_MS = 300_000;
const FORGOTTEN_AFTER_MS = 24 * 3_600_000;
const MOST_KEPT = 10_000;
const MOST_WAITING = 40;

interface Tries {
  wrong: number;
  blockedUntilMs: number;
  lastMs: number;
}

const groupsOf = (address: string): string[] => {
  const [head = '', tail] = (address.split('%')[0] ?? '').split('::');
  const left = head === '' ? [] : head.split(':');
  if (tail === undefined) return left;
  const right = tail === '' ? [] : tail.split(':');
  return [...left, ...Array.from({ length: Math.max(0, 8 - left.length - right.length) }, () => '0'), ...right];
};

/** An IPv4 address itself; of an IPv6 address the half that names the network, since a machine has the other half free. */
export const placeOf = (address: string): string => {
  const mapped = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(address)?.[1];
  if (mapped) return mapped;
  if (!isIPv6(address)) return address;
  return `${groupsOf(address)
    .slice(0, 4)
    .map((group) => Number.parseInt(group, 16).toString(16))
    .join(':')}::/64`;
};

export class Guesses {
  readonly #clock: () => Date;
  readonly #tries = new Map<string, Tries>();
  readonly #queues = new Map<string, { last: Promise<unknown>; length: number }>();

  constructor(clock: () => Date) {
    this.#clock = clock;
  }

  /**
   * One try. Tries of one account from one place come after one another, so that many at once are no way around.
   * @param attempt resolves to null when the guess was wrong
   * @throws Problem `too-many-requests` while it must wait
   */
  async attempt<T>(account: string, place: string, attempt: () => Promise<T | null>): Promise<T | null> {
    const key = `${account}\n${place}`;
    const queue = this.#queues.get(key) ?? { last: Promise.resolve(), length: 0 };
    if (queue.length >= MOST_WAITING) throw tooMany(FIRST_WAIT_MS);
    queue.length += 1;
    const mine = queue.last.then(() => this.#now(key, attempt));
    queue.last = mine.catch(() => undefined);
    this.#queues.set(key, queue);
    try {
      return await mine;
    } finally {
      queue.length -= 1;
      if (queue.length === 0) this.#queues.delete(key);
    }
  }

  async #now<T>(key: string, attempt: () => Promise<T | null>): Promise<T | null> {
    const nowMs = this.#clock().getTime();
    const known = this.#tries.get(key);
    if (known && nowMs < known.blockedUntilMs) throw tooMany(known.blockedUntilMs - nowMs);
    const result = await attempt();
    if (result === null) this.#count(key);
    else this.#tries.delete(key);
    return result;
  }

  #count(key: string): void {
    const nowMs = this.#clock().getTime();
    const known = this.#tries.get(key);
    const wrong = known && nowMs - known.lastMs < FORGOTTEN_AFTER_MS ? known.wrong + 1 : 1;
    const waitMs = wrong < FREE_TRIES ? 0 : Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** (wrong - FREE_TRIES));
    this.#tries.delete(key);
    this.#tries.set(key, { wrong, blockedUntilMs: nowMs + waitMs, lastMs: nowMs });
    const oldest = this.#tries.keys().next();
    if (this.#tries.size > MOST_KEPT && !oldest.done) this.#tries.delete(oldest.value);
  }
}

const tooMany = (waitMs: number): Problem => {
  const seconds = Math.max(1, Math.ceil(waitMs / 1000));
  return new Problem('too-many-requests', {
    detail: `Too many wrong tries from here. Try again in ${seconds} s.`,
    headers: { 'retry-after': String(seconds) },
  });
};
