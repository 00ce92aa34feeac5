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
    onSent: () =>
      Promise.allSettled([
        client.invalidateQueries({ queryKey: keys.rounds }),
        client.invalidateQueries({ queryKey: keys.lots }),
      ]),
  }));

interface ShelfInSight {
  deeds: Deeds;
  /** What the server does not have, refused ones among them. */
  list: readonly Deed[];
  /** Whether something sent to this path is on its way, or done and not in sight yet. */
  isUnderWay: (path: string) => boolean;
}

export function useDeeds(): ShelfInSight {
  const deeds = deedsOf(useQueryClient());
  const list = useSyncExternalStore(deeds.subscribe, deeds.list);
  const answered = useSyncExternalStore(deeds.subscribe, deeds.answered);
  useEffect(() => {
    const send = () => void deeds.sendAll();
    send();
    window.addEventListener('online', send);
    return () => window.removeEventListener('online', send);
  }, [deeds]);
  const isUnderWay = (path: string) =>
    answered.some((deed) => deed.path === path) || list.some((deed) => deed.path === path && deed.refused === null);
  return { deeds, list, isUnderWay };
}
