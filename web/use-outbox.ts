import type { QueryClient } from '@tanstack/react-query';
import { createContext, useContext, useEffect, useSyncExternalStore } from 'react';
import { postNow } from './api.ts';
import { Outbox, type OutboxEntry, unsentCount } from './outbox.ts';
import { browserStorage } from './outbox-storage.ts';
import { keys } from './queries.ts';
import { whoIsSignedIn } from './session.ts';
import { isSignedOut, subscribeSignedOut } from './signed-out.ts';

export const makeOutbox = (client: QueryClient): Outbox =>
  new Outbox({
    storage: browserStorage(),
    who: () => whoIsSignedIn(client),
    send: ({ id, calibrationId, body }) =>
      postNow<{ number: number }>(`/api/calibrations/${calibrationId}/trials`, body, id),
    onSaved: async ({ calibrationId }) => {
      await Promise.all([
        client.invalidateQueries({ queryKey: keys.calibration(calibrationId) }),
        client.invalidateQueries({ queryKey: keys.rounds }),
      ]);
      void client.invalidateQueries({ queryKey: keys.lots });
      // The page hears of what was fetched a turn later. Were the entry gone before, the next trial would for a moment
      // have nothing to carry over from it, and a balance that types just then would lose the water temperature.
      await new Promise((resolve) => setTimeout(resolve, 0));
      void client.invalidateQueries({ queryKey: keys.openCalibrations });
      void client.invalidateQueries({ queryKey: keys.today });
    },
  });

const OutboxContext = createContext<Outbox | null>(null);
export const OutboxProvider = OutboxContext.Provider;

export function useOutbox(): { outbox: Outbox; entries: readonly OutboxEntry[]; storageFails: boolean } {
  const outbox = useContext(OutboxContext);
  if (!outbox) throw new Error('The outbox is provided by the app.');
  const entries = useSyncExternalStore(outbox.subscribe, outbox.entries);
  const storageFails = useSyncExternalStore(outbox.subscribe, outbox.storageFails);
  return { outbox, entries, storageFails };
}

/** Sends on load, when the network is back, and when the page is looked at again; warns before leaving with unsent entries. */
export function useOutboxAtWork(outbox: Outbox): void {
  useEffect(() => {
    void outbox.start();
    const send = () => void outbox.sendAll();
    const sendWhenSeen = () => {
      if (document.visibilityState === 'visible') send();
    };
    const warn = (event: BeforeUnloadEvent) => {
      if (unsentCount(outbox.entries()) > 0) event.preventDefault();
    };
    const unsubscribe = subscribeSignedOut(() => {
      if (!isSignedOut()) send();
    });
    window.addEventListener('online', send);
    document.addEventListener('visibilitychange', sendWhenSeen);
    window.addEventListener('beforeunload', warn);
    return () => {
      unsubscribe();
      window.removeEventListener('online', send);
      document.removeEventListener('visibilitychange', sendWhenSeen);
      window.removeEventListener('beforeunload', warn);
    };
  }, [outbox]);
}
