import { useEffect, useState } from 'react';

const PAUSE_MS = 200;

/** False until the page stands and the browser has nothing more urgent to do: what can wait is fetched then. */
export function useLater(): boolean {
  const [isLater, setLater] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setLater(true), PAUSE_MS);
    return () => clearTimeout(timer);
  }, []);
  return isLater;
}
