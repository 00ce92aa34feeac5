import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { OutboxEntry, OutboxStorage } from './outbox.ts';

interface Schema extends DBSchema {
  entries: { key: string; value: OutboxEntry };
}

/** The outbox's shelf in this browser. Works on plain http too, where much else does not. */
export function browserStorage(): OutboxStorage {
  let opened: Promise<IDBPDatabase<Schema>> | undefined;
  const database = () =>
    (opened ??= openDB<Schema>('tarebook', 1, {
      upgrade: (created) => void created.createObjectStore('entries', { keyPath: 'id' }),
    }));
  return {
    load: async () => (await database()).getAll('entries'),
    put: async (entry) => void (await (await database()).put('entries', entry)),
    remove: async (id) => (await database()).delete('entries', id),
  };
}
