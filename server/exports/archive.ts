/** One zip of a logbook as it stands at one moment, written as a stream while others go on saving. */
import { createReadStream } from 'node:fs';
import { PassThrough, Readable } from 'node:stream';
import { fileURLToPath } from 'node:url';
import { ZipFile } from 'yazl';
import { queryBuilder, type Handle } from '../db/connection.ts';
import { canonical } from '../journal/canonical.ts';
import { calculate, RESULTS, VOLUMES } from './calculated.ts';
import { csvLines, toCell, type Cell } from './cells.ts';
import { EXPORT_TABLES, type ExportTable } from './columns.ts';
import { dataPackage, journalSchema, readme, type Told } from './documents.ts';
import { entriesOf, rowsOf, type ExportedEntry } from './pages.ts';
import { filterText, isFiltered, selectionOf, type Filter } from './selection.ts';
import { Workbook } from './workbook.ts';

export interface ExportOptions {
  filter: Filter;
  certificates: boolean;
  /** Also a workbook for a spreadsheet. */
  workbook: boolean;
  at: Date;
  onProgress?: (rows: number) => void;
}

export type Head = { number: number; hash: string } | null;

const CALIBRATIONS_AT_ONCE = 50;

export const headOf = (handle: Handle): Head =>
  handle
    .prepare<[], { number: number; hash: string }>(
      'select number, hash from journal_entry order by number desc limit 1',
    )
    .get() ?? null;

/** RFC 8785 text of a line: the entry whole with its hash, or number and hashes alone. */
const lineOf = (row: ExportedEntry): string => {
  if (row.whole !== 1) return canonical({ number: row.number, previousHash: row.previous_hash, hash: row.hash });
  // The two values are kept as such text already; the members stand in its order.
  return (
    `{"act":${canonical(row.act)},"actor":${canonical(row.actor)},"after":${row.after},"at":${canonical(row.at)},` +
    `"before":${row.before},"hash":${canonical(row.hash)},"number":${row.number},"object":${canonical(row.object)},` +
    `"previousHash":${canonical(row.previous_hash)},"requestId":${canonical(row.request_id)}}`
  );
};

/** Certificate numbers name files; anything else in one would leave the folder. */
const fileName = (number: string): string => number.replaceAll(/[^\w.-]/g, '_');

class Archive {
  readonly #handle: Handle;
  readonly #options: ExportOptions;
  readonly #rows: Record<string, number> = {};
  readonly #zip = new ZipFile();
  readonly #results: string[] = [];
  readonly #workbook: Workbook | null;
  #whole = 0;
  #done = 0;

  constructor(handle: Handle, options: ExportOptions) {
    this.#handle = handle;
    this.#options = options;
    this.#workbook = options.workbook ? new Workbook() : null;
  }

  get output(): NodeJS.ReadableStream {
    return this.#zip.outputStream;
  }

  assemble(): void {
    const { certificates } = this.#options;
    const verifier = fileURLToPath(new URL('./verifier.mjs', import.meta.url));
    this.#file('verify.mjs', () => createReadStream(verifier));
    for (const table of EXPORT_TABLES) this.#text(`tables/${table.name}.csv`, () => this.#table(table));
    this.#text('volumes.csv', () => this.#volumes());
    this.#text('results.csv', () => [this.#header(RESULTS), ...this.#results.splice(0)]);
    const workbook = this.#workbook;
    if (workbook) this.#file('workbook.xlsx', () => workbook.bytes());
    this.#text('journal.jsonl', () => this.#journal());
    this.#text('journal.schema.json', () => [journalSchema()]);
    if (certificates) this.#certificates();
    this.#text('datapackage.json', () => [dataPackage(EXPORT_TABLES, this.#told())]);
    this.#text('README.txt', () => [readme(this.#told())]);
    this.#zip.end();
  }

  #file(name: string, open: () => Readable | Promise<Readable>): void {
    this.#zip.addReadStreamLazy(name, { mtime: this.#options.at }, (give) => {
      Promise.resolve(open()).then(
        (opened) => give(null, opened),
        (error: unknown) => this.#zip.emit('error', error),
      );
    });
  }

  #text(name: string, pieces: () => Iterable<string> | AsyncIterable<string>): void {
    this.#file(name, () => {
      const through = new PassThrough();
      const source = Readable.from(pieces(), { objectMode: true });
      source.on('error', (error) => {
        this.#zip.emit('error', error);
        through.destroy(error);
      });
      return source.pipe(through);
    });
  }

  #count(name: string, rows: number): void {
    this.#rows[name] = (this.#rows[name] ?? 0) + rows;
  }

  #advance(rows: number): void {
    this.#done += rows;
    this.#options.onProgress?.(this.#done);
  }

  *#table(table: ExportTable): Generator<string> {
    yield this.#header(table);
    for (const rows of rowsOf(this.#handle, table, this.#options.filter)) yield this.#lines(table, rows);
  }

  #header(table: ExportTable): string {
    this.#count(table.name, 0);
    return csvLines([table.columns.map((column) => column.name)]);
  }

  #lines(table: ExportTable, rows: readonly Cell[][]): string {
    this.#advance(rows.length);
    return this.#csv(table, rows);
  }

  #csv(table: ExportTable, rows: readonly Cell[][]): string {
    this.#count(table.name, rows.length);
    this.#workbook?.take(table.name, rows);
    return csvLines(rows.map((row) => table.columns.map((column, index) => toCell(column, row[index] ?? null))));
  }

  /** Results follow from the same evaluation; they are few and wait for their own file. */
  async *#volumes(): AsyncGenerator<string> {
    yield this.#header(VOLUMES);
    const ids: ExportTable = {
      name: 'calibration',
      columns: [{ name: 'id', kind: 'code', nullable: false }],
      primaryKey: ['id'],
      foreignKeys: [],
    };
    const db = queryBuilder(this.#handle);
    for (const page of rowsOf(this.#handle, ids, this.#options.filter))
      for (let start = 0; start < page.length; start += CALIBRATIONS_AT_ONCE) {
        const some = page.slice(start, start + CALIBRATIONS_AT_ONCE).map(([id]) => String(id));
        const { volumes, results } = await calculate(db, some);
        if (results.length > 0) this.#results.push(this.#csv(RESULTS, results));
        if (volumes.length > 0) yield this.#csv(VOLUMES, volumes);
        this.#advance(some.length);
      }
  }

  *#journal(): Generator<string> {
    for (const entries of entriesOf(this.#handle, this.#options.filter)) {
      this.#whole += entries.filter((entry) => entry.whole === 1).length;
      this.#count('journal', entries.length);
      this.#advance(entries.length);
      yield `${entries.map(lineOf).join('\n')}\n`;
    }
  }

  #certificates(): void {
    const selection = selectionOf('certificate_file', this.#options.filter);
    const files = this.#handle
      .prepare<string[], { number: string; format: string }>(
        `select certificate_number as number, format from certificate_file ${selection ? `where ${selection.sql}` : ''} order by 1, 2`,
      )
      .all(...(selection?.values ?? []));
    const content = this.#handle
      .prepare<[string, string], Buffer>(
        'select content from certificate_file where certificate_number = ? and format = ?',
      )
      .pluck();
    for (const { number, format } of files)
      this.#file(`certificates/${fileName(number)}.${format}`, () =>
        Readable.from([content.get(number, format) ?? Buffer.alloc(0)], { objectMode: false }),
      );
  }

  /** Rehearsals among the class experiments that this export holds. */
  #madeUpClasses(): number {
    if (isFiltered(this.#options.filter)) return 0;
    return Number(this.#handle.prepare('select count(*) from class_experiment where made_up = 1').pluck().get());
  }

  #rowsInAll(): Record<string, number> | null {
    if (!isFiltered(this.#options.filter)) return null;
    const count = (table: string): number =>
      Number(this.#handle.prepare(`select count(*) from ${table}`).pluck().get());
    return Object.fromEntries(EXPORT_TABLES.map(({ name }) => [name, count(name)]));
  }

  #told(): Told {
    const { filter, certificates, at } = this.#options;
    const mark = this.#handle.prepare("select 1 from logbook_mark where mark = 'demonstration'").pluck().get();
    return {
      at: at.toISOString(),
      migrations: this.#handle.prepare<[], string>('select name from kysely_migration order by name').pluck().all(),
      filter: filterText(filter),
      filtered: isFiltered(filter),
      certificates,
      workbook: this.#workbook ? { tooLong: this.#workbook.tooLong } : null,
      demonstration: mark === 1,
      madeUpClasses: this.#madeUpClasses(),
      head: headOf(this.#handle),
      rows: this.#rows,
      rowsInAll: this.#rowsInAll(),
      entriesWhole: this.#whole,
    };
  }
}

/**
 * The zip as bytes, and the head it holds. The connection must have no transaction open; one is, until the stream ends,
 * so that every table is of the same moment.
 */
export const archive = (handle: Handle, options: ExportOptions): { output: NodeJS.ReadableStream; head: Head } => {
  handle.exec('begin');
  const head = headOf(handle);
  const made = new Archive(handle, options);
  made.assemble();
  const end = (): void => {
    if (handle.open && handle.inTransaction) handle.exec('rollback');
  };
  made.output.once('close', end).once('end', end);
  return { output: made.output, head };
};
