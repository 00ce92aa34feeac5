/** Somebody changes one column of one table in the file: does the check say so? */
import Database from 'better-sqlite3';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { checkJournal } from '../../server/journal/verify.ts';

interface Columns {
  /** `table.column`, where a change goes unnoticed. */
  unnoticed: string[];
  /** Tables that hold no row to change. */
  empty: string[];
}

const TRIGGER = '_no_update';

/** Tables that say how things stand now. */
const CURRENT = [
  ...['vessel', 'vessel_tag', 'instrument', 'lot', 'calibration_standing', 'laboratory', 'person', 'program_key'],
];

/** Tables whose rows are written once, as the file itself says, and those of what stands now; nothing guards them any more. */
const takeTriggersAway = (handle: Database.Database): string[] => {
  const triggers = handle.prepare<[], string>("select name from sqlite_schema where type = 'trigger'").pluck().all();
  for (const name of triggers) handle.exec(`drop trigger ${name}`);
  const evidence = triggers.flatMap((name) => (name.endsWith(TRIGGER) ? [name.slice(0, -TRIGGER.length)] : []));
  return [...evidence, ...CURRENT].sort();
};

const columnsOf = (handle: Database.Database, table: string): { key: string[]; others: string[] } => {
  const columns = handle.pragma(`table_info(${table})`) as { name: string; pk: number }[];
  const named = (isKey: boolean) => columns.filter(({ pk }) => pk > 0 === isKey).map(({ name }) => name);
  return { key: named(true), others: named(false) };
};

/** A number more, or a character. */
const changed = (column: string): string =>
  `case typeof(${column}) when 'integer' then ${column} + 1 when 'blob' then x'37' else coalesce(${column}, '') || '7' end`;

/** Every column of them outside the keys, changed in the first row; each change is taken back before the next. */
export const columnsUnnoticed = (file: string, isTried: (table: string) => boolean = () => true): Columns => {
  const folder = mkdtempSync(path.join(tmpdir(), 'tarebook-columns-'));
  const copy = path.join(folder, 'copy.db');
  const from = new Database(file, { readonly: true });
  from.prepare('vacuum into ?').run(copy);
  from.close();
  const handle = new Database(copy);
  try {
    const tables = takeTriggersAway(handle).filter(isTried);
    handle.exec('pragma foreign_keys = off; pragma ignore_check_constraints = on');
    const found: Columns = { unnoticed: [], empty: [] };
    for (const table of tables) {
      if (handle.prepare(`select 1 from ${table}`).get() === undefined) found.empty.push(table);
      const { key, others } = columnsOf(handle, table);
      const first = `(${key.join()}) = (select ${key.join()} from ${table} limit 1)`;
      for (const column of others) {
        handle.exec('begin');
        const { changes } = handle.prepare(`update ${table} set ${column} = ${changed(column)} where ${first}`).run();
        if (changes > 0 && checkJournal(handle).fault === null) found.unnoticed.push(`${table}.${column}`);
        handle.exec('rollback');
      }
    }
    return found;
  } finally {
    handle.close();
    rmSync(folder, { recursive: true, force: true });
  }
};
