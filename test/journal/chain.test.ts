/** The hash chain: known answers, and every damage to it named by the number of the entry that does not follow. */
import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import type { JournalEntryTable } from '../../server/db/tables.ts';
import {
  entryHash,
  findFault,
  FIRST_PREVIOUS_HASH,
  type EntryBody,
  type JournalEntry,
} from '../../server/journal/chain.ts';
import { canonical } from '../../server/journal/canonical.ts';
import { entryOf } from '../../server/journal/store.ts';

describe('SHA-256 as node computes it', () => {
  // FIPS 180-4 with the examples published beside it: one block, two blocks, nothing, a million letters.
  it.each([
    ['', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
    ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
    [
      'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
      '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
    ],
    ['a'.repeat(1_000_000), 'cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0'],
  ])('answers as published (%#)', (text, digest) => {
    expect(createHash('sha256').update(text, 'utf8').digest('hex')).toBe(digest);
  });
});

describe('the hash of an entry', () => {
  const first: EntryBody = {
    number: 1,
    at: '2026-09-14T08:30:00.000Z',
    actor: 'console',
    act: 'trial-recorded',
    object: 'calibration/abc',
    before: null,
    after: { number: 1, filledG: '100.0000' },
    requestId: 'r-1',
  };
  const second: EntryBody = {
    ...first,
    number: 2,
    at: '2026-09-14T08:31:00.000Z',
    actor: 'Rö',
    act: 'vessel-corrected',
    object: 'vessel/abc',
    before: { tag: 'F-1' },
    after: { tag: 'F-2' },
    requestId: 'r-2',
  };
  // Both digests were computed outside of this program, with Python's hashlib over the bytes of the written format.
  const FIRST_HASH = 'e0a88298f53eace753348dd709ecc5407af49e5f490f8909977c1770ef8d7f4c';
  const SECOND_HASH = 'dee310e7a891a50fbf76ce95c30132ef29d3f4cddffdf798766ca277704e538c';

  it('is that of the written format', () => {
    expect(FIRST_PREVIOUS_HASH).toMatch(/^0{64}$/);
    expect(entryHash(FIRST_PREVIOUS_HASH, first)).toBe(FIRST_HASH);
    expect(entryHash(FIRST_HASH, second)).toBe(SECOND_HASH);
  });

  it('takes one byte 0x01, 32 raw bytes, and the canonical text', () => {
    const text =
      '{"act":"vessel-corrected","actor":"Rö","after":{"tag":"F-2"},"at":"2026-09-14T08:31:00.000Z",' +
      '"before":{"tag":"F-1"},"number":2,"object":"vessel/abc","requestId":"r-2"}';
    const bytes = Buffer.concat([Buffer.of(1), Buffer.from(FIRST_HASH, 'hex'), Buffer.from(text, 'utf8')]);
    expect(createHash('sha256').update(bytes).digest('hex')).toBe(SECOND_HASH);
  });

  it('does not take the two hashes of the entry itself', () => {
    const entry = { ...first, previousHash: 'x', hash: 'y' };
    expect(entryHash(FIRST_PREVIOUS_HASH, entry)).toBe(FIRST_HASH);
  });
});

/** Rows as the database holds them, so that damage is done to what is really stored. */
const chainOf = (length: number): JournalEntryTable[] => {
  const rows: JournalEntryTable[] = [];
  let previousHash = FIRST_PREVIOUS_HASH;
  for (let number = 1; number <= length; number += 1) {
    const body: EntryBody = {
      number,
      at: `2026-09-14T08:${String(number).padStart(2, '0')}:00.000Z`,
      actor: 'R',
      act: 'a',
      object: `v/${number}`,
      before: number % 3 === 0 ? { t: 'ö' } : null,
      after: { n: number, g: '100.0000', ok: true },
      requestId: `r${number}`,
    };
    const hash = entryHash(previousHash, body);
    rows.push({
      number,
      at: body.at,
      actor: body.actor,
      act: body.act,
      object: body.object,
      before: canonical(body.before),
      after: canonical(body.after),
      request_id: body.requestId,
      previous_hash: previousHash,
      hash,
    });
    previousHash = hash;
  }
  return rows;
};
const LONGEST = chainOf(20);
const LENGTHS = Array.from({ length: 21 }, (_, length) => length);
const FIELDS = ['at', 'actor', 'act', 'object', 'before', 'after', 'request_id', 'previous_hash', 'hash'] as const;
const faultOf = (rows: readonly JournalEntryTable[]) => findFault(rows.map(entryOf));
const changedAt = (text: string, place: number, to: number): string =>
  text.slice(0, place) + String.fromCharCode(to) + text.slice(place + 1);

describe.each(LENGTHS)('a chain of %i', (length) => {
  const rows = LONGEST.slice(0, length);
  const entries = rows.map(entryOf);

  it('is whole', () => {
    expect(findFault(entries)).toBeNull();
  });

  it('shows every single character changed, in every field', () => {
    const wrong: string[] = [];
    for (const [index, row] of rows.entries())
      for (const field of FIELDS)
        for (let place = 0; place < row[field].length; place += 1) {
          const damaged = { ...row, [field]: changedAt(row[field], place, row[field].charCodeAt(place) ^ 1) };
          const found = findFault(entries.with(index, entryOf(damaged)));
          if (found?.number !== row.number) wrong.push(`${row.number} ${field} ${place}: ${JSON.stringify(found)}`);
        }
    expect(wrong).toEqual([]);
  });

  it('shows every number changed, entry dropped, doubled, forged, or swapped with a later one', () => {
    const wrong: string[] = [];
    const expectFault = (what: string, damaged: readonly JournalEntry[], number: number) => {
      const found = findFault(damaged);
      if (found?.number !== number) wrong.push(`${what}: ${JSON.stringify(found)}, not ${number}`);
    };
    for (const [index, entry] of entries.entries()) {
      const { number } = entry;
      for (const other of [0, number - 1, number + 1, -number, 0.5])
        expectFault(`number ${other}`, entries.with(index, { ...entry, number: other }), number);
      if (number < length) expectFault(`drop ${number}`, entries.toSpliced(index, 1), number);
      expectFault(`double ${number}`, entries.toSpliced(index, 0, entry), number + 1);
      const body = { ...entry, act: 'forged' };
      const forged = { ...body, hash: entryHash(entry.previousHash, body) };
      if (number < length) expectFault(`forge ${number}`, entries.with(index, forged), number + 1);
      for (let later = index + 1; later < length; later += 1)
        expectFault(`swap ${number}`, entries.with(index, entries[later]!).with(later, entry), number);
    }
    expect(wrong).toEqual([]);
  });
});

describe('what only the head shows', () => {
  it('is a tail cut off or written anew: the chain is whole, its last hash another', () => {
    const cut = LONGEST.slice(0, 19).map(entryOf);
    expect(findFault(cut)).toBeNull();
    expect(cut.at(-1)?.hash).not.toBe(LONGEST.at(-1)?.hash);
  });
});

describe('a row that is not what an act writes', () => {
  const [row] = chainOf(1) as [JournalEntryTable];

  it.each([
    ['JSON of another form', { after: '{"g": "100.0000","n":1,"ok":true}' }],
    ['an escape of another form', { before: '"\\u0041"' }],
    ['no JSON', { after: 'gone' }],
    ['a text without its quotes', { before: '' }],
    ['a fraction', { after: '{"g":100.5}' }],
    ['half a character', { actor: '\ud83d' }],
  ])('is a fault of that entry, not an error: %s', (_name, damage) => {
    expect(faultOf([{ ...row, ...damage }])).toEqual({ number: 1, fault: 'hash' });
  });

  it('can be checked from a known head on', () => {
    const start = { number: 10, hash: LONGEST[9]!.hash };
    expect(findFault(LONGEST.slice(10).map(entryOf), start)).toBeNull();
    expect(findFault(LONGEST.slice(11).map(entryOf), start)).toEqual({ number: 11, fault: 'number' });
  });
});
