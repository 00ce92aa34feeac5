import { useEffect } from 'react';
import { useSearchParams } from 'wouter';

const LARGEST = 2_147_483_647;

/** @returns null for what is no seed: a whole number from 0 to 2 147 483 647 */
export const readSeed = (typed: string): number | null => {
  const seed = /^\d{1,10}$/.test(typed.trim()) ? Number(typed) : Number.NaN;
  return seed <= LARGEST ? seed : null;
};

const newSeed = (): number => (crypto.getRandomValues(new Uint32Array(1))[0] ?? 0) & LARGEST;

/** The seed stands in the address, so that going back, a reload or a note on paper leads to the same sample again. */
export function useSeed(): { seed: number | null; draw: (seed?: number) => void } {
  const [query, setQuery] = useSearchParams();
  const seed = readSeed(query.get('seed') ?? '');
  const draw = (chosen = newSeed()): void =>
    setQuery(
      (before) => {
        before.set('seed', String(chosen));
        return before;
      },
      { replace: true },
    );
  useEffect(() => {
    if (seed === null) draw();
  });
  return { seed, draw };
}
