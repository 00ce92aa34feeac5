/**
 * Cells of a table of text. A text that a spreadsheet would take for a formula gets an apostrophe in front; so does one
 * that begins with an apostrophe, and an empty text where an empty cell means none: taking one apostrophe away gives
 * back exactly what was there. Numbers are validated and stay bare, or `-0.012` would be no number any more.
 */
import { stringify } from 'csv-stringify/sync';
import type { Column } from './columns.ts';

export type Cell = string | number | null;

const DANGEROUS = /^['=+\-@\t\r\0]/;

export const guarded = (text: string): string => (DANGEROUS.test(text) ? `'${text}` : text);

export const toCell = (column: Column, value: Cell): string => {
  if (value === null) return '';
  if (column.kind === 'boolean') return value === 1 ? 'true' : 'false';
  if (column.kind !== 'text') return String(value);
  const text = String(value);
  return text === '' && column.nullable ? "'" : guarded(text);
};

export const fromCell = (column: Column, cell: string, notNull: boolean): Cell => {
  if (cell === '') return notNull ? '' : null;
  if (column.kind === 'integer') return Number(cell);
  if (column.kind === 'boolean') return cell === 'true' ? 1 : 0;
  return column.kind === 'text' && cell.startsWith("'") ? cell.slice(1) : cell;
};

/** RFC 4180: CRLF, and quotes around every cell that holds a comma, a quote or a line end. */
export const csvLines = (rows: readonly (readonly string[])[]): string =>
  stringify(rows as string[][], { record_delimiter: 'windows', quoted_match: /[\r\n]/ });
