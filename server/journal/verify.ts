/**
 * The whole journal checked row by row, straight from the database: the chain first, then every evidence row against
 * the entry that tells of it. Nothing is kept in memory but counts.
 */
import { hash as digest } from 'node:crypto';
import type { Handle } from '../db/connection.ts';
import type { JournalEntryTable } from '../db/tables.ts';
import { canonical, NotCanonical, readCanonical, type JournalValue } from './canonical.ts';
import { FIRST_PREVIOUS_HASH } from './chain.ts';
import type { Head } from './store.ts';
import { EvidenceCheck } from './verify-rows.ts';

export interface Fault {
  /** The entry where it shows; null where the whole journal lacks something. */
  number: number | null;
  /** A plain sentence. */
  fault: string;
}

export interface CheckResult {
  /** Entries that were looked at. */
  entries: number;
  head: Head | null;
  fault: Fault | null;
}

export interface CheckOptions {
  /** Some entry must have this hash: the head that left the machine on paper or in an export. */
  expectHead?: string | undefined;
  /** Check only what follows this entry; it must still be there. The rows of the record are then not compared. */
  start?: Head | null;
  /** False checks the chain alone. */
  evidence?: boolean;
  onProgress?: (done: number) => void;
}

const PREFIX = 0x01;
/** Behind the prefix and the 32 bytes of the previous hash. */
const HASHED_FROM = 33;
/** Of UTF-8, for one code unit of a text. */
const MOST_BYTES_PER_UNIT = 3;
/** Used for each entry anew: there are hundreds of thousands of them. */
let scratch = Buffer.alloc(65_536);
const PROGRESS_EVERY = 5000;

/** Null for a text that is not the RFC 8785 text of a value: no act writes such a one. */
const canonicalValue = (text: string): JournalValue | undefined => {
  try {
    return readCanonical(text);
  } catch {
    return undefined;
  }
};

/** RFC 8785 text of an entry put together from its stored parts: `before` and `after` are kept as such text already. */
const entryText = (row: JournalEntryTable): string =>
  `{"act":${canonical(row.act)},"actor":${canonical(row.actor)},"after":${row.after},"at":${canonical(row.at)},` +
  `"before":${row.before},"number":${row.number},"object":${canonical(row.object)},` +
  `"requestId":${canonical(row.request_id)}}`;

const HEX = /^[0-9a-f]{64}$/;

const hashOfRow = (row: JournalEntryTable): string | null => {
  try {
    const text = entryText(row);
    const most = HASHED_FROM + text.length * MOST_BYTES_PER_UNIT;
    if (scratch.length < most) scratch = Buffer.alloc(2 * most);
    scratch[0] = PREFIX;
    scratch.write(row.previous_hash, 1, 'hex');
    const length = HASHED_FROM + scratch.write(text, HASHED_FROM, 'utf8');
    return digest('sha256', scratch.subarray(0, length), 'hex');
  } catch (error) {
    if (error instanceof NotCanonical) return null;
    throw error;
  }
};

interface Whole {
  before: JournalValue;
  after: JournalValue;
}

/** What is wrong with a row that should follow `previous`, or its two values. */
const examine = (row: JournalEntryTable, previous: Head): Fault | Whole => {
  const number = previous.number + 1;
  if (row.number > number)
    return { number, fault: `Entry ${number} is missing: after ${previous.number} comes ${row.number}.` };
  if (row.number !== number)
    return { number, fault: `Where entry ${number} should stand there is one numbered ${row.number}.` };
  if (row.previous_hash !== previous.hash)
    return {
      number,
      fault: `Entry ${number} does not follow from the one before it: its previous hash is another one.`,
    };
  const before = canonicalValue(row.before);
  const after = canonicalValue(row.after);
  if (before === undefined || after === undefined || !HEX.test(row.hash) || hashOfRow(row) !== row.hash)
    return { number, fault: `Entry ${number} was changed: its hash does not fit what it says.` };
  return { before, after };
};

const isFault = (found: Fault | Whole): found is Fault => 'fault' in found;

const headMissing = (expected: string): Fault => ({
  number: null,
  fault: `No entry has the hash ${expected}: the journal was written anew, or cut off before that entry.`,
});

/** @returns the fault where the entry a check may start from is not what it was */
const startFault = (handle: Handle, start: Head): Fault | null => {
  const hash = handle.prepare<[number], string>('select hash from journal_entry where number = ?').pluck();
  return hash.get(start.number) === start.hash
    ? null
    : { number: start.number, fault: `Entry ${start.number}, checked earlier, is not what it was.` };
};

/**
 * Looks at every entry in order and stops at the first that is wrong. Reads on the connection it is given; to see one
 * moment of a logbook that is being written, open a transaction around it.
 */
export const checkJournal = (handle: Handle, options: CheckOptions = {}): CheckResult => {
  const { expectHead, start = null, onProgress } = options;
  let head: Head = start ?? { number: 0, hash: FIRST_PREVIOUS_HASH };
  let entries = 0;
  const result = (fault: Fault | null): CheckResult => ({ entries, head: head.number === 0 ? null : head, fault });
  if (start) {
    const fault = startFault(handle, start);
    if (fault) return result(fault);
  }
  let seen = expectHead === undefined;
  const evidence = start || options.evidence === false ? null : new EvidenceCheck(handle);
  const rows = handle.prepare<[number], JournalEntryTable>(
    'select * from journal_entry where number > ? order by number',
  );
  for (const row of rows.iterate(start ? start.number : Number.MIN_SAFE_INTEGER)) {
    const found = examine(row, head);
    if (isFault(found)) return result(found);
    head = { number: row.number, hash: row.hash };
    entries += 1;
    if (row.hash === expectHead) seen = true;
    const disagreement = evidence?.compare({ ...row, ...found }) ?? null;
    if (disagreement !== null) return result({ number: row.number, fault: disagreement });
    if (entries % PROGRESS_EVERY === 0) onProgress?.(entries);
  }
  const untold = evidence?.finish() ?? null;
  if (untold !== null) return result({ number: null, fault: untold });
  return result(seen || expectHead === undefined ? null : headMissing(expectHead));
};

/** In one moment of the logbook, however much is written meanwhile. */
export const checkMoment = (handle: Handle, options: CheckOptions = {}): CheckResult => {
  handle.exec('begin');
  try {
    return checkJournal(handle, options);
  } finally {
    handle.exec('rollback');
  }
};
