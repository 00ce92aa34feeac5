/**
 * Bench entries that the server does not have yet. Kept in the browser from the first key on; sent with a key of their
 * own, again and again until answered, so that nothing is lost and nothing recorded twice.
 */
import type { TrialBody } from '../server/calibrations/contract.ts';
import type { EmptySource, EmptyState } from '../server/metrology/record.ts';
import type { ProblemCode } from '../server/problem-codes.ts';
import { NetworkError, newKey, ProblemError } from './api.ts';
import { text } from './messages/en.ts';

/** Fields of a trial as typed, before anything is read into them. */
export interface TypedTrial {
  emptyG: string;
  filledG: string;
  waterTemperatureC: string;
  /** The water temperature was not read; its half-width says how far it may be off. */
  isAssumed: boolean;
  waterTemperatureHalfWidthC: string;
  /** The one temperature of a round of vessels, not read for this trial. */
  isCarried?: boolean;
  emptySource: EmptySource;
  emptyState: EmptyState | '';
  /** Trial whose reading is reused or carried; null otherwise. */
  emptyOf: number | null;
  deliveryTimeS: string;
  waitingTimeS: string;
  openTimeS: string;
  /** Of vessels that deliver; absent in entries kept by an earlier version of the page. */
  tip?: string;
  channel?: string;
  drainPosition?: string;
  note: string;
}

/**
 * typed: still being entered · waiting: complete, to be sent · sending · saved: the server has it · failed: refused, has to
 * be changed or taken out.
 */
export type EntryState = 'typed' | 'waiting' | 'sending' | 'saved' | 'failed';

export interface EntryProblem {
  code: string;
  detail: string;
  fields: { field: string; detail: string; confirm?: string }[];
}

export interface OutboxEntry {
  /** Also the idempotency key. */
  id: string;
  calibrationId: string;
  /** Tag of the vessel, for the list of what is not sent. */
  tag: string;
  pointMl: string;
  /** Who completed it; null before people exist. Nobody else's session sends it. */
  typedBy?: string | null;
  /** Order of entry. */
  madeAt: number;
  /** In a grid of vessels: the trial it was begun at, counted from 0. */
  slot?: number;
  state: EntryState;
  typed: TypedTrial;
  body: TrialBody | null;
  problem: EntryProblem | null;
  savedNumber: number | null;
}

export interface OutboxStorage {
  load(): Promise<OutboxEntry[]>;
  put(entry: OutboxEntry): Promise<void>;
  remove(id: string): Promise<void>;
}

export interface OutboxOptions {
  storage: OutboxStorage;
  /** Who is signed in, null for nobody; rejects while that cannot be known. */
  who: () => Promise<string | null>;
  /** Sends one entry under its key; resolves with the trial's number. */
  send: (entry: OutboxEntry & { body: TrialBody }) => Promise<{ number: number }>;
  /** The server has a new trial; resolves once the page shows it from there. */
  onSaved: (entry: OutboxEntry) => Promise<void>;
}

/** Marks an entry that waits for the person who typed it. */
const OF_ANOTHER = 'typed-by-another';
const isReady = (entry: OutboxEntry): boolean => entry.state === 'waiting' && entry.problem?.code !== OF_ANOTHER;

const FIRST_WAIT_MS = 2_000;
const LONGEST_WAIT_MS = 60_000;

/** Refusals that say nothing about the entry itself: it is sent again later, unchanged. */
const PASSING: ReadonlySet<ProblemCode> = new Set(['not-signed-in', 'too-many-requests', 'internal', 'storage-full']);

export class Outbox {
  readonly #options: OutboxOptions;
  readonly #listeners = new Set<() => void>();
  #entries: readonly OutboxEntry[] = [];
  #storageFails = false;
  #sending: Promise<void> | null = null;
  #waitMs = FIRST_WAIT_MS;
  #timer: ReturnType<typeof setTimeout> | undefined;

  constructor(options: OutboxOptions) {
    this.#options = options;
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };
  /** The same array until something changes. */
  readonly entries = (): readonly OutboxEntry[] => this.#entries;
  /** True once the browser refused to keep an entry: then a reload would lose it, and the page says so. */
  readonly storageFails = (): boolean => this.#storageFails;

  /** Takes up what an earlier visit left. A sending that was cut off is sent again under its old key. */
  async start(): Promise<void> {
    try {
      const left = await this.#options.storage.load();
      const known = new Set(this.#entries.map((entry) => entry.id));
      const again = left
        .filter((entry) => !known.has(entry.id))
        .map((entry) => (entry.state === 'sending' ? { ...entry, state: 'waiting' as const } : entry));
      this.#set([...again, ...this.#entries].sort((a, b) => a.madeAt - b.madeAt));
    } catch {
      this.#noteStorageFails();
    }
    await this.sendAll();
  }

  /**
   * Keeps an entry as typed; a refused one that is changed counts as typed again, under its old key. Where another tab
   * has used that key for other values, it gets a new one: under the old one it would be refused for ever.
   */
  async type(entry: OutboxEntry): Promise<void> {
    const known = this.#entries.find((one) => one.id === entry.id);
    // A late event of a field must not call back what is already on its way.
    if (known && known.state !== 'typed' && known.state !== 'failed') return;
    const again: OutboxEntry = { ...entry, state: 'typed', problem: null, body: null };
    if (known?.problem?.code !== 'key-reused') return this.#keep(again);
    const left = this.discard(entry.id);
    await this.#keep({ ...again, id: newKey() });
    await left;
  }

  /** The entry is complete: it is kept first, then sent. */
  async queue(entry: OutboxEntry, body: TrialBody): Promise<void> {
    // Kept at once; whose it is follows as soon as that is known.
    await this.#keep({ ...entry, state: 'waiting', body, problem: null });
    await this.sendAll();
  }

  /** Takes an entry out that the server does not have and will not get. */
  async discard(id: string): Promise<void> {
    this.#set(this.#entries.filter((entry) => entry.id !== id));
    await this.#options.storage.remove(id).catch(() => this.#noteStorageFails());
  }

  /** Sends what waits, in the order it was entered. One pass at a time; a call during a pass is served by it. */
  sendAll(): Promise<void> {
    this.#sending ??= this.#pass().finally(() => {
      this.#sending = null;
      // An entry that came in while the pass was ending.
      if (this.#timer === undefined && this.#entries.some(isReady)) void this.sendAll();
    });
    return this.#sending;
  }

  async #pass(): Promise<void> {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    if (!this.#entries.some((entry) => entry.state === 'waiting')) return;
    let me: string | null;
    try {
      me = await this.#options.who();
    } catch {
      return this.#tryLater();
    }
    await this.#sortOut(me);
    for (;;) {
      const next = this.#entries.find(isReady);
      if (!next?.body) return;
      const goOn = await this.#sendOne({ ...next, body: next.body, typedBy: me });
      if (!goOn) return this.#tryLater();
      this.#waitMs = FIRST_WAIT_MS;
    }
  }

  /** What another person typed at this browser waits for that person: it would stand in the record under a wrong name. */
  async #sortOut(me: string | null): Promise<void> {
    for (const entry of this.#entries.filter((one) => one.state === 'waiting')) {
      const isMine = entry.typedBy == null || entry.typedBy === me;
      const isHeld = entry.problem?.code === OF_ANOTHER;
      if (isMine && (isHeld || entry.typedBy !== me)) await this.#keep({ ...entry, typedBy: me, problem: null });
      if (!isMine && !isHeld) {
        const detail = text.unsent.waitsFor(entry.typedBy ?? '');
        await this.#keep({ ...entry, problem: { code: OF_ANOTHER, detail, fields: [] } });
      }
    }
  }

  /** @returns false when the server cannot take anything now */
  async #sendOne(entry: OutboxEntry & { body: TrialBody }): Promise<boolean> {
    this.#replace({ ...entry, state: 'sending' });
    try {
      const { number } = await this.#options.send(entry);
      const saved: OutboxEntry = { ...entry, state: 'saved', problem: null, savedNumber: number };
      this.#replace(saved);
      await this.#options.storage.remove(entry.id).catch(() => this.#noteStorageFails());
      void this.#options.onSaved(saved).finally(() => this.#set(this.#entries.filter((one) => one.id !== entry.id)));
      return true;
    } catch (error) {
      const problem = problemOf(error);
      const passing = !(error instanceof ProblemError) || PASSING.has(error.code) || error.status >= 500;
      await this.#keep({ ...entry, state: passing ? 'waiting' : 'failed', problem });
      return !passing;
    }
  }

  #tryLater(): void {
    // A little apart, so that the tablets of a room do not all come back at once.
    const waitMs = this.#waitMs * (1 + Math.random() / 2);
    this.#waitMs = Math.min(LONGEST_WAIT_MS, 2 * this.#waitMs);
    this.#timer = setTimeout(() => void this.sendAll(), waitMs);
  }

  async #keep(entry: OutboxEntry): Promise<void> {
    this.#replace(entry);
    await this.#options.storage.put(entry).catch(() => this.#noteStorageFails());
  }

  #replace(entry: OutboxEntry): void {
    const known = this.#entries.some((one) => one.id === entry.id);
    this.#set(known ? this.#entries.map((one) => (one.id === entry.id ? entry : one)) : [...this.#entries, entry]);
  }

  #set(entries: readonly OutboxEntry[]): void {
    this.#entries = entries;
    for (const listener of this.#listeners) listener();
  }

  #noteStorageFails(): void {
    this.#storageFails = true;
    for (const listener of this.#listeners) listener();
  }
}

const problemOf = (error: unknown): EntryProblem => {
  if (error instanceof ProblemError)
    return {
      code: error.code,
      // What a key is need not be known at the bench.
      detail: error.code === 'key-reused' ? text.unsent.recordedElsewhere : error.message,
      fields: error.fields.map(({ pointer, detail, confirm }) => ({
        field: pointer.replace(/^#\//, ''),
        detail,
        ...(confirm ? { confirm } : {}),
      })),
    };
  const code = error instanceof NetworkError ? 'unreachable' : 'internal';
  return { code, detail: error instanceof Error ? error.message : String(error), fields: [] };
};

/** Entries that are complete and that the server does not have. */
export const unsentCount = (entries: readonly OutboxEntry[]): number =>
  entries.filter((entry) => entry.state === 'waiting' || entry.state === 'sending' || entry.state === 'failed').length;
