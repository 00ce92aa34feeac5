/**
 * What the device of an assistant keeps: for which class it enters, how far each group was when last heard of, and a
 * memory for each group, so that nothing typed for one of them ever reaches another.
 */
import type { ClassGroup, GroupList } from '../../../server/experiments/contract-class.ts';
import { getNow, isRefusal, newKey, postNow, ProblemError } from '../../api.ts';
import { askRegularly } from './ask-regularly.ts';
import { type LinkState, OUT } from './link.ts';
import { eraseForAssistant, Memory, readShelf } from './memory.ts';
import { standingIn } from './standing.ts';
import { timeLimit } from './time-limit.ts';

interface Note {
  experimentId: string;
  isCautioned: boolean;
  /** What is typed comes from sheets of paper. */
  isFromPaper: boolean;
  list: GroupList | null;
}
export interface DeskState extends LinkState {
  note: Note;
}

const SHELF = 'tarebook.assist';

const keptNote = (): Note | null => readShelf(SHELF) as Note | null;

/** The class this device enters for, or entered for last. */
export const presentClass = (): string | null => keptNote()?.experimentId ?? null;

export class AssistDesk {
  readonly #listeners = new Set<() => void>();
  readonly #memories = new Map<string, Memory>();
  #state: DeskState;
  #end: () => void = () => undefined;
  /** Stays the same until the group it made is there, so that asking twice makes one. */
  #newGroupKey = newKey();

  constructor(experimentId: string) {
    const kept = keptNote();
    const blank = { experimentId, isCautioned: false, isFromPaper: false, list: null };
    this.#state = {
      note: kept?.experimentId === experimentId ? kept : blank,
      isAway: false,
      isOut: false,
      isErased: false,
    };
    this.change({});
  }

  readonly state = (): DeskState => this.#state;
  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };
  /** Begins to ask. @returns how to end it */
  readonly start = (): (() => void) => {
    this.#end = askRegularly(() => void this.ask());
    return this.#end;
  };

  get #address(): string {
    return `/api/experiments/${this.#state.note.experimentId}/groups`;
  }

  /** The one memory of a group on this page. */
  memoryOf(groupId: string): Memory {
    const { experimentId } = this.#state.note;
    const memory = this.#memories.get(groupId) ?? new Memory({ experimentId, groupId }, 'assistant');
    this.#memories.set(groupId, memory);
    return memory;
  }

  /** How far the groups are. */
  async ask(): Promise<void> {
    if (this.#state.isErased) return;
    try {
      if (this.#state.isOut && !(await this.#isInAgain())) return;
      const list = await getNow<GroupList>(this.#address, timeLimit());
      this.#set({ isAway: false, isOut: false });
      if (JSON.stringify(list) !== JSON.stringify(this.#state.note.list)) this.change({ list });
    } catch (error) {
      if (!isRefusal(error)) throw error;
      const isOut = error instanceof ProblemError && OUT.has(error.code);
      this.#set(isOut ? { isOut } : { isAway: true });
      if (isOut) await this.#isInAgain().catch(() => this.#set({ isAway: true }));
    }
  }

  /** Asks where nobody is refused, so that a device that is out hears of the end of its class, too. */
  async #isInAgain(): Promise<boolean> {
    const { experimentId } = this.#state.note;
    const standing = await standingIn(experimentId, 'assistant');
    if (standing === 'erased') this.#erase(experimentId);
    return standing === 'in';
  }

  #erase(experimentId: string): void {
    this.#end();
    this.#memories.clear();
    eraseForAssistant(experimentId);
    localStorage.removeItem(SHELF);
    this.#set({ isErased: true, note: { ...this.#state.note, list: null } });
  }

  /** A group without a phone. @throws ProblemError, NetworkError */
  async makeGroup(): Promise<ClassGroup | null> {
    const made = await postNow<{ items: ClassGroup[] }>(this.#address, { count: 1 }, this.#newGroupKey, timeLimit());
    this.#newGroupKey = newKey();
    await this.ask();
    return made.items[0] ?? null;
  }

  change(changed: Partial<Note>): void {
    const note = { ...this.#state.note, ...changed };
    this.#set({ note });
    try {
      localStorage.setItem(SHELF, JSON.stringify(note));
    } catch {
      // The memory of each group says so where it matters: at the fields.
    }
  }

  #set(changed: Partial<DeskState>): void {
    this.#state = { ...this.#state, ...changed };
    for (const listener of this.#listeners) listener();
  }
}
