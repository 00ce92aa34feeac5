/** Evidence rows against the entries of the journal: each row changed, missing or added behind its back is named. */
import { createHash } from 'node:crypto';
import type { Handle } from '../db/connection.ts';
import type { CertificateFileTable, CertificateTable } from '../db/tables.ts';
import { canonical, type JournalValue } from './canonical.ts';
import { hashOf } from './hash-of.ts';
import { AccessCheck } from './verify-access.ts';
import { expectedRow } from './verify-acts.ts';
import { laboratoryAfter, laboratoryFault, LABORATORY_AT_FIRST, standingFault } from './verify-standing.ts';
import { fieldsOf, type ExpectedRow, type ReadEntry } from './verify-entry.ts';

type Stored = string | number | null;
type Row = Record<string, Stored>;
/** Asks for a row that holds these values under this key; it answers with the columns that are compared as values. */
type Ask = (...keyAndValues: Stored[]) => Stored[] | undefined;

/** Rows of these tables come into being by an act each; the columns tell whose they are. */
export const COUNTED: Record<string, readonly string[]> = {
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
  certificate: [],
  certificate_withdrawal: [],
  preparation: [],
  preparation_vessel: ['preparation_id'],
  preparation_instrument: ['preparation_id'],
  preparation_end: [],
  preparation_decision: ['preparation_id'],
};

const sameJson = (stored: string | number | null | undefined, told: JournalValue): boolean => {
  if (stored === null || stored === undefined) return told === null;
  try {
    return stored === JSON.stringify(told) || canonical(JSON.parse(String(stored)) as JournalValue) === canonical(told);
  } catch {
    return false;
  }
};

const hasHash = (stored: Stored | undefined, hash: string): boolean => {
  try {
    return hashOf(JSON.parse(String(stored))) === hash;
  } catch {
    return false;
  }
};

const isStored = (value: JournalValue): value is Stored =>
  value === null || typeof value === 'string' || typeof value === 'number';

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

const AUTHORSHIP = ['recorded_at', 'recorded_by'] as const;
type Authorship = Record<(typeof AUTHORSHIP)[number], string>;

export class EvidenceCheck {
  readonly #handle: Handle;
  readonly #find = new Map<string, (key: readonly (string | number)[]) => Row | undefined>();
  readonly #asked = new Map<string, Ask>();
  readonly #counts = new Map<string, Map<string, number>>();
  readonly #next = (table: string, parent: string): number => (this.#counts.get(table)?.get(parent) ?? 0) + 1;
  readonly #access = new AccessCheck();
  #laboratory = LABORATORY_AT_FIRST;
  /** Hash → entry that told of it. */
  readonly #told = new Map<string, number>();

  constructor(handle: Handle) {
    this.#handle = handle;
  }

  /** @returns a sentence where the row does not agree with its entry */
  compare(entry: ReadEntry): string | null {
    if (aboutCertificates(entry)) for (const hash of hashesIn(entry.after)) this.#told.set(hash, entry.number);
    this.#access.take(entry);
    if (entry.act === 'laboratory-changed') this.#laboratory = laboratoryAfter(this.#laboratory, entry.after);
    const expected = expectedRow(entry, this.#next);
    if (!expected) return null;
    if (this.#agrees(expected, entry)) {
      this.#count(expected);
      return null;
    }
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
    const untoldOf = this.#preparations() ?? this.#certificates() ?? this.#files();
    const standing = untoldOf ?? standingFault(this.#handle) ?? this.#access.fault(this.#handle);
    return standing ?? laboratoryFault(this.#handle, this.#laboratory);
  }

  #count({ table, parent }: ExpectedRow): void {
    const ofTable = this.#counts.get(table) ?? new Map<string, number>();
    ofTable.set(parent, (ofTable.get(parent) ?? 0) + 1);
    this.#counts.set(table, ofTable);
  }

  /**
   * Lets the database compare: nearly all rows agree, and reading each of their columns takes several times as long.
   * @returns false where the row has to be read to know
   */
  #agrees({ table, key, columns, json, hashes, asBefore }: ExpectedRow, { at, actor }: ReadEntry): boolean {
    if (asBefore || hashes) return false;
    const plain: string[] = ['recorded_at', 'recorded_by'];
    const values: Stored[] = [at, actor];
    const lists: string[] = [];
    for (const column in columns) {
      const told = columns[column] ?? null;
      if (json.includes(column)) lists.push(column);
      else if (isStored(told)) {
        plain.push(column);
        values.push(told);
      } else return false;
    }
    const found = this.#ask(table, Object.keys(key), plain, lists)(...Object.values(key), ...values);
    return found !== undefined && lists.every((column, index) => sameJson(found[index], columns[column] ?? null));
  }

  /** The plus keeps a column from being read as another type: 12 is not '12' here. */
  #ask(table: string, key: readonly string[], plain: readonly string[], lists: readonly string[]): Ask {
    const name = `${table} ${plain.join()} ${lists.join()}`;
    let ask = this.#asked.get(name);
    if (!ask) {
      const where = [...key.map((column) => `${column} = ?`), ...plain.map((column) => `+${column} is ?`)];
      const found = lists.length === 0 ? '1' : lists.join();
      const text = `select ${found} from ${table} where ${where.join(' and ')}`;
      const statement = this.#handle.prepare<Stored[], Stored[]>(text).raw();
      ask = (...bound) => statement.get(...bound);
      this.#asked.set(name, ask);
    }
    return ask;
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

  #disagreement(
    { table, columns, json, hashes = {}, asBefore }: ExpectedRow,
    row: Row,
    entry: ReadEntry,
  ): string | null {
    const authored = { ...columns, recorded_at: entry.at, recorded_by: entry.actor };
    for (const [column, told] of Object.entries(authored)) {
      const same = json.includes(column) ? sameJson(row[column], told) : row[column] === told;
      if (!same) return column;
    }
    for (const [column, hash] of Object.entries(hashes)) if (!hasHash(row[column], hash)) return column;
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
    const toldBy = this.#handle.prepare<[number], Authorship>(
      'select at as recorded_at, actor as recorded_by from journal_entry where number = ?',
    );
    for (const { certificate_number: number, format, sha256: hash, content, ...by } of rows.all()) {
      const name = `The ${format.toUpperCase()} of certificate ${number}`;
      if (sha256(content) !== hash) return `${name} was changed: its hash does not fit it.`;
      const entry = this.#told.get(hash);
      if (entry === undefined) return `${name} has a hash that no entry tells of.`;
      this.#told.delete(hash);
      const told = toldBy.get(entry);
      const column = AUTHORSHIP.find((one) => by[one] !== told?.[one]);
      if (column)
        return `The row of certificate_file (${number}, ${format}) holds another ${column} than entry ${entry} says.`;
    }
    const [left] = this.#told;
    return left ? `Entry ${left[1]} tells of a certificate or a file of one that is missing.` : null;
  }
}
