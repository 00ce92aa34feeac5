/**
 * The tables people look into most, as one workbook for a spreadsheet: a convenience beside the tables of text, which
 * stay the record. A workbook is put together in memory, so a sheet has an end.
 */
import { Readable } from 'node:stream';
import writeExcelFile, { type Cell as SheetCell, type Sheet } from 'write-excel-file/node';
import { RESULTS, VOLUMES } from './calculated.ts';
import { toCell, type Cell } from './cells.ts';
import { EXPORT_TABLES, type Column, type ExportTable } from './columns.ts';

/**
 * Far fewer than a sheet holds (1 048 576, from memory): measured, 50 000 rows of trials take 320 MB to put together,
 * and 100 000 take 474 MB.
 */
export const MOST_ROWS = 50_000;
/** Decimal digits that every 64-bit number of IEEE 754 gives back as they were. */
const DIGITS_KEPT = 15;
/** Characters of one cell; from memory. */
const LONGEST_TEXT = 32_767;

interface SheetPlan {
  title: string;
  /** Table whose rows it shows, as in the file of that name. */
  of: string;
  /** Of several rows in a row with the same value here only the last is shown. */
  latestOf?: string;
  without?: readonly string[];
}

const SHEETS: readonly SheetPlan[] = [
  { title: 'Vessels', of: 'vessel_revision', latestOf: 'vessel_id' },
  { title: 'Calibrations', of: 'results' },
  { title: 'Trials', of: 'volumes' },
  { title: 'Instruments', of: 'instrument' },
  { title: 'Certificates', of: 'certificate', without: ['frozen'] },
];

const TABLES = [...EXPORT_TABLES, RESULTS, VOLUMES];

const tableOf = (name: string): ExportTable => {
  const table = TABLES.find((one) => one.name === name);
  if (!table) throw new Error(`There is no table ${name}.`);
  return table;
};

const TYPED = /^[+-]?(\d+)(?:\.(\d+))?$/;

/** Null where a number of a spreadsheet would lose something: digits, or the minus sign of a zero. */
const typedNumber = (text: string): SheetCell => {
  const [, whole = '', decimals = ''] = TYPED.exec(text) ?? [];
  const digits = (whole + decimals).replace(/^0+/, '').length;
  const value = Number(text);
  if (whole === '' || digits > DIGITS_KEPT || decimals.length > DIGITS_KEPT || Object.is(value, -0)) return null;
  return { type: Number, value, format: decimals === '' ? '0' : `0.${'0'.repeat(decimals.length)}` };
};

/** XML has no place for most control characters. */
const UNFIT = /[^\P{Cc}\t\n\r]|[\uFFFE\uFFFF]/gu;

const textCell = (text: string): SheetCell => {
  const fit = text.toWellFormed().replaceAll(UNFIT, '\uFFFD').slice(0, LONGEST_TEXT);
  // The library looks texts up in a plain object, where these words already stand for something.
  return { type: String, value: fit in Object.prototype ? `'${fit}` : fit };
};

const DATE_FORMATS = { date: 'yyyy-mm-dd', time: 'yyyy-mm-dd hh:mm:ss' } as const;

export const sheetCell = (column: Column, value: Cell): SheetCell => {
  if (value === null) return null;
  const { kind } = column;
  if (kind === 'boolean') return { type: Boolean, value: value === 1 };
  if (typeof value === 'number') return { type: Number, value };
  if (kind === 'date' || kind === 'time') {
    const date = new Date(value);
    if (!Number.isNaN(date.getTime())) return { type: Date, value: date, format: DATE_FORMATS[kind] };
  }
  return (kind === 'number' ? typedNumber(value) : null) ?? textCell(toCell(column, value));
};

interface Filling {
  plan: SheetPlan;
  table: ExportTable;
  rows: (readonly Cell[])[];
  /** How many rows there are, also those that found no place. */
  count: number;
}

export class Workbook {
  readonly #sheets: Filling[] = SHEETS.map((plan) => ({ plan, table: tableOf(plan.of), rows: [], count: 0 }));

  /** Rows of any table, in their order. */
  take(table: string, rows: readonly (readonly Cell[])[]): void {
    for (const sheet of this.#sheets) if (sheet.plan.of === table) for (const row of rows) this.#add(sheet, row);
  }

  #add(sheet: Filling, row: readonly Cell[]): void {
    const key = sheet.table.columns.findIndex(({ name }) => name === sheet.plan.latestOf);
    const last = sheet.rows.at(-1);
    if (key >= 0 && last && last[key] === row[key]) {
      sheet.rows[sheet.rows.length - 1] = row;
      return;
    }
    sheet.count += 1;
    if (sheet.count <= MOST_ROWS) sheet.rows.push(row);
    // The last one stays, to tell whether the next belongs to the same thing.
    else sheet.rows = [row];
  }

  /** Sheets that have more rows than a workbook is made for; they hold one sentence instead. */
  get tooLong(): { title: string; rows: number; file: string }[] {
    return this.#sheets
      .filter(({ count }) => count > MOST_ROWS)
      .map(({ plan, count }) => ({ title: plan.title, rows: count, file: fileOf(plan.of) }));
  }

  async bytes(): Promise<Readable> {
    return Readable.from([await writeExcelFile(this.#sheets.map(sheetOf)).toBuffer()], { objectMode: false });
  }
}

const fileOf = (table: string): string =>
  table === RESULTS.name || table === VOLUMES.name ? `${table}.csv` : `tables/${table}.csv`;

const sheetOf = ({ plan, table, rows, count }: Filling): Sheet<never> => {
  const { title } = plan;
  if (count > MOST_ROWS) {
    const sentence = `${count} rows are more than a sheet is made for (${MOST_ROWS}): see ${fileOf(plan.of)}.`;
    return { sheet: title, data: [[{ type: String, value: sentence }]] };
  }
  const shown = table.columns.flatMap((column, index) =>
    plan.without?.includes(column.name) === true ? [] : [{ column, index }],
  );
  const header = shown.map(({ column }) => ({ type: String, value: column.name, fontWeight: 'bold' as const }));
  const body = rows.map((row) => shown.map(({ column, index }) => sheetCell(column, row[index] ?? null)));
  return { sheet: title, data: [header, ...body], stickyRowsCount: 1 };
};
