import { type QueryClient, useQuery } from '@tanstack/react-query';
import { useSyncExternalStore } from 'react';
import type { Role, SessionState } from '../server/people/contract.ts';
import { get } from './api.ts';
import { isSignedOut, noteSignedIn, subscribeSignedOut } from './signed-out.ts';

const SESSION = ['session'] as const;

export const useSession = () =>
  useQuery({
    queryKey: SESSION,
    queryFn: ({ signal }) => get<SessionState>('/api/session', signal),
    staleTime: 60_000,
  });

/** Name of who is signed in, null for nobody. @throws NetworkError while it is not known and the server is away */
export const whoIsSignedIn = async (client: QueryClient): Promise<string | null> => {
  const state = await client.query({
    queryKey: SESSION,
    queryFn: () => get<SessionState>('/api/session'),
    staleTime: 'static',
  });
  return state.person?.name ?? null;
};

/** After signing in: everything refused before is asked again. */
export const takeSession = async (client: QueryClient, state: SessionState): Promise<void> => {
  client.setQueryData(SESSION, state);
  noteSignedIn();
  await client.invalidateQueries();
};

export const useSignedOut = (): boolean => useSyncExternalStore(subscribeSignedOut, isSignedOut);

const WHO = {
  /** Registers, weighs, corrects. */
  bench: ['keeper', 'technician'],
  keep: ['keeper'],
  /** Makes solutions and says what becomes of them. */
  prepare: ['keeper', 'technician', 'teacher'],
  teach: ['keeper', 'teacher'],
  oversee: ['keeper', 'auditor'],
} as const satisfies Record<string, readonly Role[]>;

/** What the person who is signed in may do, for showing only what makes sense; the server decides by itself. */
export const useMay = (): ((act: keyof typeof WHO | 'issue') => boolean) => {
  const { data } = useSession();
  return (act) => {
    const person = data?.person;
    // Before people exist everybody on the machine may do everything.
    if (!person) return true;
    return act === 'issue' ? person.mayIssue : (WHO[act] as readonly Role[]).includes(person.role);
  };
};
