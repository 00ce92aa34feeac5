/** The head of a sheet while it is typed: kept in this browser, so that a reload loses nothing of it. */
import { useState } from 'react';
import type { StartDraft } from './draft.ts';

const shelfOf = (of: string): string => `tarebook.sheet.${of}`;

/** Nothing of today stands on a sheet: what is carried over at the bench is left open. */
const asOnSheet = (draft: StartDraft): StartDraft => ({
  ...draft,
  isFromSheet: true,
  conditions: {
    ...draft.conditions,
    ...{ airTemperatureC: '', airPressureHpa: '', relativeHumidityPercent: '', adjustedToday: false },
  },
});

const recalled = (of: string, draft: StartDraft): StartDraft => {
  try {
    const kept = JSON.parse(localStorage.getItem(shelfOf(of)) ?? '{}') as Partial<StartDraft>;
    return { ...draft, ...kept, conditions: { ...draft.conditions, ...kept.conditions } };
  } catch {
    return draft;
  }
};

const keep = (of: string, draft: StartDraft): void => {
  try {
    localStorage.setItem(shelfOf(of), JSON.stringify(draft));
  } catch {
    // A full or closed shelf: after a reload the head is typed again.
  }
};

/**
 * The draft of a start; with `sheetOf` that of a sheet, kept under this name until it is done.
 * @param sheetOf vessel or delivery the sheet is of; null at the bench
 */
export function useStartDraft(sheetOf: string | null, first: () => StartDraft) {
  const [draft, setDraft] = useState(() => (sheetOf === null ? first() : recalled(sheetOf, asOnSheet(first()))));
  const update = (changed: (before: StartDraft) => StartDraft): void =>
    setDraft((before) => {
      const next = changed(before);
      if (sheetOf !== null) keep(sheetOf, next);
      return next;
    });
  return {
    draft,
    change: (changes: Partial<StartDraft>) => update((before) => ({ ...before, ...changes })),
    changeConditions: (changes: Partial<StartDraft['conditions']>) =>
      update((before) => ({ ...before, conditions: { ...before.conditions, ...changes } })),
    /** The sheet has begun: its head stands in the record. */
    forget: (): void => {
      if (sheetOf !== null) localStorage.removeItem(shelfOf(sheetOf));
    },
  };
}
