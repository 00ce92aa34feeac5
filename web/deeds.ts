/**
 * What is done beside the trials of a round – looking a vessel over, looking at the zero of the balance: kept in this
 * browser and sent under a key of its own until it is answered, so that a lost connection loses nothing.
 */
import { NetworkError, newKey, ProblemError } from './api.ts';

export interface Deed {
  /** Also the idempotency key. */
  id: string;
  path: string;
  body: Record<string, unknown>;
  /** In words, for whoever looks at what the server does not have yet. */
  what: string;
  /** Who did it; null before people exist. Undefined until that is known. */
  by?: string | null;
  /** Why the server refused it; it is not sent again. */
  refused: string | null;
}

interface DeedsOptions {
  storage: Pick<Storage, 'getItem' | 'setItem'>;
  send: (deed: Deed) => Promise<unknown>;
  who: () => Promise<string | null>;
  /** Reads the round anew; settles when what is in sight has the deed in it. */
  onSent: () => Promise<unknown>;
}

const SHELF = 'tarebook.deeds';
const WAIT_MS = 3_000;

export class Deeds {
  readonly #options: DeedsOptions;
  readonly #listeners = new Set<() => void>();
  #deeds: readonly Deed[];
  #answered: readonly Deed[] = [];
  #sending = false;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(options: DeedsOptions) {
    this.#options = options;
    this.#deeds = this.#left();
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };
  /** The same array until something changes. */
  readonly list = (): readonly Deed[] => this.#deeds;
  /** The server has them, and what is in sight does not show them yet. */
  readonly answered = (): readonly Deed[] => this.#answered;

  add(path: string, body: Record<string, unknown>, what: string): void {
    this.#set([...this.#deeds, { id: newKey(), path, body, what, refused: null }]);
    void this.sendAll();
  }

  /** Takes a refused one out of sight. */
  discard(id: string): void {
    this.#set(this.#deeds.filter((deed) => deed.id !== id));
  }

  async sendAll(): Promise<void> {
    if (this.#sending) return;
    this.#sending = true;
    clearTimeout(this.#timer);
    try {
      const me = await this.#options.who();
      this.#set(this.#deeds.map((deed) => (deed.by === undefined ? { ...deed, by: me } : deed)));
      // What another person did at this browser waits for that person.
      for (let next = this.#next(me); next; next = this.#next(me)) await this.#sendOne(next);
    } catch {
      this.#timer = setTimeout(() => void this.sendAll(), WAIT_MS);
    } finally {
      this.#sending = false;
    }
  }

  #next(me: string | null): Deed | undefined {
    return this.#deeds.find((deed) => deed.refused === null && (deed.by === undefined || deed.by === me));
  }

  /** @throws what is worth another try later */
  async #sendOne(deed: Deed): Promise<void> {
    try {
      await this.#options.send(deed);
    } catch (error) {
      const isPassing = !(error instanceof ProblemError) || error.status >= 500 || error.status === 401;
      if (isPassing) throw error instanceof Error ? error : new NetworkError();
      this.#set(this.#deeds.map((one) => (one.id === deed.id ? { ...one, refused: error.message } : one)));
      return;
    }
    this.#answered = [...this.#answered, deed];
    this.discard(deed.id);
    void this.#options.onSent().finally(() => {
      this.#answered = this.#answered.filter(({ id }) => id !== deed.id);
      this.#tell();
    });
  }

  #left(): Deed[] {
    try {
      return JSON.parse(this.#options.storage.getItem(SHELF) ?? '[]') as Deed[];
    } catch {
      return [];
    }
  }

  #set(deeds: readonly Deed[]): void {
    this.#deeds = deeds;
    try {
      this.#options.storage.setItem(SHELF, JSON.stringify(deeds));
    } catch {
      // A full or closed shelf: they are still sent from here.
    }
    this.#tell();
  }

  #tell(): void {
    for (const listener of this.#listeners) listener();
  }
}
