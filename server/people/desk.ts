/** The desk at the door: everything the routes of people share. One for each running server. */
import path from 'node:path';
import type { FastifyRequest } from 'fastify';
import type { Logbook } from '../db/logbook.ts';
import type { PersonOnWire, ProgramKeyOnWire } from './contract.ts';
import { hashOf, hashOfCode, sameHash } from './codes.ts';
import { fold } from './fold.ts';
import { Guesses, placeOf } from './guesses.ts';
import { isAtClassDoor } from '../doors/class-door.ts';
import { ClassSessions, type ClassSession } from './class-sessions.ts';
import type { SecurityLog } from './security-log.ts';
import { listFeeds } from './store-feeds.ts';
import { openSessionFile } from './session-file.ts';
import { Sessions, type Session } from './sessions.ts';
import { isKeeperWhoCanSignIn, listKeys, listPeople } from './store.ts';

const SETUP_CODE_LASTS_MS = 24 * 3_600_000;

export interface DeskOptions {
  logbook: Logbook;
  clock: () => Date;
  /** The code that makes the first keeper; null where nobody can be made. */
  setupCode: string | null;
  /** The pages come over TLS. */
  tls: boolean;
  /** Staff pages travel unencrypted beyond this machine. */
  plainHttp: boolean;
  log: SecurityLog;
}

export class Desk {
  readonly options: DeskOptions;
  readonly sessions: Sessions;
  readonly classSessions: ClassSessions;
  readonly guesses: Guesses;
  readonly #sessionFile: ReturnType<typeof openSessionFile>;
  readonly #setup: { codeHash: string; endsMs: number } | null;
  #people = new Map<string, PersonOnWire>();
  #byName = new Map<string, PersonOnWire>();
  #keys = new Map<string, ProgramKeyOnWire>();
  #calendars = new Map<string, string>();
  #setupNeeded = true;

  private constructor(options: DeskOptions) {
    const { logbook, clock, setupCode } = options;
    this.options = options;
    this.#sessionFile = openSessionFile(path.dirname(logbook.file));
    this.sessions = new Sessions(this.#sessionFile, clock);
    this.classSessions = new ClassSessions(this.#sessionFile, clock);
    this.guesses = new Guesses(clock);
    this.#setup =
      setupCode === null ? null : { codeHash: hashOfCode(setupCode), endsMs: clock().getTime() + SETUP_CODE_LASTS_MS };
  }

  static async open(options: DeskOptions): Promise<Desk> {
    const desk = new Desk(options);
    await desk.reload();
    return desk;
  }

  /** After each write about people or keys: who may come in is asked with every request, so it is kept at hand. */
  async reload(): Promise<void> {
    const { people, keys, feeds } = await this.options.logbook.read(async (db) => ({
      people: await listPeople(db),
      keys: await listKeys(db),
      feeds: await listFeeds(db),
    }));
    this.#people = new Map(people.map((one) => [one.id, one]));
    this.#byName = new Map(people.map((one) => [fold(one.name), one]));
    this.#keys = new Map(keys.flatMap((key) => (key.tokenHash === null ? [] : [[key.tokenHash, key]])));
    const running = feeds.filter(({ endedAt }) => endedAt === null);
    this.#calendars = new Map(running.map(({ tokenHash, personId }) => [tokenHash, personId]));
    this.#setupNeeded = !people.some(isKeeperWhoCanSignIn);
  }

  close(): void {
    this.#sessionFile.close();
  }

  get setupNeeded(): boolean {
    return this.#setupNeeded;
  }

  isSetupCode(code: string): boolean {
    if (this.#setup === null || this.options.clock().getTime() >= this.#setup.endsMs) return false;
    return sameHash(hashOfCode(code), this.#setup.codeHash);
  }

  person(id: string): PersonOnWire | undefined {
    return this.#people.get(id);
  }

  personNamed(name: string): PersonOnWire | undefined {
    return this.#byName.get(fold(name));
  }

  /** @returns the key, when its token is right, not revoked and not past its last day */
  key(token: string): ProgramKeyOnWire | null {
    const key = this.#keys.get(hashOf(token));
    if (!key || key.revoked) return null;
    const today = this.options.clock().toISOString().slice(0, 10);
    return key.expiresOn !== null && today > key.expiresOn ? null : key;
  }

  /** @returns whose calendar has this token, while it runs and they may come in */
  whoseCalendar(token: string): PersonOnWire | null {
    const person = this.#people.get(this.#calendars.get(hashOf(token)) ?? '');
    return person?.active ? person : null;
  }

  /** The session of a request and whose it is. */
  whose(request: FastifyRequest): { session: Session; person: PersonOnWire } | null {
    const id = cookieOf(request, this.cookie);
    if (id === undefined) return null;
    const session = this.sessions.find(id);
    if (!session) return null;
    const person = this.#people.get(session.personId);
    return person?.active ? { session, person } : null;
  }

  /** The session of somebody of a class, with the id its browser holds. */
  whoseOfClass(request: FastifyRequest): ClassSession | null {
    const id = cookieOf(request, this.classCookie(request));
    return id === undefined ? null : this.classSessions.find(id);
  }

  /** Where tries for an account are counted: a browser that the person used before, or the address. */
  placeOf(request: FastifyRequest, personId: string | undefined): string {
    const device = cookieOf(request, this.deviceCookie);
    if (device !== undefined && personId !== undefined && this.sessions.isDeviceOf(device, personId))
      return `device ${hashOf(device)}`;
    return placeOf(request.ip);
  }

  get cookie(): string {
    return this.options.tls ? '__Host-tarebook' : 'tarebook';
  }
  get deviceCookie(): string {
    return this.options.tls ? '__Host-tarebook-device' : 'tarebook-device';
  }

  /** The listener for classes speaks plain http, also where the other one speaks TLS. */
  isSecure(request: FastifyRequest): boolean {
    return this.options.tls && !isAtClassDoor(request);
  }
  classCookie(request: FastifyRequest): string {
    return this.isSecure(request) ? '__Host-tarebook-class' : 'tarebook-class';
  }
}

/** Read here, since an address the router cannot take never comes past the hook that reads cookies. */
export const cookieOf = ({ headers, server }: FastifyRequest, name: string): string | undefined =>
  headers.cookie === undefined ? undefined : server.parseCookie(headers.cookie)[name];

declare module 'fastify' {
  interface FastifyInstance {
    /** Null for commands, which act by themselves. */
    desk: Desk | null;
  }
}
