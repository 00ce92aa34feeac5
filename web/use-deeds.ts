import { useQueryClient, type QueryClient } from '@tanstack/react-query';
import { useEffect, useSyncExternalStore } from 'react';
import { postNow } from './api.ts';
import { keys } from './queries.ts';
import { whoIsSignedIn } from './session.ts';
import { type Deed, Deeds } from './deeds.ts';

let shared: Deeds | null = null;

/** One shelf for the whole page, whichever round is in sight. */
const deedsOf = (client: QueryClient): Deeds =>
  (shared ??= new Deeds({
    storage: localStorage,
    send: ({ path, body, id }) => postNow(path, body, id),
    who: () => whoIsSignedIn(client),
    onSent: () => {
      void client.invalidateQueries({ queryKey: keys.rounds });
      void client.invalidateQueries({ queryKey: keys.lots });
    },
  }));

export function useDeeds(): { deeds: Deeds; list: readonly Deed[] } {
  const deeds = deedsOf(useQueryClient());
  const list = useSyncExternalStore(deeds.subscribe, deeds.list);
  useEffect(() => {
    const send = () => void deeds.sendAll();
    send();
    window.addEventListener('online', send);
    return () => window.removeEventListener('online', send);
  }, [deeds]);
  return { deeds, list };
}
