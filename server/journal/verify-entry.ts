/** An entry of the journal as the check of evidence rows reads it, and the row it is held against. */
import type { JournalValue } from './canonical.ts';

export type Fields = { readonly [key: string]: JournalValue };

/** An entry with its two values read. */
export interface ReadEntry {
  number: number;
  at: string;
  actor: string;
  act: string;
  object: string;
  before: JournalValue;
  after: JournalValue;
}

export interface ExpectedRow {
  table: string;
  /** Columns that find the row. */
  key: Record<string, string | number>;
  /** Parent of a numbered row: rows of one parent count from 1 without a gap. */
  parent: string;
  /** Left out where the entry says nothing of the column; `json` columns are compared as values. */
  columns: Record<string, JournalValue>;
  json: readonly string[];
  /** Column → hash of the value it holds as JSON, where the entry tells of it by its hash. */
  hashes?: Record<string, string>;
  /** Columns the entry leaves out are as in the row before. */
  asBefore?: Record<string, string | number>;
}

/** Tells the next number of a parent's rows in a table. */
export type NextNumber = (table: string, parent: string) => number;

export const fieldsOf = (value: JournalValue): Fields =>
  value !== null && typeof value === 'object' && !Array.isArray(value) ? (value as Fields) : {};

/** Id of the record an entry is about. */
export const idOf = (entry: ReadEntry): string => entry.object.slice(entry.object.indexOf('/') + 1);
