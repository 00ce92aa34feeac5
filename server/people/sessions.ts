/** Who is signed in from which browser. */
import type Database from 'better-sqlite3';
import { hashOf, newToken } from './codes.ts';

export const IDLE_MS = 30 * 60_000;
export const ABSOLUTE_MS = 8 * 3_600_000;
const NOTED_EVERY_MS = 60_000;
const DEVICE_KEPT_MS = 400 * 24 * 3_600_000;

export interface Session {
  readonly hash: string;
  readonly personId: string;
  readonly startedMs: number;
  seenMs: number;
  notedMs: number;
}

const statementsOf = (handle: Database.Database) => ({
  all: handle.prepare<[], { hash: string; person_id: string; started_ms: number; seen_ms: number }>(
    'select * from session',
  ),
  begin: handle.prepare<[string, string, number, number]>('insert into session values (?, ?, ?, ?)'),
  note: handle.prepare<[number, string]>('update session set seen_ms = ? where hash = ?'),
  end: handle.prepare<[string]>('delete from session where hash = ?'),
  device: handle.prepare<[string], string>('select person_id from device where hash = ?').pluck(),
  keepDevice: handle.prepare<[string, string, number]>('insert or replace into device values (?, ?, ?)'),
  forgetDevices: handle.prepare<[number]>('delete from device where seen_ms < ?'),
});

export class Sessions {
  readonly #clock: () => Date;
  readonly #statements: ReturnType<typeof statementsOf>;
  readonly #sessions = new Map<string, Session>();

  constructor(handle: Database.Database, clock: () => Date) {
    this.#clock = clock;
    this.#statements = statementsOf(handle);
    for (const { hash, person_id: personId, started_ms: startedMs, seen_ms: seenMs } of this.#statements.all.all())
      this.#sessions.set(hash, { hash, personId, startedMs, seenMs, notedMs: seenMs });
    this.#statements.forgetDevices.run(this.#now() - DEVICE_KEPT_MS);
  }

  /** @returns the id for the browser; only its hash stays here */
  begin(personId: string): { id: string; session: Session } {
    this.#endOld();
    const id = newToken();
    const now = this.#now();
    const session: Session = { hash: hashOf(id), personId, startedMs: now, seenMs: now, notedMs: now };
    this.#statements.begin.run(session.hash, personId, now, now);
    this.#sessions.set(session.hash, session);
    return { id, session };
  }

  /** The session a browser's id stands for, while it lasts. */
  find(id: string): Session | null {
    const session = this.#sessions.get(hashOf(id));
    if (!session) return null;
    if (!this.#isOver(session)) return session;
    this.end(session);
    return null;
  }

  /** Something was done in it; written down at most once a minute. */
  touch(session: Session): void {
    const now = this.#now();
    session.seenMs = now;
    if (now - session.notedMs < NOTED_EVERY_MS) return;
    session.notedMs = now;
    this.#statements.note.run(now, session.hash);
  }

  end(session: Session): void {
    this.#sessions.delete(session.hash);
    this.#statements.end.run(session.hash);
  }

  /** @returns how many ended */
  endAllOf(personId: string, except?: string): number {
    const theirs = [...this.#sessions.values()].filter((one) => one.personId === personId && one.hash !== except);
    for (const session of theirs) this.end(session);
    return theirs.length;
  }

  /** Whether this browser signed this person in before. */
  isDeviceOf(device: string, personId: string): boolean {
    return this.#statements.device.get(hashOf(device)) === personId;
  }

  keepDevice(personId: string): string {
    const device = newToken();
    this.#statements.keepDevice.run(hashOf(device), personId, this.#now());
    return device;
  }

  #now(): number {
    return this.#clock().getTime();
  }

  #isOver({ startedMs, seenMs }: Session): boolean {
    const now = this.#now();
    return now - startedMs >= ABSOLUTE_MS || now - seenMs >= IDLE_MS;
  }

  #endOld(): void {
    for (const session of this.#sessions.values()) if (this.#isOver(session)) this.end(session);
  }
}
