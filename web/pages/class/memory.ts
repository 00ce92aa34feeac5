/**
 * What a phone keeps of its group, from the first key on: where it belongs, what is typed, what the class does not have
 * yet, and the last state it heard of. Kept in localStorage, which phones have on plain http too.
 */
import type {
  ClassTrialBody,
  GroupPage,
  Prediction,
  PredictionBody,
} from '../../../server/experiments/contract-class.ts';
import { TAG_UNKNOWN } from '../../parts/vessel-chosen.ts';

export interface Membership {
  experimentId: string;
  groupId: string;
}

export type FieldNotes = Partial<Record<string, string>>;
export interface Question {
  field: string;
  detail: string;
  confirm: string;
}
/** What stands in the way of saving, at its field; and the questions, with those answered by yes. */
export interface Asked {
  problems: FieldNotes;
  questions: readonly Question[];
  confirmed: readonly string[];
}
export const NOTHING_ASKED: Asked = { problems: {}, questions: [], confirmed: [] };

/** Fields of a trial and of a prediction as typed. */
export interface Typed {
  emptyG: string;
  filledG: string;
  waterTemperatureC: string;
  /** Id of a registered vessel, or that it is not known; empty before somebody chose. */
  vesselId: string;
  volumeMl: string;
  withinMl: string;
  sureness: string;
}
export const BLANK: Typed = {
  ...{ emptyG: '', filledG: '', waterTemperatureC: '', vesselId: '' },
  ...{ volumeMl: '', withinMl: '', sureness: '' },
};

/** The fields that a body was read from. */
export const typedTrial = ({
  emptyG,
  filledG,
  waterTemperatureC = '',
  vesselId = TAG_UNKNOWN,
}: ClassTrialBody): Typed => ({
  ...BLANK,
  ...{ emptyG, filledG, waterTemperatureC, vesselId },
});
export const typedPrediction = ({ volumeMl, withinMl, sureness }: PredictionBody | Prediction): Typed => ({
  ...BLANK,
  ...{ volumeMl, withinMl: withinMl ?? '', sureness: sureness ?? '' },
});

export type Entry =
  { kind: 'trial'; row: string; body: ClassTrialBody } | { kind: 'prediction'; row: string; body: PredictionBody };
/** Something complete that the class does not have yet. The key makes sending it twice harmless. */
export type Waiting = Entry & {
  key: string;
  /** Sent for the first time right now: it still stands in its fields. */
  isFirst: boolean;
  /** Why the class did not take it. */
  problem: string | null;
};

export interface Kept extends Membership {
  name: string | null;
  /** Null where this phone never learnt it. */
  word: string | null;
  isWordWritten: boolean;
  isCautioned: boolean;
  /** Key of the row that is open. */
  row: string | null;
  drafts: Partial<Record<string, Typed>>;
  waiting: readonly Waiting[];
  page: GroupPage | null;
  /** Its class was erased: nothing is left here but what never reached it. */
  isErased?: true;
}

/** A phone belongs to one group; an assistant enters for every group of a class. */
type Keeper = 'group' | 'assistant';
const PLACES: Record<Keeper, string> = { group: 'tarebook.class', assistant: 'tarebook.assist' };
const PRESENT = PLACES.group;
const shelfOf = (keeper: Keeper, groupId: string): string => `${PLACES[keeper]}.${groupId}`;

export const readShelf = (name: string): unknown => {
  try {
    const text = localStorage.getItem(name);
    return text === null ? null : (JSON.parse(text) as unknown);
  } catch {
    return null;
  }
};

const keptOf = (shelf: string): Kept | null => readShelf(shelf) as Kept | null;

/** The group this phone belongs to, or belonged to last. */
export const presentGroup = (): Kept | null => {
  const groupId = readShelf(PRESENT);
  return typeof groupId === 'string' ? keptOf(shelfOf('group', groupId)) : null;
};

const without = (drafts: Kept['drafts'], row: string): Kept['drafts'] => {
  const { [row]: _gone, ...others } = drafts;
  return others;
};

/** What an earlier visit left: a sending that was cut off waits to be sent again, and stands in its fields no more. */
const takenUp = (kept: Kept): Kept => ({
  ...kept,
  drafts: kept.waiting.reduce((drafts, { isFirst, row }) => (isFirst ? without(drafts, row) : drafts), kept.drafts),
  waiting: kept.waiting.map((one) => ({ ...one, isFirst: false })),
});

const shelvesOf = (keeper: Keeper): string[] =>
  Object.keys(localStorage).filter((name) => name.startsWith(`${PLACES[keeper]}.`));

/**
 * Groups of earlier lessons go; one with entries that the class never got stays, in case it comes back. An assistant
 * has all groups of one lesson at once.
 */
const forgetOthers = (keeper: Keeper, present: string, experimentId: string): void => {
  for (const name of shelvesOf(keeper)) {
    const kept = keptOf(name);
    if (name === present || kept?.waiting.length !== 0) continue;
    if (keeper === 'group' || kept.experimentId !== experimentId) localStorage.removeItem(name);
  }
};

const keptForAssistant = (): Kept[] => shelvesOf('assistant').flatMap((name) => keptOf(name) ?? []);

/** How many entries of groups this device holds for an assistant and the class does not have, but may still get. */
export const heldForAssistant = (): number =>
  keptForAssistant().reduce((sum, { isErased, waiting }) => sum + (isErased ? 0 : waiting.length), 0);

/** What never reached classes that were erased since. */
export const leftForAssistant = (): Kept[] => keptForAssistant().filter(({ isErased }) => isErased);

/** Nothing of a class that was erased stays with an assistant but what never reached it. */
export const eraseForAssistant = (experimentId: string): void => {
  for (const kept of keptForAssistant()) if (kept.experimentId === experimentId) new Memory(kept, 'assistant').erase();
};

const BLANK_GROUP = { name: null, word: null, isWordWritten: false, isCautioned: false, row: null } as const;

const isTyped = (typed: Typed | undefined): boolean =>
  typed !== undefined && [typed.emptyG, typed.filledG, typed.volumeMl, typed.withinMl].some((one) => one.trim() !== '');

/** Rows with something typed that was never complete. */
export const typedRows = ({ drafts }: Kept): [row: string, typed: Typed][] =>
  Object.entries(drafts).flatMap(([row, typed]) => (typed && isTyped(typed) ? [[row, typed]] : []));

/** What is left of a group once its class was erased: what never reached the class, and what that ware is called. */
export function leftAfterErasing(kept: Kept): Kept {
  const { experimentId, groupId, waiting, page } = kept;
  const drafts = Object.fromEntries(typedRows(kept));
  const isSomething = waiting.length + Object.keys(drafts).length > 0;
  const plan = page && { ...page, group: { ...page.group, name: null }, trials: [], predictions: [] };
  return { ...BLANK_GROUP, experimentId, groupId, drafts, waiting, page: isSomething ? plan : null, isErased: true };
}

/** The memory of one group. Listeners hear of every change, also of one made in another tab. */
export class Memory {
  readonly #shelf: string;
  readonly #listeners = new Set<() => void>();
  #kept: Kept;
  #fails = false;

  constructor(
    { experimentId, groupId }: Membership,
    readonly keeper: Keeper = 'group',
  ) {
    this.#shelf = shelfOf(keeper, groupId);
    this.#kept = takenUp(
      keptOf(this.#shelf) ?? {
        ...{ ...BLANK_GROUP, experimentId, groupId },
        ...{ drafts: {}, waiting: [], page: null },
      },
    );
    if (keeper === 'group') this.#write(PRESENT, groupId);
    forgetOthers(keeper, this.#shelf, experimentId);
  }

  /** The same object until something changes. */
  readonly kept = (): Kept => this.#kept;
  /** True once the phone refused to keep something. */
  readonly fails = (): boolean => this.#fails;

  readonly subscribe = (listener: () => void): (() => void) => {
    if (this.#listeners.size === 0) window.addEventListener('storage', this.#hear);
    this.#listeners.add(listener);
    return () => {
      this.#listeners.delete(listener);
      if (this.#listeners.size === 0) window.removeEventListener('storage', this.#hear);
    };
  };

  change(changed: (before: Kept) => Partial<Kept>): void {
    this.#kept = { ...this.#kept, ...changed(this.#kept) };
    this.#write(this.#shelf, this.#kept);
    this.#tell();
  }

  type(row: string, typed: Typed): void {
    this.change(({ drafts }) => ({ drafts: { ...drafts, [row]: typed } }));
  }

  /** The fields of a row are empty again. */
  emptyFields(row: string): void {
    this.change(({ drafts }) => ({ drafts: without(drafts, row) }));
  }

  /** Nothing of the group stays on this phone. */
  forget(): void {
    localStorage.removeItem(this.#shelf);
    if (this.keeper === 'group') localStorage.removeItem(PRESENT);
  }

  /** The class was erased: nothing stays but what never reached it. */
  erase(): void {
    this.change(leftAfterErasing);
    if (this.#kept.page === null && this.#kept.waiting.length === 0 && typedRows(this.#kept).length === 0)
      this.forget();
  }

  readonly #hear = ({ key, newValue }: StorageEvent): void => {
    if (key !== this.#shelf || newValue === null) return;
    this.#kept = (readShelf(this.#shelf) as Kept | null) ?? this.#kept;
    this.#tell();
  };

  #write(name: string, value: unknown): void {
    try {
      localStorage.setItem(name, JSON.stringify(value));
    } catch {
      this.#fails = true;
    }
  }

  #tell(): void {
    for (const listener of this.#listeners) listener();
  }
}
