import { useEffect, useState } from 'react';

/** The value as it stood once nothing changed for a while: what is asked of the server while one types. */
export function useSettled<T>(value: T, pauseMs: number): T {
  const [settled, setSettled] = useState(value);
  useEffect(() => {
    const timer = setTimeout(() => setSettled(value), pauseMs);
    return () => clearTimeout(timer);
  }, [value, pauseMs]);
  return settled;
}
