/** Evidence rows against the entries of the journal: each row changed, missing or added behind its back is named. */
import { createHash } from 'node:crypto';
import type { Handle } from '../db/connection.ts';
import type { CertificateFileTable, CertificateTable } from '../db/tables.ts';
import { canonical, type JournalValue } from './canonical.ts';
import { expectedRow } from './verify-acts.ts';
import { fieldsOf, type ExpectedRow, type ReadEntry } from './verify-entry.ts';

type Row = Record<string, string | number | null>;

/** Rows of these tables come into being by an act each; the columns tell whose they are. */
const COUNTED: Record<string, readonly string[]> = {
  logbook_mark: [],
  tolerance_confirmation: [],
  vessel_revision: ['vessel_id'],
  instrument_revision: ['instrument_id'],
  instrument_check: ['instrument_id'],
  calibration: [],
  calibration_act: ['calibration_id'],
  condition_reading: ['calibration_id'],
  trial: ['calibration_id'],
  trial_correction: ['calibration_id', 'trial_number'],
  trial_exclusion: ['calibration_id', 'trial_number'],
  lot_revision: ['lot_id'],
  lot_decision: ['lot_id'],
  lot_round: ['lot_id'],
  zero_check: ['lot_id', 'round_number'],
  vessel_inspection: ['vessel_id'],
  vessel_decision: ['vessel_id'],
  preparation: [],
  preparation_vessel: ['preparation_id'],
  preparation_instrument: ['preparation_id'],
  preparation_end: [],
  preparation_decision: ['preparation_id'],
};

const sameJson = (stored: string | number | null | undefined, told: JournalValue): boolean => {
  if (stored === null || stored === undefined) return told === null;
  try {
    return canonical(JSON.parse(String(stored)) as JournalValue) === canonical(told);
  } catch {
    return false;
  }
};

const nameOf = ({ table, key }: ExpectedRow): string => `The row of ${table} (${Object.values(key).join(', ')})`;

const sha256 = (content: string | Buffer): string => createHash('sha256').update(content).digest('hex');

/** Members that hold the hash of something a certificate consists of. */
const HASHES = /^(?:frozenHash|pdf|xml|\w*[sS]ha256)$/;
const HEX = /^[0-9a-f]{64}$/;

export const hashesIn = (value: JournalValue, name = ''): string[] => {
  if (typeof value === 'string') return HASHES.test(name) && HEX.test(value) ? [value] : [];
  if (Array.isArray(value)) return (value as JournalValue[]).flatMap((one) => hashesIn(one, name));
  return Object.entries(fieldsOf(value)).flatMap(([key, one]) => hashesIn(one, key));
};

const aboutCertificates = (entry: ReadEntry): boolean => entry.act.startsWith('certificate-');

export class EvidenceCheck {
  readonly #handle: Handle;
  readonly #find = new Map<string, (key: readonly (string | number)[]) => Row | undefined>();
  readonly #counts = new Map<string, Map<string, number>>();
  readonly #next = (table: string, parent: string): number => (this.#counts.get(table)?.get(parent) ?? 0) + 1;
  /** Hash → entry that told of it. */
  readonly #told = new Map<string, number>();

  constructor(handle: Handle) {
    this.#handle = handle;
  }

  /** @returns a sentence where the row does not agree with its entry */
  compare(entry: ReadEntry): string | null {
    if (aboutCertificates(entry)) for (const hash of hashesIn(entry.after)) this.#told.set(hash, entry.number);
    const expected = expectedRow(entry, this.#next);
    if (!expected) return null;
    const row = this.#row(expected.table, expected.key);
    if (!row) return `${nameOf(expected)} is missing; entry ${entry.number} tells of it.`;
    this.#count(expected);
    const column = this.#disagreement(expected, row, entry);
    return column === null ? null : `${nameOf(expected)} holds another ${column} than entry ${entry.number} says.`;
  }

  /** After the last entry: rows that no entry tells of, and what certificates consist of. */
  finish(): string | null {
    for (const [table, parents] of Object.entries(COUNTED)) {
      const untold = this.#untold(table, parents);
      if (untold !== null) return untold;
    }
    return this.#preparations() ?? this.#certificates() ?? this.#files();
  }

  #count({ table, parent }: ExpectedRow): void {
    const ofTable = this.#counts.get(table) ?? new Map<string, number>();
    ofTable.set(parent, (ofTable.get(parent) ?? 0) + 1);
    this.#counts.set(table, ofTable);
  }

  #row(table: string, key: Record<string, string | number>): Row | undefined {
    let find = this.#find.get(table);
    if (!find) {
      const where = Object.keys(key)
        .map((column) => `${column} = ?`)
        .join(' and ');
      const statement = this.#handle.prepare<(string | number)[], Row>(`select * from ${table} where ${where}`);
      find = (values) => statement.get(...values);
      this.#find.set(table, find);
    }
    return find(Object.values(key));
  }

  #disagreement({ table, columns, json, asBefore }: ExpectedRow, row: Row, entry: ReadEntry): string | null {
    const authored = { ...columns, recorded_at: entry.at, recorded_by: entry.actor };
    for (const [column, told] of Object.entries(authored)) {
      const same = json.includes(column) ? sameJson(row[column], told) : row[column] === told;
      if (!same) return column;
    }
    const before = asBefore && this.#row(table, asBefore);
    if (!before) return null;
    const untold = Object.keys(row).filter((column) => !(column in authored) && !(column in asBefore));
    return untold.find((column) => row[column] !== before[column]) ?? null;
  }

  #untold(table: string, parents: readonly string[]): string | null {
    const told = this.#counts.get(table);
    const parent = parents.length === 0 ? "''" : parents.join(` || '/' || `);
    const rows = this.#handle.prepare<[], { parent: string; n: number }>(
      `select ${parent} as parent, count(*) as n from ${table} group by 1`,
    );
    for (const row of rows.iterate()) {
      const known = told?.get(row.parent) ?? 0;
      if (row.n === known) continue;
      const whose = row.parent === '' ? '' : ` of ${row.parent}`;
      return `The table ${table} holds ${row.n} rows${whose}, but the journal tells of ${known}.`;
    }
    return null;
  }

  #preparations(): string | null {
    const rows = this.#handle.prepare<[], { number: string; result: string; result_hash: string }>(
      'select number, result, result_hash from preparation order by number',
    );
    for (const { number, result, result_hash: hash } of rows.iterate())
      if (sha256(result) !== hash) return `The result of preparation ${number} was changed: its hash does not fit it.`;
    return null;
  }

  #certificates(): string | null {
    const entryHash = this.#handle.prepare<[number], string>('select hash from journal_entry where number = ?').pluck();
    for (const row of this.#handle.prepare<[], CertificateTable>('select * from certificate order by number').all()) {
      const { number, frozen, frozen_hash: hash } = row;
      if (sha256(frozen) !== hash) return `What certificate ${number} froze was changed: its hash does not fit it.`;
      if (this.#told.get(hash) !== row.entry_number || entryHash.get(row.entry_number) !== row.entry_hash)
        return `Certificate ${number} names entry ${row.entry_number}, but that entry does not hold its hash.`;
      this.#told.delete(hash);
    }
    return null;
  }

  #files(): string | null {
    const rows = this.#handle.prepare<[], CertificateFileTable>(
      'select * from certificate_file order by certificate_number, format',
    );
    for (const { certificate_number: number, format, sha256: hash, content } of rows.iterate()) {
      const name = `The ${format.toUpperCase()} of certificate ${number}`;
      if (sha256(content) !== hash) return `${name} was changed: its hash does not fit it.`;
      if (!this.#told.delete(hash)) return `${name} has a hash that no entry tells of.`;
    }
    const [left] = this.#told;
    return left ? `Entry ${left[1]} tells of a certificate or a file of one that is missing.` : null;
  }
}
