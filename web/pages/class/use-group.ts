import { useEffect, useMemo, useState, useSyncExternalStore } from 'react';
import { Link, type LinkState } from './link.ts';
import { type Kept, Memory, presentGroup } from './memory.ts';
import { presentSession } from './standing.ts';

export interface Group {
  memory: Memory;
  link: Link;
  kept: Kept;
  state: LinkState;
  /** What is typed comes from a sheet of paper. */
  isFromPaper: boolean;
  /** The phone refused to keep something. */
  keepsNothing: boolean;
}

/** The group of this phone while its page is open: asked for, sent, kept. */
export function useGroup(memory: Memory, isFromPaper = false): Group {
  const link = useMemo(() => new Link(memory), [memory]);
  useEffect(() => link.start(), [link]);
  const kept = useSyncExternalStore(memory.subscribe, memory.kept);
  const keepsNothing = useSyncExternalStore(memory.subscribe, memory.fails);
  const state = useSyncExternalStore(link.subscribe, link.state);
  return { memory, link, kept, state, isFromPaper, keepsNothing };
}

/**
 * What this phone remembers of its group; where it remembers nothing, what the server knows of it. Undefined until that
 * is known, null where there is none.
 */
export function usePresentMemory(): Memory | null | undefined {
  const [memory, setMemory] = useState<Memory | null | undefined>(() => {
    const kept = presentGroup();
    return kept === null ? undefined : new Memory(kept);
  });
  useEffect(() => {
    if (memory !== undefined) return;
    presentSession().then(
      ({ kind, experimentId, groupId }) =>
        setMemory(kind === 'group' && experimentId && groupId ? new Memory({ experimentId, groupId }) : null),
      () => setMemory(null),
    );
  }, [memory]);
  return memory;
}
