/** What is typed into a form and not saved yet: kept for this tab alone, through a reload and a look at another page. */

const shelfOf = (key: string): string => `tarebook.draft.${key}`;

/** What was kept as it was kept: a tab recalls only what the same form left there. */
type Recalled<T> = T | null;

/** @returns null where nothing is kept, or the browser lets nothing be read */
export function recallDraft<T>(key: string): Recalled<T> {
  try {
    return JSON.parse(sessionStorage.getItem(shelfOf(key)) ?? 'null') as Recalled<T>;
  } catch {
    return null;
  }
}

export function keepDraft(key: string, value: unknown): void {
  try {
    sessionStorage.setItem(shelfOf(key), JSON.stringify(value));
  } catch {
    // A browser that keeps nothing still lets one work.
  }
}

export function forgetDraft(key: string): void {
  try {
    sessionStorage.removeItem(shelfOf(key));
  } catch {
    // Nothing was kept there either.
  }
}
