/** Who of a class came in from which browser, with a code of its experiment. It ends with the experiment. */
import type Database from 'better-sqlite3';
import { hashOf, newToken } from './codes.ts';

/** `group`: one group at its phone; `assistant`: enters for all groups; `board`: the projector, reads only. */
export type ClassSessionKind = 'group' | 'assistant' | 'board';

export interface ClassSession {
  readonly hash: string;
  readonly kind: ClassSessionKind;
  readonly experimentId: string;
  /** Null for the assistant and the board. */
  readonly groupId: string | null;
  endsMs: number;
}

interface Row {
  hash: string;
  kind: ClassSessionKind;
  experiment_id: string;
  group_id: string | null;
  ends_ms: number;
}

const statementsOf = (handle: Database.Database) => ({
  all: handle.prepare<[], Row>('select * from class_session'),
  begin: handle.prepare<[string, string, string, string | null, number]>(
    'insert into class_session values (?, ?, ?, ?, ?)',
  ),
  extend: handle.prepare<[number, string]>('update class_session set ends_ms = ? where experiment_id = ?'),
  end: handle.prepare<[string]>('delete from class_session where hash = ?'),
});

export class ClassSessions {
  readonly #clock: () => Date;
  readonly #statements: ReturnType<typeof statementsOf>;
  readonly #sessions = new Map<string, ClassSession>();

  constructor(handle: Database.Database, clock: () => Date) {
    this.#clock = clock;
    this.#statements = statementsOf(handle);
    for (const {
      hash,
      kind,
      experiment_id: experimentId,
      group_id: groupId,
      ends_ms: endsMs,
    } of this.#statements.all.all())
      this.#sessions.set(hash, { hash, kind, experimentId, groupId, endsMs });
  }

  /** @returns the id for the browser; only its hash stays here */
  begin(facts: Omit<ClassSession, 'hash'>): string {
    for (const session of this.#sessions.values()) if (this.#isOver(session)) this.end(session);
    const id = newToken();
    const session = { ...facts, hash: hashOf(id) };
    const { hash, kind, experimentId, groupId, endsMs } = session;
    this.#statements.begin.run(hash, kind, experimentId, groupId, endsMs);
    this.#sessions.set(hash, session);
    return id;
  }

  /** The session a browser's id stands for, while its experiment lasts. */
  find(id: string): ClassSession | null {
    const session = this.#sessions.get(hashOf(id));
    if (!session) return null;
    if (!this.#isOver(session)) return session;
    this.end(session);
    return null;
  }

  /** The lesson ends later, or earlier, than was said. */
  extend(experimentId: string, endsMs: number): void {
    this.#statements.extend.run(endsMs, experimentId);
    for (const session of this.#sessions.values()) if (session.experimentId === experimentId) session.endsMs = endsMs;
  }

  end(session: ClassSession): void {
    this.#sessions.delete(session.hash);
    this.#statements.end.run(session.hash);
  }

  /** Ends those of an experiment: all, of one kind, or of one group. */
  endAllOf(experimentId: string, only: { kind?: ClassSessionKind; groupId?: string } = {}): void {
    for (const session of this.#sessions.values()) {
      const isMeant =
        session.experimentId === experimentId &&
        (only.kind === undefined || session.kind === only.kind) &&
        (only.groupId === undefined || session.groupId === only.groupId);
      if (isMeant) this.end(session);
    }
  }

  #isOver({ endsMs }: ClassSession): boolean {
    return this.#clock().getTime() >= endsMs;
  }
}
