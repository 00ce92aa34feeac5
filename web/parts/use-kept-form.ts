/** The draft of a form that outlives a reload, until it is saved or emptied. */
import { useState } from 'react';
import { forgetDraft, keepDraft, recallDraft } from './tab-draft.ts';

export interface KeptForm<D> {
  /** Its last change, ms since 1970. */
  atMs: number;
  draft: Partial<D>;
}

/** Where a form is kept. */
export interface FormShelf<D> {
  recall: () => KeptForm<D> | null;
  keep: (kept: KeptForm<D>) => void;
  forget: () => void;
}

/** In this tab alone. */
export const tabShelf = <D>(key: string): FormShelf<D> => ({
  recall: () => recallDraft<KeptForm<D>>(key),
  keep: (kept) => keepDraft(key, kept),
  forget: () => forgetDraft(key),
});

interface FormOf<D> {
  shelf: FormShelf<D>;
  /** The form nobody has typed into. */
  first: () => D;
  /** What was kept lies over the first draft, since an earlier version of the form may lack a member. */
  overlay?: (first: D, kept: KeptForm<D>) => D;
}

export function useKeptForm<D extends object>({ shelf, first, overlay }: FormOf<D>) {
  const [kept, setKept] = useState(shelf.recall);
  const [draft, setDraft] = useState<D>(() => {
    if (kept === null) return first();
    return overlay ? overlay(first(), kept) : { ...first(), ...kept.draft };
  });
  const [isTyped, setTyped] = useState(kept !== null);
  return {
    draft,
    /** Something is kept that can be emptied. */
    isTyped,
    /** When what this page found was typed, ms since 1970; null where it found nothing. */
    keptAtMs: kept?.atMs ?? null,
    update: (changed: (before: D) => D): void => {
      setTyped(true);
      setDraft((before) => {
        const next = changed(before);
        shelf.keep({ atMs: Date.now(), draft: next });
        return next;
      });
    },
    /** It is saved. */
    forget: shelf.forget,
    empty: (): void => {
      shelf.forget();
      setKept(null);
      setTyped(false);
      setDraft(first());
    },
  };
}
