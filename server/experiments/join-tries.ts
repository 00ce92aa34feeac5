/**
 * How often codes may be tried. A class of thirty behind one address comes in at once, and somebody who guesses gets
 * nowhere: a place has 60 tries at once and one more each second, all places together 600 and ten. A right code gives its
 * try back.
 */
import { placeOf } from '../people/guesses.ts';
import { Problem } from '../problem.ts';

const PLACE = { size: 60, perSecond: 1 };
const OVERALL = { size: 600, perSecond: 10 };
const MOST_PLACES = 10_000;

interface Bucket {
  left: number;
  atMs: number;
}

const filled = (bucket: Bucket | undefined, { size, perSecond }: typeof PLACE, nowMs: number): Bucket => {
  if (!bucket) return { left: size, atMs: nowMs };
  const gained = (Math.max(0, nowMs - bucket.atMs) / 1000) * perSecond;
  return { left: Math.min(size, bucket.left + gained), atMs: nowMs };
};

export class JoinTries {
  readonly #clock: () => Date;
  readonly #places = new Map<string, Bucket>();
  #overall: Bucket | undefined;

  constructor(clock: () => Date) {
    this.#clock = clock;
  }

  /**
   * One try from an address.
   * @param attempt resolves to null for a wrong code
   * @throws Problem `too-many-requests` before anything is looked up
   */
  async attempt<T>(address: string, attempt: () => Promise<T | null>): Promise<T | null> {
    const place = placeOf(address);
    this.#take(place);
    const result = await attempt();
    if (result !== null) this.#giveBack(place);
    return result;
  }

  #take(place: string): void {
    const nowMs = this.#clock().getTime();
    const own = filled(this.#places.get(place), PLACE, nowMs);
    const overall = filled(this.#overall, OVERALL, nowMs);
    if (own.left < 1 || overall.left < 1) {
      const waitS = Math.max((1 - own.left) / PLACE.perSecond, (1 - overall.left) / OVERALL.perSecond);
      throw tooMany(Math.max(1, Math.ceil(waitS)));
    }
    own.left -= 1;
    overall.left -= 1;
    this.#overall = overall;
    this.#places.delete(place);
    this.#places.set(place, own);
    const oldest = this.#places.keys().next();
    if (this.#places.size > MOST_PLACES && !oldest.done) this.#places.delete(oldest.value);
  }

  #giveBack(place: string): void {
    const own = this.#places.get(place);
    if (own) own.left = Math.min(PLACE.size, own.left + 1);
    if (this.#overall) this.#overall.left = Math.min(OVERALL.size, this.#overall.left + 1);
  }
}

const tooMany = (seconds: number): Problem =>
  new Problem('too-many-requests', {
    detail: `Too many codes were tried. Try again in ${seconds} s.`,
    headers: { 'retry-after': String(seconds) },
  });
