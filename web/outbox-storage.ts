import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { OutboxEntry, OutboxStorage } from './outbox.ts';

interface Schema extends DBSchema {
  entries: { key: string; value: OutboxEntry };
}

/** Keys of what the database has not confirmed yet; the entry's id follows. */
const AHEAD = 'tarebook.ahead.';

/**
 * The outbox's shelf in this browser. Works on plain http too, where much else does not.
 *
 * A page that is left while a transaction is open takes the transaction back, and with it the last keys typed. So each
 * entry stands in localStorage, which is written before the next key can be struck, until the database has it.
 */
export function browserStorage(): OutboxStorage {
  let opened: Promise<IDBPDatabase<Schema>> | undefined;
  const database = () =>
    (opened ??= openDB<Schema>('tarebook', 1, {
      upgrade: (created) => void created.createObjectStore('entries', { keyPath: 'id' }),
    }));
  return {
    load: async () => {
      const kept = new Map((await (await database()).getAll('entries')).map((entry) => [entry.id, entry]));
      for (const entry of entriesAhead()) kept.set(entry.id, entry);
      return [...kept.values()];
    },
    put: async (entry) => {
      const written = writeAhead(entry);
      await (await database()).put('entries', entry);
      if (localStorage.getItem(AHEAD + entry.id) === written) localStorage.removeItem(AHEAD + entry.id);
    },
    remove: async (id) => {
      localStorage.removeItem(AHEAD + id);
      await (await database()).delete('entries', id);
    },
  };
}

/** @returns what was written; the database keeps an entry alone where there is no room for it twice */
function writeAhead(entry: OutboxEntry): string | null {
  try {
    const written = JSON.stringify(entry);
    localStorage.setItem(AHEAD + entry.id, written);
    return written;
  } catch {
    return null;
  }
}

function entriesAhead(): OutboxEntry[] {
  return Object.keys(localStorage)
    .filter((key) => key.startsWith(AHEAD))
    .flatMap((key) => {
      try {
        return [JSON.parse(localStorage.getItem(key) ?? '') as OutboxEntry];
      } catch {
        return [];
      }
    });
}
