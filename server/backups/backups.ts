/** Makes backups, now and when they are due, and keeps as many as the laboratory wants. */
import path from 'node:path';
import type { Worker } from 'node:worker_threads';
import type { Logbook } from '../db/logbook.ts';
import { SYSTEM_ACTOR, type Answer, type WriteRequest } from '../db/write.ts';
import { readLaboratory } from '../laboratory/store.ts';
import { errorOf, type Failed } from '../thread-failure.ts';
import { startThread } from '../threads.ts';
import type { BackupList, BackupMade } from './contract.ts';
import type { Copied } from './copy.ts';
import {
  backupName,
  keepNote,
  listBackups,
  newestAt,
  prepareFolder,
  removeBackup,
  removeOlder,
  removeUnfinished,
} from './folder.ts';

export type Failure = NonNullable<BackupList['lastFailure']>;

const LOOK_EVERY_MS = 60_000;
const HOUR_MS = 3_600_000;
/** After a failure the next try waits: a full disk is not emptied within a minute. */
const TRY_AGAIN_MS = 600_000;

type Copying = (logbook: string, file: string) => Promise<Copied>;

interface BackupsOptions {
  /** From before the server was opened again. */
  lastFailure?: Failure | null;
  /** How the file is copied; in a thread of its own unless told otherwise. */
  copy?: Copying;
}

export class Backups {
  readonly #logbook: Logbook;
  readonly #clock: () => Date;
  readonly #copy: Copying;
  #thread: Worker | null = null;
  #last: Promise<unknown> = Promise.resolve();
  #timer: NodeJS.Timeout | null = null;
  #closed = false;
  lastFailure: Failure | null;

  constructor(logbook: Logbook, clock: () => Date, { lastFailure = null, copy }: BackupsOptions = {}) {
    this.#logbook = logbook;
    this.#clock = clock;
    this.lastFailure = lastFailure;
    this.#copy = copy ?? ((from, to) => this.#copyInThread(from, to));
  }

  /** Where the backups are: what the settings say, else beside the logbook. */
  async folder(): Promise<string> {
    const { backups } = await this.#logbook.read(readLaboratory);
    return backups?.folder ?? path.join(path.dirname(this.#logbook.file), 'backups');
  }

  async list(): Promise<Omit<BackupList, 'openedAt'>> {
    const folder = await this.folder();
    return { folder, items: listBackups(folder), lastFailure: this.lastFailure };
  }

  /** One after the other; the entry in the journal comes after the copy, which therefore does not hold it. */
  make(request: WriteRequest): Promise<Answer<BackupMade>> {
    const mine = this.#last.then(() => this.#make(request));
    this.#last = mine.catch(() => undefined);
    return mine;
  }

  async #make(request: WriteRequest): Promise<Answer<BackupMade>> {
    const at = this.#clock();
    try {
      const folder = await this.folder();
      prepareFolder(folder);
      removeUnfinished(folder);
      const file = backupName(at);
      const copied = await this.#copy(this.#logbook.file, path.join(folder, file));
      keepNote(folder, copied);
      const { head, bytes, sha256 } = copied;
      const made = { file, at: at.toISOString(), bytes, head, sha256 };
      const answer = await this.#logbook.write(request, ({ journal }) => {
        journal({
          act: 'backup-made',
          object: 'logbook/1',
          before: null,
          after: { file, head: head && { ...head }, sha256 },
        });
        return Promise.resolve({ status: 201, body: made });
      });
      // The same request had come before: its backup stands, this one is one too many.
      if (answer.body.file !== file) removeBackup(folder, file);
      await this.#removeOlder(folder);
      this.lastFailure = null;
      return answer;
    } catch (error) {
      const detail = error instanceof Error ? error.message : String(error);
      this.lastFailure = { at: at.toISOString(), detail };
      throw error;
    }
  }

  #copyInThread(logbook: string, file: string): Promise<Copied> {
    return new Promise((resolve, reject) => {
      const thread = startThread(new URL('./copy-worker.ts', import.meta.url), { logbook, file });
      this.#thread = thread;
      thread.once('message', (said: { copied: Copied } | { failed: Failed }) => {
        if ('copied' in said) resolve(said.copied);
        else reject(errorOf(said.failed));
      });
      thread.once('error', reject);
      thread.once('exit', () => {
        this.#thread = null;
        reject(new Error('The backup was broken off because the server stopped.'));
      });
    });
  }

  async #removeOlder(folder: string): Promise<void> {
    const { backups } = await this.#logbook.read(readLaboratory);
    if (backups) removeOlder(folder, backups.kept);
  }

  /** Makes one when it is time. @returns whether it was */
  async makeIfDue(): Promise<boolean> {
    const { backups } = await this.#logbook.read(readLaboratory);
    if (!backups) return false;
    const now = this.#clock().getTime();
    if (this.lastFailure && now - Date.parse(this.lastFailure.at) < TRY_AGAIN_MS) return false;
    const newest = newestAt(await this.folder());
    if (newest && now - newest.getTime() < backups.everyHours * HOUR_MS) return false;
    await this.make({ actor: SYSTEM_ACTOR, requestId: 'schedule' });
    return true;
  }

  /** Looks once a minute; a server that was off makes up for it soon after its start. */
  startSchedule(onFailure: (detail: string) => void): void {
    let looking = false;
    const look = async (): Promise<void> => {
      if (looking) return;
      looking = true;
      try {
        await this.makeIfDue();
      } catch {
        if (this.lastFailure && !this.#closed) onFailure(this.lastFailure.detail);
      } finally {
        looking = false;
      }
    };
    this.#timer = setInterval(() => void look(), LOOK_EVERY_MS).unref();
  }

  /** Call before the logbook is closed. */
  async close(): Promise<void> {
    this.#closed = true;
    if (this.#timer) clearInterval(this.#timer);
    await this.#thread?.terminate();
    await this.#last;
  }
}
