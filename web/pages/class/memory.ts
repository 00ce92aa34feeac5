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

/** How many entries of groups this device holds for an assistant and the class does not have. */
export const heldForAssistant = (): number =>
  shelvesOf('assistant').reduce((sum, name) => sum + (keptOf(name)?.waiting.length ?? 0), 0);

/** The memory of one group. Listeners hear of every change, also of one made in another tab. */
export class Memory {
  readonly #shelf: string;
  readonly #listeners = new Set<() => void>();
  #kept: Kept;
  #fails = false;

  constructor({ experimentId, groupId }: Membership, keeper: Keeper = 'group') {
    this.#shelf = shelfOf(keeper, groupId);
    this.#kept = takenUp(
      keptOf(this.#shelf) ?? {
        ...{ experimentId, groupId, name: null, word: null, isWordWritten: false, isCautioned: false },
        ...{ row: null, drafts: {}, waiting: [], page: null },
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
    localStorage.removeItem(PRESENT);
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
