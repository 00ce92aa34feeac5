/** The head of a calibration, of a round or of a sheet while it is typed, so that a reload loses nothing of it. */
import { type FormShelf, type KeptForm, tabShelf, useKeptForm } from '../../parts/use-kept-form.ts';
import { dayOf } from '../../parts/time.ts';
import type { StartDraft } from './draft.ts';

const shelfOf = (of: string): string => `tarebook.sheet.${of}`;

/** A sheet is typed in when there is time: it outlives the tab. */
const sheetShelf = (of: string): FormShelf<StartDraft> => ({
  recall: () => {
    try {
      const kept = localStorage.getItem(shelfOf(of));
      return kept === null ? null : { atMs: 0, draft: JSON.parse(kept) as Partial<StartDraft> };
    } catch {
      return null;
    }
  },
  keep: ({ draft }) => {
    try {
      localStorage.setItem(shelfOf(of), JSON.stringify(draft));
    } catch {
      // A full or closed shelf: after a reload the head is typed again.
    }
  },
  forget: () => localStorage.removeItem(shelfOf(of)),
});

/** Nothing of today stands on a sheet: what is carried over at the bench is left open. */
const asOnSheet = (draft: StartDraft): StartDraft => ({
  ...draft,
  isFromSheet: true,
  conditions: {
    ...draft.conditions,
    ...{ airTemperatureC: '', airPressureHpa: '', relativeHumidityPercent: '', adjustedToday: false },
  },
});

/** What was kept, laid over the proposals of now. What was ticked for another day does not hold for this one. */
export function keptStart(first: StartDraft, { atMs, draft: kept }: KeptForm<StartDraft>, nowMs: number): StartDraft {
  const draft = { ...first, ...kept, conditions: { ...first.conditions, ...kept.conditions } };
  if (draft.isFromSheet || dayOf(new Date(atMs)) === dayOf(new Date(nowMs))) return draft;
  return {
    ...draft,
    conditions: { ...draft.conditions, adjustedToday: false, inspected: false, cleaned: false, dried: false },
  };
}

interface StartOf {
  /** Name of the form at the bench: `calibration` or `round`. */
  form: 'calibration' | 'round';
  /** Vessel or delivery it is of. */
  id: string;
  isFromSheet: boolean;
}

export function useStartDraft({ form, id, isFromSheet }: StartOf, first: () => StartDraft) {
  const { draft, isTyped, keptAtMs, update, forget, empty } = useKeptForm<StartDraft>({
    shelf: isFromSheet ? sheetShelf(id) : tabShelf(`${form}.${id}`),
    first: () => (isFromSheet ? asOnSheet(first()) : first()),
    overlay: (draftOfNow, kept) => keptStart(draftOfNow, kept, Date.now()),
  });
  return {
    draft,
    isTyped,
    /** When what stands in the form of the bench was typed; null where it was typed just now, or nothing is. */
    keptAtMs: isFromSheet ? null : keptAtMs,
    change: (changes: Partial<StartDraft>) => update((before) => ({ ...before, ...changes })),
    changeConditions: (changes: Partial<StartDraft['conditions']>) =>
      update((before) => ({ ...before, conditions: { ...before.conditions, ...changes } })),
    /** It has begun: its head stands in the record. */
    forget,
    empty,
  };
}
