/**
 * Which half-typed trials belong to this tab. Two tabs on one calibration share what the browser keeps; after a reload
 * each goes on with its own, not with whichever was begun first.
 */
const KEY = 'tarebook.typed-here';
const MOST_REMEMBERED = 20;

export function typedHere(): readonly string[] {
  try {
    const kept: unknown = JSON.parse(sessionStorage.getItem(KEY) ?? '[]');
    return Array.isArray(kept) ? kept.map(String) : [];
  } catch {
    return [];
  }
}

export function noteTypedHere(id: string): void {
  const known = typedHere();
  if (known.at(-1) === id) return;
  try {
    const ids = [...known.filter((one) => one !== id), id].slice(-MOST_REMEMBERED);
    sessionStorage.setItem(KEY, JSON.stringify(ids));
  } catch {
    // Where nothing can be kept, the tab goes on with the trial that was begun first.
  }
}
