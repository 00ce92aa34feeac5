/** What an export will hold, counted before it is made. */
import type { Handle } from '../db/connection.ts';
import { EXPORT_TABLES } from './columns.ts';
import { selectionOf, type Filter } from './selection.ts';

export interface Plan {
  tables: { name: string; rows: number }[];
  journalEntries: number;
  /** Certificate files; left out where they are not wanted. */
  certificateFiles: number;
  head: { number: number; hash: string } | null;
}

const count = (handle: Handle, table: string, filter: Filter): number => {
  const selection = selectionOf(table, filter);
  const where = selection ? ` where ${selection.sql}` : '';
  return Number(
    handle
      .prepare<string[], number>(`select count(*) from ${table}${where}`)
      .pluck()
      .get(...(selection?.values ?? [])),
  );
};

export const planOf = (handle: Handle, filter: Filter, certificates: boolean): Plan => ({
  tables: EXPORT_TABLES.map(({ name }) => ({ name, rows: count(handle, name, filter) })),
  journalEntries: Number(handle.prepare('select count(*) from journal_entry').pluck().get()),
  certificateFiles: certificates ? count(handle, 'certificate_file', filter) : 0,
  head:
    handle
      .prepare<[], { number: number; hash: string }>(
        'select number, hash from journal_entry order by number desc limit 1',
      )
      .get() ?? null,
});

export const knowsTag = (handle: Handle, tag: string): boolean =>
  handle.prepare('select 1 from vessel_tag where tag = ?').get(tag) !== undefined;

export const knowsLot = (handle: Handle, name: string): boolean =>
  handle.prepare('select 1 from lot where name = ?').get(name) !== undefined;

/** Rows in all, as an export counts its progress: those of the tables, of the journal and those it calculates. */
export const rowsOfPlan = (plan: Plan): number => {
  const rows = (name: string): number => plan.tables.find((table) => table.name === name)?.rows ?? 0;
  return plan.tables.reduce((sum, table) => sum + table.rows, plan.journalEntries) + rows('calibration');
};
