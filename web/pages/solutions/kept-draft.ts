import { useCallback, useEffect, useState } from 'react';

/** What is kept lies over the empty draft, since an earlier version of the form may lack a member. */
function keptDraft<D extends object>(shelf: string, empty: D): D {
  try {
    return { ...empty, ...(JSON.parse(localStorage.getItem(shelf) ?? '{}') as Partial<D>) };
  } catch {
    return empty;
  }
}

function keep(shelf: string, draft: object): void {
  try {
    localStorage.setItem(shelf, JSON.stringify(draft));
  } catch {
    // A browser that keeps nothing still lets one work.
  }
}

/** What stood there before something was taken away, and where on the page that was done. */
interface Dropped<D> {
  before: D;
  at: 'form' | 'rows';
  what: string;
}

/**
 * What is typed into a form, kept in this browser until it is recorded.
 * @param handedOver begins another draft in place of the kept one
 */
export function useKeptDraft<D extends object>(shelf: string, empty: D, handedOver: Partial<D> | null = null) {
  const [draft, setDraft] = useState<D>(() =>
    handedOver === null ? keptDraft(shelf, empty) : { ...empty, ...handedOver },
  );
  useEffect(() => keep(shelf, draft), [shelf, draft]);
  const [dropped, setDropped] = useState<Dropped<D> | null>(null);
  const change = useCallback((changes: Partial<D>) => {
    setDropped(null);
    setDraft((before) => ({ ...before, ...changes }));
  }, []);
  /** Written at once: the page may be left before it is drawn again. */
  const beginAnew = useCallback(
    (next: D) => {
      keep(shelf, next);
      setDropped(null);
      setDraft(next);
    },
    [shelf],
  );
  /** Takes something typed away, and can put it back until the next change. */
  const drop = (next: Partial<D>, at: Dropped<D>['at'], what: string) => {
    change(next);
    setDropped({ before: draft, at, what });
  };
  const undo = () => dropped && change(dropped.before);
  return { draft, change, beginAnew, drop, undoing: { dropped, undo } };
}
