/** The whole journal checked on demand beside the server, and what the last look found wrong. */
import type { Worker } from 'node:worker_threads';
import type { Failed } from '../thread-failure.ts';
import { startThread } from '../threads.ts';
import type { JournalCheck } from './contract.ts';
import type { CheckResult, Fault } from './verify.ts';

type Said = { done: number; total: number } | { result: CheckResult } | { failed: Failed };

export class JournalChecking {
  readonly #file: string;
  readonly #clock: () => Date;
  #state: JournalCheck = { state: 'idle' };
  #thread: Worker | null = null;
  /** Of the start at first, then of the last whole check. */
  fault: Fault | null;

  constructor(file: string, clock: () => Date, fault: Fault | null) {
    this.#file = file;
    this.#clock = clock;
    this.fault = fault;
  }

  /** What a long look since the start has found. A whole check that is over knows better. */
  learn(fault: Fault | null): void {
    if (this.#state.state !== 'finished') this.fault = fault;
  }

  state(): JournalCheck {
    return this.#state;
  }

  /** One at a time: a second wish is answered with how far the first has come. */
  start(): JournalCheck {
    if (this.#thread) return this.#state;
    this.#state = { state: 'running', done: 0, total: 0 };
    const thread = startThread(new URL('./check-worker.ts', import.meta.url), { file: this.#file });
    this.#thread = thread;
    thread.on('message', (said: Said) => {
      if ('done' in said) this.#state = { state: 'running', ...said };
      else if ('result' in said) this.#finish(said.result);
      else this.#finish({ entries: 0, head: null, fault: { number: null, fault: unread(said.failed.message) } });
    });
    thread.once('error', (error: Error) =>
      this.#finish({ entries: 0, head: null, fault: { number: null, fault: unread(error.message) } }),
    );
    thread.once('exit', () => {
      this.#thread = null;
    });
    return this.#state;
  }

  #finish({ entries, head, fault }: CheckResult): void {
    this.fault = fault;
    this.#state = { state: 'finished', at: this.#clock().toISOString(), fault, entries, head };
  }

  /** Call before the logbook is closed. */
  async close(): Promise<void> {
    await this.#thread?.terminate();
  }
}

const unread = (message: string): string => `The journal could not be read to its end: ${message}.`;
