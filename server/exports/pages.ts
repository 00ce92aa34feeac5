/** Rows of a table page by page in the order of its key, so that no statement stays open and memory stays flat. */
import type { Handle } from '../db/connection.ts';
import type { JournalEntryTable } from '../db/tables.ts';
import type { Cell } from './cells.ts';
import type { ExportTable } from './columns.ts';
import { entriesWhole, isFiltered, selectionOf, type Filter } from './selection.ts';

export const PAGE_ROWS = 1000;

export function* rowsOf(handle: Handle, table: ExportTable, filter: Filter): Generator<Cell[][]> {
  const selection = selectionOf(table.name, filter);
  const names = table.columns.map((column) => column.name);
  const key = table.primaryKey.join(', ');
  const where = (after: boolean) => {
    const conditions = [
      ...(selection ? [`(${selection.sql})`] : []),
      ...(after ? [`(${key}) > (${table.primaryKey.map(() => '?').join(', ')})`] : []),
    ];
    return conditions.length === 0 ? '' : `where ${conditions.join(' and ')}`;
  };
  const page = (after: boolean) =>
    handle
      .prepare<Cell[], Cell[]>(
        `select ${names.join(', ')} from ${table.name} ${where(after)} order by ${key} limit ${PAGE_ROWS}`,
      )
      .raw();
  const values = selection?.values ?? [];
  let rows = page(false).all(...values);
  const next = page(true);
  while (rows.length > 0) {
    yield rows;
    const last = rows.at(-1);
    if (!last || rows.length < PAGE_ROWS) return;
    rows = next.all(...values, ...table.primaryKey.map((column) => last[names.indexOf(column)] ?? null));
  }
}

export type ExportedEntry = JournalEntryTable & { whole: number };

export function* entriesOf(handle: Handle, filter: Filter): Generator<ExportedEntry[]> {
  const whole = isFiltered(filter) ? entriesWhole(filter) : { sql: '1', values: [] };
  const page = handle.prepare<(string | number)[], ExportedEntry>(
    `select *, ${whole.sql} as whole from journal_entry where number > ? order by number limit ${PAGE_ROWS}`,
  );
  let after = 0;
  for (;;) {
    const rows = page.all(...whole.values, after);
    if (rows.length === 0) return;
    yield rows;
    after = rows.at(-1)?.number ?? after;
  }
}
