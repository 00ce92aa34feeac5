/**
 * Between a group's phone and the class: asks how things stand, sends what is complete, keeps what could not be sent and
 * sends it again under its old key, so that nothing is lost and nothing recorded twice.
 */
import type { ClassTrial, GroupPage, Prediction } from '../../../server/experiments/contract-class.ts';
import type { ProblemCode } from '../../../server/problem-codes.ts';
import { getNow, NetworkError, newKey, postNow, ProblemError } from '../../api.ts';
import { askRegularly } from './ask-regularly.ts';
import type { Asked, Entry, Memory, Waiting } from './memory.ts';
import { standingIn } from './standing.ts';
import { timeLimit } from './time-limit.ts';

/** Refusals that say nothing about the entry itself: it is sent again later, unchanged. */
const PASSING: ReadonlySet<ProblemCode> = new Set(['too-many-requests', 'internal', 'storage-full']);
/** The phone is no longer one of the class: the lesson ended, its group got a new word, the experiment is gone. */
export const OUT: ReadonlySet<ProblemCode> = new Set(['not-signed-in', 'not-allowed', 'not-found']);

export interface LinkState {
  /** The server does not answer. */
  isAway: boolean;
  isOut: boolean;
  /** The class was erased: nothing of it is shown, kept or asked for any more. */
  isErased: boolean;
}

export type Outcome =
  | { kind: 'saved'; trial: ClassTrial | null }
  /** Not sent yet; it goes by itself. */
  | { kind: 'kept' }
  | { kind: 'refused'; asked: Asked };

/** What a refusal says at which field; what belongs to no field stands at the last one. */
export const askedBy = ({ message, fields }: ProblemError, confirmed: readonly string[]): Asked => {
  const named = fields.map(({ pointer, detail, confirm }) => ({ field: pointer.replace(/^#\//, ''), detail, confirm }));
  const problems = named.flatMap(({ field, detail, confirm }) => (confirm === undefined ? [[field, detail]] : []));
  return {
    problems: named.length === 0 ? { whole: message } : (Object.fromEntries(problems) as Asked['problems']),
    questions: named.flatMap(({ field, detail, confirm }) =>
      confirm === undefined ? [] : [{ field, detail, confirm }],
    ),
    confirmed,
  };
};

const withTrial = (page: GroupPage, trial: ClassTrial): GroupPage => {
  const isSame = (one: ClassTrial) => one.row === trial.row && one.number === trial.number;
  const isKnown = page.trials.some(isSame);
  const trials = isKnown ? page.trials.map((one) => (isSame(one) ? trial : one)) : [...page.trials, trial];
  return { ...page, trials };
};

const withPrediction = (page: GroupPage, made: Prediction): GroupPage => ({
  ...page,
  predictions: [...page.predictions.filter(({ row }) => row !== made.row), made],
});

export class Link {
  readonly #memory: Memory;
  readonly #listeners = new Set<() => void>();
  #state: LinkState;
  #end: () => void = () => undefined;
  #last: Promise<unknown> = Promise.resolve();

  constructor(memory: Memory) {
    this.#memory = memory;
    this.#state = { isAway: false, isOut: false, isErased: memory.kept().isErased === true };
  }

  readonly state = (): LinkState => this.#state;
  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  get address(): string {
    const { experimentId, groupId } = this.#memory.kept();
    return `/api/experiments/${experimentId}/groups/${groupId}`;
  }

  /** Begins to ask. @returns how to end it */
  readonly start = (): (() => void) => {
    if (this.#state.isErased) return () => undefined;
    this.#end = askRegularly(() => void this.ask());
    return this.#end;
  };

  /** How things stand; then whatever waits is sent. */
  async ask(): Promise<void> {
    await this.#inTurn(async () => {
      try {
        if (this.#state.isErased || (this.#state.isOut && !(await this.#isInAgain()))) return;
        const page = await getNow<GroupPage>(this.address, timeLimit());
        this.#set({ isAway: false, isOut: false });
        const before = this.#memory.kept();
        const isNews = JSON.stringify(page) !== JSON.stringify(before.page);
        if (isNews) this.#memory.change(() => ({ page, name: page.group.name }));
        await this.#sendAll();
      } catch (error) {
        this.#note(error);
        if (this.#state.isOut) await this.#isInAgain().catch((second: unknown) => this.#note(second));
      }
    });
  }

  /** Asks where nobody is refused, so that a device that is out hears of the end of its class, too. */
  async #isInAgain(): Promise<boolean> {
    const { experimentId, groupId } = this.#memory.kept();
    const standing = await standingIn(
      experimentId,
      this.#memory.keeper,
      this.#memory.keeper === 'group' ? groupId : undefined,
    );
    this.#set({ isAway: false });
    if (standing === 'erased') {
      this.#end();
      this.#memory.erase();
      this.#set({ isErased: true });
    }
    return standing === 'in';
  }

  /** Keeps a complete entry, then sends it. Its fields are empty once it is saved or kept; a refusal leaves it in them. */
  async save(entry: Entry, confirmed: readonly string[] = []): Promise<Outcome> {
    const first: Waiting = { ...entry, key: newKey(), isFirst: true, problem: null };
    this.#memory.change(({ waiting }) => ({ waiting: [...waiting, first] }));
    return this.#inTurn(async () => {
      await this.#sendAll();
      const outcome = await this.#send(first, confirmed);
      if (outcome.kind !== 'refused') this.#memory.emptyFields(entry.row);
      if (outcome.kind === 'kept')
        this.#memory.change(({ waiting }) => ({
          waiting: waiting.map((one) => (one.key === first.key ? { ...one, isFirst: false } : one)),
        }));
      return outcome;
    });
  }

  discard(key: string): void {
    this.#memory.change(({ waiting }) => ({ waiting: waiting.filter((one) => one.key !== key) }));
  }

  /** A correction, an exclusion: done now or refused. @throws ProblemError, NetworkError */
  async act(path: string, body: object | undefined, key: string): Promise<void> {
    const trial = await postNow<ClassTrial>(`${this.address}/trials/${path}`, body, key, timeLimit());
    this.#memory.change(({ page }) => (page === null ? {} : { page: withTrial(page, trial) }));
  }

  /** One after another, in the order of entry. */
  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const turn = this.#last.then(work);
    this.#last = turn.catch(() => undefined);
    return turn;
  }

  async #sendAll(): Promise<void> {
    const stuck = new Set<string>();
    for (const one of this.#memory.kept().waiting) {
      if (one.isFirst) continue;
      if (one.problem !== null) stuck.add(one.row);
      if (stuck.has(one.row) || this.#state.isOut) continue;
      const outcome = await this.#send(one, []);
      if (outcome.kind === 'kept') return;
      if (outcome.kind === 'saved') continue;
      stuck.add(one.row);
      const problem = [
        ...Object.values(outcome.asked.problems),
        ...outcome.asked.questions.map(({ detail }) => detail),
      ];
      this.#memory.change(({ waiting }) => ({
        waiting: [...waiting, { ...one, problem: problem.join(' ') }].sort(byOrderOf(waiting)),
      }));
    }
  }

  async #send({ key, kind, body }: Waiting, confirmed: readonly string[]): Promise<Outcome> {
    try {
      const answer = await postNow<ClassTrial | Prediction>(`${this.address}/${kind}s`, body, key, timeLimit());
      const trial = kind === 'trial' ? (answer as ClassTrial) : null;
      this.#memory.change(({ page, waiting }) => ({
        waiting: waiting.filter((one) => one.key !== key),
        page: page && (trial ? withTrial(page, trial) : withPrediction(page, answer as Prediction)),
      }));
      this.#set({ isAway: false, isOut: false });
      return { kind: 'saved', trial };
    } catch (error) {
      if (!(error instanceof ProblemError) || PASSING.has(error.code) || OUT.has(error.code)) {
        this.#note(error);
        return { kind: 'kept' };
      }
      this.discard(key);
      return { kind: 'refused', asked: askedBy(error, confirmed) };
    }
  }

  #note(error: unknown): void {
    if (error instanceof NetworkError) this.#set({ isAway: true });
    else if (error instanceof ProblemError) this.#set(OUT.has(error.code) ? { isOut: true } : { isAway: true });
    else throw error;
  }

  #set(changed: Partial<LinkState>): void {
    const next = { ...this.#state, ...changed };
    if (JSON.stringify(next) === JSON.stringify(this.#state)) return;
    this.#state = next;
    for (const listener of this.#listeners) listener();
  }
}

/** A refused entry goes back to its place. */
const byOrderOf = (before: readonly Waiting[]) => {
  const place = new Map(before.map(({ key }, index) => [key, index]));
  return (first: Waiting, second: Waiting): number => (place.get(first.key) ?? 0) - (place.get(second.key) ?? 0);
};
