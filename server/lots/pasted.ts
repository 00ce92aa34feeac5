/** A pasted list of tags and serial numbers: from a spreadsheet, a text, or a CSV file. */
import { parse } from 'csv-parse/sync';

export interface PastedRow {
  /** As a person counts lines of the list, a header included. */
  line: number;
  tag: string;
  serial: string;
}

export type Pasted = { ok: true; rows: PastedRow[] } | { ok: false; detail: string };

const DELIMITERS = ['\t', ';', ','];

const delimiterOf = (text: string): string => {
  const [first = ''] = text.split(/\r?\n/, 1);
  return DELIMITERS.find((delimiter) => first.includes(delimiter)) ?? ',';
};

interface Line {
  record: string[];
  info: { lines: number };
}

/** Which column holds what: named by a header, else tag before serial; serials alone where the tags are numbered. */
const columnsOf = (first: readonly string[], tagsAreNumbered: boolean) => {
  const names = first.map((cell) => cell.toLowerCase());
  const tag = names.indexOf('tag');
  const serial = names.indexOf('serial');
  if (tag >= 0 || serial >= 0) return { hasHeader: true, tag, serial };
  return tagsAreNumbered ? { hasHeader: false, tag: -1, serial: 0 } : { hasHeader: false, tag: 0, serial: 1 };
};

/**
 * Rows of a pasted list. Columns are parted by tabs, semicolons or commas, quoted as in RFC 4180; a first line that
 * names `tag` or `serial` is taken for a header.
 */
export const readPasted = (text: string, tagsAreNumbered: boolean): Pasted => {
  let lines: Line[];
  try {
    lines = parse(text, {
      bom: true,
      delimiter: delimiterOf(text),
      trim: true,
      relax_column_count: true,
      skip_empty_lines: true,
      info: true,
    }) as unknown as Line[];
  } catch {
    return { ok: false, detail: 'A quoted cell of the list has no end. Look for a single " in it.' };
  }
  const [first] = lines;
  if (!first) return { ok: false, detail: 'The list is empty.' };
  const columns = columnsOf(first.record, tagsAreNumbered);
  const rows = (columns.hasHeader ? lines.slice(1) : lines).map(({ record, info }) => ({
    line: info.lines,
    tag: record[columns.tag] ?? '',
    serial: record[columns.serial] ?? '',
  }));
  return rows.length === 0 ? { ok: false, detail: 'The list holds a header and nothing else.' } : { ok: true, rows };
};
