/** Exports under way: one thread each, a stream of bytes, and how far each has come. */
import { Readable } from 'node:stream';
import type { Worker } from 'node:worker_threads';
import { connect, type Handle } from '../db/connection.ts';
import { errorOf, type Failed } from '../thread-failure.ts';
import { startThread } from '../threads.ts';
import type { ExportProgress } from './contract.ts';
import { knowsLot, knowsTag, planOf, type Plan } from './plan.ts';
import type { Filter } from './selection.ts';

type Said =
  | { head: Plan['head']; total: number }
  | { done: number; total: number }
  | { piece: Uint8Array }
  | { end: true }
  | { failed: Failed };

const WAITING: ExportProgress = { done: 0, total: 0, state: 'waiting', head: null };
const MOST_REMEMBERED = 100;
const MOST_AT_ONCE = 2;
/** An export keeps one moment of the logbook open; nobody may do so for ever by not reading on. */
const LONGEST_PAUSE_MS = 120_000;

export class Exporting {
  readonly #file: string;
  readonly #progress = new Map<string, ExportProgress>();
  readonly #running = new Set<Readable>();
  #threads = new Set<Worker>();

  constructor(file: string) {
    this.#file = file;
  }

  #look<T>(look: (handle: Handle) => T): T {
    const handle = connect(this.#file, { readOnly: true });
    try {
      handle.exec('begin');
      return look(handle);
    } finally {
      handle.close();
    }
  }

  /** What is asked for and unknown: a tag that no vessel bears or ever bore, a name of no lot. */
  unknownIn({ vessel, lot }: Filter): 'vessel' | 'lot' | null {
    return this.#look((handle) => {
      if (vessel !== null && !knowsTag(handle, vessel)) return 'vessel';
      return lot !== null && !knowsLot(handle, lot) ? 'lot' : null;
    });
  }

  plan(filter: Filter, certificates: boolean): Plan {
    return this.#look((handle) => planOf(handle, filter, certificates));
  }

  get isBusy(): boolean {
    return this.#running.size >= MOST_AT_ONCE;
  }

  progress(token: string): ExportProgress {
    return this.#progress.get(token) ?? WAITING;
  }

  #tell(token: string | null, said: Partial<ExportProgress>): void {
    if (token === null) return;
    const before = this.progress(token);
    this.#progress.delete(token);
    this.#progress.set(token, { ...before, ...said });
    const [oldest] = this.#progress.keys();
    if (this.#progress.size > MOST_REMEMBERED && oldest !== undefined) this.#progress.delete(oldest);
  }

  /** The zip as it comes into being. */
  begin(facts: { filter: Filter; certificates: boolean; workbook: boolean; at: Date }, token: string | null): Readable {
    const thread = startThread(new URL('./archive-worker.ts', import.meta.url), { file: this.#file, ...facts });
    let whole = false;
    let pause: NodeJS.Timeout | null = null;
    const stream = new Readable({
      read: () => {
        if (pause) clearTimeout(pause);
        pause = null;
        thread.postMessage('taken');
      },
      destroy: (error, done) => {
        if (pause) clearTimeout(pause);
        this.#running.delete(stream);
        if (!whole) this.#tell(token, { state: 'broken-off' });
        void thread.terminate().then(() => done(error));
      },
    });
    this.#running.add(stream);
    this.#threads.add(thread);
    this.#tell(token, { ...WAITING, state: 'running' });
    thread.on('message', (said: Said) => {
      if ('piece' in said) {
        if (!stream.push(said.piece))
          pause ??= setTimeout(() => stream.destroy(new Error('Nobody read on.')), LONGEST_PAUSE_MS).unref();
      } else if ('failed' in said) stream.destroy(errorOf(said.failed));
      else if ('end' in said) {
        whole = true;
        this.#tell(token, { state: 'finished', done: this.progress(token ?? '').total });
        stream.push(null);
      } else this.#tell(token, said);
    });
    thread.once('error', (error: Error) => stream.destroy(error));
    thread.once('exit', () => {
      this.#threads.delete(thread);
      if (!whole) stream.destroy(new Error('The export ended before it was whole.'));
    });
    return stream;
  }

  /** Call before the logbook is closed. */
  async close(): Promise<void> {
    for (const stream of this.#running) stream.destroy();
    await Promise.all([...this.#threads].map((thread) => thread.terminate()));
  }
}
