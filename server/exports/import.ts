/** A logbook built again from an export: beside its place first, and put there only when it is whole. */
import { existsSync, mkdirSync, mkdtempSync, renameSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Statement } from 'better-sqlite3';
import { Migrator } from 'kysely';
import { migrations } from '../../migrations/index.ts';
import { connect, queryBuilder, type Handle } from '../db/connection.ts';
import { takeLogbook } from '../db/lock.ts';
import { migrateToLatest } from '../db/migrate.ts';
import { canonical } from '../journal/canonical.ts';
import { checkJournal, type CheckResult, type Fault } from '../journal/verify.ts';
import { fromCell, type Cell } from './cells.ts';
import { aboutExport, checkExport, checkLines, csvRows, type AboutExport } from './check-export.ts';
import { EXPORT_TABLES, type ExportTable } from './columns.ts';
import { openZip, UnfitExport, type OpenZip } from './read-zip.ts';

const emptyAsTheExport = async (file: string, names: readonly string[]): Promise<Handle> => {
  const unknown = names.filter((name) => !(name in migrations));
  if (unknown.length > 0)
    throw new UnfitExport(
      `This export was made by a newer Tarebook (it knows ${unknown.join(', ')}). Use that version.`,
    );
  const handle = connect(file, { readOnly: false });
  const db = queryBuilder(handle);
  const migrator = new Migrator({ db, provider: { getMigrations: () => Promise.resolve(migrations) } });
  const { error } = await migrator.migrateTo(names.at(-1) ?? '');
  if (error) throw error instanceof Error ? error : new Error('A migration failed.');
  return handle;
};

const notNullColumns = (handle: Handle, table: string): Set<string> =>
  new Set(
    (handle.pragma(`table_info(${table})`) as { name: string; notnull: number; pk: number }[])
      .filter(({ notnull, pk }) => notnull === 1 || pk > 0)
      .map(({ name }) => name),
  );

/** Tables of the schema the export was made with: those of later versions are not in it. */
const tablesOf = (handle: Handle): Set<string> =>
  new Set(handle.prepare<[], string>("select name from sqlite_schema where type = 'table'").pluck().all());

type Content = (row: readonly Cell[]) => Promise<Buffer>;

const loadTable = async (handle: Handle, zip: OpenZip, table: ExportTable, content?: Content): Promise<void> => {
  const rows = csvRows(await zip.stream(`tables/${table.name}.csv`));
  const notNull = notNullColumns(handle, table.name);
  if (table.name === 'laboratory') handle.exec('delete from laboratory');
  let insert: Statement<(Cell | Buffer)[]> | null = null;
  let columns: ExportTable['columns'] = [];
  for await (const cells of rows) {
    if (insert === null) {
      columns = cells.flatMap((name) => table.columns.filter((column) => column.name === name));
      if (columns.length !== cells.length)
        throw new UnfitExport(`${table.name}.csv has columns this version does not know.`);
      const names = [...cells, ...(content ? ['content'] : [])];
      insert = handle.prepare<(Cell | Buffer)[]>(
        `insert into ${table.name} (${names.join(', ')}) values (${names.map(() => '?').join(', ')})`,
      );
      continue;
    }
    const row = columns.map((column, index) => fromCell(column, cells[index] ?? '', notNull.has(column.name)));
    insert.run(...row, ...(content ? [await content(row)] : []));
  }
};

const loadJournal = async (handle: Handle, zip: OpenZip): Promise<void> => {
  const insert = handle.prepare<(Cell | Buffer)[]>('insert into journal_entry values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)');
  await checkLines(await zip.stream('journal.jsonl'), undefined, (entry) => {
    const { number, at, actor, act, object, before, after, requestId, previousHash, hash } = entry;
    insert.run(number, at, actor, act, object, canonical(before), canonical(after), requestId, previousHash, hash);
  });
};

const load = async (handle: Handle, zip: OpenZip): Promise<void> => {
  handle.pragma('foreign_keys = off');
  handle.exec('begin');
  await loadJournal(handle, zip);
  const known = tablesOf(handle);
  for (const table of EXPORT_TABLES) {
    if (!known.has(table.name)) continue;
    const content: Content = ([number, format]) =>
      zip.bytes(`certificates/${String(number).replaceAll(/[^\w.-]/g, '_')}.${String(format)}`);
    await loadTable(handle, zip, table, table.name === 'certificate_file' ? content : undefined);
  }
  const loose = handle.pragma('foreign_key_check') as unknown[];
  if (loose.length > 0) throw new UnfitExport('Rows of the export point at rows that are not in it.');
  handle.exec('commit');
  handle.pragma('foreign_keys = on');
};

const refusePartial = ({ filtered, certificates, resources }: AboutExport): void => {
  if (filtered) throw new UnfitExport('This export was narrowed by a filter; only a whole one can be built up again.');
  const files = resources.find(({ name }) => name === 'certificate_file')?.rowCount ?? 0;
  if (!certificates && files > 0)
    throw new UnfitExport(
      'This export was made without certificate files; only one that holds them can be built up again.',
    );
};

/**
 * Writes the export as a logbook into a new file, at the present schema.
 * @throws UnfitExport where the export is partial, damaged, or does not agree with its own journal
 */
export const buildFrom = async (zipFile: string, file: string): Promise<CheckResult> => {
  const zip = await openZip(zipFile);
  try {
    const about = await aboutExport(zip);
    refusePartial(about);
    const checked = await checkExport(zip);
    if (checked.fault) throw new UnfitExport(checked.fault.fault);
    const handle = await emptyAsTheExport(file, about.migrations);
    try {
      await load(handle, zip);
      await migrateToLatest(queryBuilder(handle), handle, file);
      const built = checkJournal(handle);
      if (built.fault) throw new UnfitExport(`The export does not agree with its own journal. ${built.fault.fault}`);
      handle.pragma('wal_checkpoint(truncate)');
      return built;
    } finally {
      handle.close();
    }
  } finally {
    zip.close();
  }
};

const cannotBeBuilt = ({ filtered, certificates, resources }: AboutExport): boolean =>
  filtered || (!certificates && (resources.find(({ name }) => name === 'certificate_file')?.rowCount ?? 0) > 0);

/**
 * Every row of a whole export against its journal: it is built up in a folder of its own, looked at, and thrown away.
 * @returns undefined where the export is not whole, so that its rows could only be counted
 */
export const compareRows = async (zipFile: string): Promise<{ fault: Fault | null } | undefined> => {
  const zip = await openZip(zipFile);
  const about = await aboutExport(zip).finally(() => zip.close());
  if (cannotBeBuilt(about)) return undefined;
  const folder = mkdtempSync(path.join(tmpdir(), 'tarebook-compare-'));
  try {
    await buildFrom(zipFile, path.join(folder, 'tarebook.db'));
    return { fault: null };
  } catch (error) {
    if (error instanceof UnfitExport) return { fault: { number: null, fault: error.message } };
    throw error;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

const refuseUsed = (file: string): void => {
  if (!existsSync(file)) return;
  const handle = connect(file, { readOnly: false });
  try {
    const known = handle.prepare("select 1 from sqlite_master where name = 'journal_entry'").get();
    if (known && handle.prepare('select 1 from journal_entry limit 1').get())
      throw new UnfitExport('This logbook is not empty. Import into an empty data folder, named with TAREBOOK_DATA.');
  } finally {
    handle.close();
  }
};

/** @throws UnfitExport, LogbookInUse */
export const importExport = async (zipFile: string, folder: string): Promise<CheckResult> => {
  mkdirSync(folder, { recursive: true });
  const release = takeLogbook(path.join(folder, 'tarebook.lock'));
  const file = path.join(folder, 'tarebook.db');
  const made = `${file}.importing`;
  const clear = (): void => {
    for (const end of ['', '-wal', '-shm']) rmSync(`${made}${end}`, { force: true });
  };
  try {
    refuseUsed(file);
    clear();
    const built = await buildFrom(zipFile, made);
    for (const end of ['-wal', '-shm']) rmSync(`${file}${end}`, { force: true });
    renameSync(made, file);
    return built;
  } finally {
    clear();
    release();
  }
};
