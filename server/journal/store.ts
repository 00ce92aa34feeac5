import type { Handle } from '../db/connection.ts';
import type { JournalEntryTable } from '../db/tables.ts';
import { canonical, type JournalValue } from './canonical.ts';
import { entryHash, FIRST_PREVIOUS_HASH, type JournalEntry } from './chain.ts';

export interface NewEntry {
  at: string;
  actor: string;
  act: string;
  object: string;
  before: JournalValue;
  after: JournalValue;
  requestId: string;
}

export interface Head {
  number: number;
  hash: string;
}

/** Appends to the chain inside the transaction the caller has open on `handle`. Prepared once, called per act. */
export const journalAppender = (handle: Handle): ((entry: NewEntry) => Head) => {
  const last = handle.prepare<[], Head>('select number, hash from journal_entry order by number desc limit 1');
  const insert = handle.prepare(
    `insert into journal_entry (number, at, actor, act, object, before, after, request_id, previous_hash, hash)
     values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  );
  return (entry) => {
    const head = last.get();
    const number = (head?.number ?? 0) + 1;
    const previousHash = head?.hash ?? FIRST_PREVIOUS_HASH;
    const hash = entryHash(previousHash, { number, ...entry });
    const { at, actor, act, object, requestId } = entry;
    insert.run(
      number,
      at,
      actor,
      act,
      object,
      canonical(entry.before),
      canonical(entry.after),
      requestId,
      previousHash,
      hash,
    );
    return { number, hash };
  };
};

/** Text that is not the canonical form of a value becomes one that no act writes: the hash of its entry cannot fit. */
const valueOf = (text: string): JournalValue => {
  try {
    const value = JSON.parse(text) as JournalValue;
    if (canonical(value) === text) return value;
  } catch {
    // no JSON at all
  }
  return { 'not canonical': text };
};

export const entryOf = (row: JournalEntryTable): JournalEntry => ({
  number: row.number,
  at: row.at,
  actor: row.actor,
  act: row.act,
  object: row.object,
  before: valueOf(row.before),
  after: valueOf(row.after),
  requestId: row.request_id,
  previousHash: row.previous_hash,
  hash: row.hash,
});

/** Every entry in order, one at a time: the journal may be larger than memory. */
export function* allEntries(handle: Handle): Generator<JournalEntry> {
  const rows = handle.prepare<[], JournalEntryTable>('select * from journal_entry order by number');
  for (const row of rows.iterate()) yield entryOf(row);
}
