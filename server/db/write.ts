import type { Statement } from 'better-sqlite3';
import type { Kysely, Transaction } from 'kysely';
import { journalAppender, type NewEntry } from '../journal/store.ts';
import { Problem } from '../problem.ts';
import type { Handle } from './connection.ts';
import type { Tables } from './tables.ts';

export interface WriteRequest {
  actor: string;
  requestId: string;
  /** The client's Idempotency-Key with a fingerprint of who asked for what. */
  key?: { value: string; fingerprint: string };
}

/** What a piece of work gets: the transaction, one time for all its rows, and the journal. */
export interface Writing {
  trx: Transaction<Tables>;
  at: string;
  actor: string;
  /** Appends to the journal. Work that appends nothing is not committed. */
  journal: (entry: Pick<NewEntry, 'act' | 'object' | 'before' | 'after'>) => { number: number; hash: string };
}

export interface Answer<T> {
  status: number;
  body: T;
}

interface Job {
  request: WriteRequest;
  work: (writing: Writing) => Promise<Answer<unknown>>;
  resolve: (answer: Answer<unknown>) => void;
  reject: (error: unknown) => void;
}

type Outcome = { job: Job; answer: Answer<unknown> } | { job: Job; error: unknown };

const MOST_AT_ONCE = 64;

/** Clocks are set by small steps all the time. */
const CLOCK_TOLERANCE_MS = 1000;
/** Stands in the journal for what the program itself saw. */
export const SYSTEM_ACTOR = 'system';

/**
 * The one way to write. Requests that wait together share one COMMIT, each in a savepoint of its own: a refused one
 * leaves nothing, and none is answered before the COMMIT that holds it. The idempotency key commits with the row.
 */
export class Writer {
  readonly #db: Kysely<Tables>;
  readonly #handle: Handle;
  readonly #clock: () => Date;
  readonly #append: ReturnType<typeof journalAppender>;
  readonly #keys: ReturnType<typeof keyStatements>;
  readonly #savepoints: ReturnType<typeof savepointStatements>;
  readonly #lastTime: Statement<[], string>;
  #waiting: Job[] = [];
  #running: Promise<void> | null = null;

  constructor(db: Kysely<Tables>, handle: Handle, clock: () => Date) {
    this.#db = db;
    this.#handle = handle;
    this.#clock = clock;
    this.#append = journalAppender(handle);
    this.#keys = keyStatements(handle);
    this.#savepoints = savepointStatements(handle);
    this.#lastTime = handle.prepare<[], string>('select at from journal_entry order by number desc limit 1').pluck();
  }

  submit<T>(request: WriteRequest, work: (writing: Writing) => Promise<Answer<T>>): Promise<Answer<T>> {
    return new Promise<Answer<T>>((resolve, reject) => {
      this.#waiting.push({ request, work, resolve: resolve as Job['resolve'], reject });
      this.#running ??= this.#drain();
    });
  }

  /** Resolves when nothing is being written. */
  async settled(): Promise<void> {
    await this.#running;
  }

  async #drain(): Promise<void> {
    // Let requests that arrived in the same turn of the event loop join the first transaction.
    await new Promise<void>((resolve) => setImmediate(resolve));
    while (this.#waiting.length > 0) await this.#commitTogether(this.#waiting.splice(0, MOST_AT_ONCE));
    this.#running = null;
  }

  async #commitTogether(jobs: Job[]): Promise<void> {
    const outcomes: Outcome[] = [];
    try {
      await this.#db.transaction().execute(async (trx) => {
        for (const job of jobs) outcomes.push(await this.#attempt(job, trx));
      });
    } catch (error) {
      for (const job of jobs) job.reject(error);
      return;
    }
    for (const outcome of outcomes) {
      if ('answer' in outcome) outcome.job.resolve(outcome.answer);
      else outcome.job.reject(outcome.error);
    }
  }

  async #attempt(job: Job, trx: Transaction<Tables>): Promise<Outcome> {
    this.#savepoints.open();
    try {
      const answer = this.#answeredBefore(job.request) ?? (await this.#perform(job, trx));
      this.#savepoints.release();
      return { job, answer };
    } catch (error) {
      // A full disk can end the whole transaction; then nothing of this batch stands.
      if (!this.#handle.inTransaction) throw error;
      this.#savepoints.undo();
      return { job, error };
    }
  }

  #answeredBefore(request: WriteRequest): Answer<unknown> | null {
    if (!request.key) return null;
    const stored = this.#keys.find(request.key.value);
    if (!stored) return null;
    if (stored.fingerprint !== request.key.fingerprint) throw new Problem('key-reused');
    return { status: stored.status, body: JSON.parse(stored.body) as unknown };
  }

  /** The order of entries is that of their numbers; that the times stop agreeing with it is itself an entry. */
  #tellIfClockWentBack(at: string, requestId: string): void {
    const last = this.#lastTime.get();
    if (last === undefined || Date.parse(last) - Date.parse(at) <= CLOCK_TOLERANCE_MS) return;
    const said = { act: 'clock-went-back', object: 'logbook/1', before: { at: last }, after: { at } };
    this.#append({ ...said, at, actor: SYSTEM_ACTOR, requestId });
  }

  async #perform(job: Job, trx: Transaction<Tables>): Promise<Answer<unknown>> {
    const { actor, requestId, key } = job.request;
    const at = this.#clock().toISOString();
    this.#tellIfClockWentBack(at, requestId);
    let entries = 0;
    const answer = await job.work({
      trx,
      at,
      actor,
      journal: (entry) => {
        entries += 1;
        return this.#append({ ...entry, at, actor, requestId });
      },
    });
    if (entries === 0) throw new Error('A write without a journal entry was not committed.');
    if (key) this.#keys.keep(key.value, key.fingerprint, answer.status, JSON.stringify(answer.body), at);
    return answer;
  }
}

interface StoredAnswer {
  fingerprint: string;
  status: number;
  body: string;
}

const keyStatements = (handle: Handle) => {
  const find = handle.prepare<[string], StoredAnswer>(
    'select fingerprint, status, body from idempotency_key where request_key = ?',
  );
  const keep = handle.prepare<[string, string, number, string, string]>(
    'insert into idempotency_key (request_key, fingerprint, status, body, recorded_at) values (?, ?, ?, ?, ?)',
  );
  return {
    find: (key: string) => find.get(key),
    keep: (key: string, fingerprint: string, status: number, body: string, at: string) => {
      keep.run(key, fingerprint, status, body, at);
    },
  };
};

const savepointStatements = (handle: Handle) => {
  const open = handle.prepare('savepoint work');
  const release = handle.prepare('release work');
  const undo = handle.prepare('rollback to work');
  return {
    open: () => {
      open.run();
    },
    release: () => {
      release.run();
    },
    undo: () => {
      undo.run();
      release.run();
    },
  };
};
