/**
 * The hash chain of the journal. One entry is a JSON object
 *
 *   {number, at, actor, act, object, before, after, requestId, previousHash, hash}
 *
 * hash = lower-case hex of SHA-256( 0x01 ‖ the 32 raw bytes of previousHash ‖ UTF-8 of the RFC 8785 text of the entry
 * without previousHash and hash ). The first entry's previousHash is 64 zeros; numbers count from 1 without a gap.
 */
import { createHash } from 'node:crypto';
import { canonical, NotCanonical, type JournalValue } from './canonical.ts';

export const FIRST_PREVIOUS_HASH = '0'.repeat(64);

export interface EntryBody {
  number: number;
  at: string;
  actor: string;
  act: string;
  /** What the act was done to, as `kind/id`. */
  object: string;
  before: JournalValue;
  after: JournalValue;
  requestId: string;
}

export interface JournalEntry extends EntryBody {
  previousHash: string;
  hash: string;
}

/** RFC 6962 §2.1 sets leaves and nodes apart by their first byte; this chain's entries take 0x01. */
const ENTRY_PREFIX = Buffer.from([0x01]);

export const entryHash = (previousHash: string, body: EntryBody): string => {
  const { number, at, actor, act, object, before, after, requestId } = body;
  return createHash('sha256')
    .update(ENTRY_PREFIX)
    .update(Buffer.from(previousHash, 'hex'))
    .update(canonical({ number, at, actor, act, object, before, after, requestId }), 'utf8')
    .digest('hex');
};

export interface ChainFault {
  number: number;
  fault: 'number' | 'previous-hash' | 'hash';
}

/** An entry that has no canonical text was never hashed. */
const fits = (previousHash: string, entry: JournalEntry): boolean => {
  try {
    return entryHash(previousHash, entry) === entry.hash;
  } catch (error) {
    if (error instanceof NotCanonical) return false;
    throw error;
  }
};

/** First entry that does not follow from the one before it, or null where the chain is whole. */
export const findFault = (
  entries: Iterable<JournalEntry>,
  start?: { number: number; hash: string },
): ChainFault | null => {
  let expectedNumber = (start?.number ?? 0) + 1;
  let previousHash = start?.hash ?? FIRST_PREVIOUS_HASH;
  for (const entry of entries) {
    if (entry.number !== expectedNumber) return { number: expectedNumber, fault: 'number' };
    if (entry.previousHash !== previousHash) return { number: entry.number, fault: 'previous-hash' };
    if (!fits(previousHash, entry)) return { number: entry.number, fault: 'hash' };
    expectedNumber += 1;
    previousHash = entry.hash;
  }
  return null;
};
