/** How a list is written: only what its own cells prove; what they leave open is asked. */
import { parse } from 'csv-parse/sync';
import type { DateOrder, DecimalMark, Delimiter, Writing } from './contract.ts';

const SIGNS: Record<Delimiter, string> = { tab: '\t', semicolon: ';', comma: ',' };

export interface SheetLine {
  /** As a person counts lines of the list, a header included. */
  line: number;
  cells: string[];
}

/** @returns null where a quoted cell has no end */
export function partedBy(list: string, delimiter: Delimiter): SheetLine[] | null {
  try {
    const records = parse(list, {
      bom: true,
      delimiter: SIGNS[delimiter],
      trim: true,
      relax_column_count: true,
      skip_empty_lines: true,
      info: true,
    }) as unknown as { record: string[]; info: { lines: number } }[];
    return records.map(({ record, info }) => ({ line: info.lines, cells: record }));
  } catch {
    return null;
  }
}

/** The sign that parts every line into the same number of columns, more than one; a tab before others. */
function delimiterOf(list: string): Delimiter | null {
  const fitting = (['tab', 'semicolon', 'comma'] as const).filter((delimiter) => {
    const widths = new Set(partedBy(list, delimiter)?.map(({ cells }) => cells.length) ?? []);
    return widths.size === 1 && !widths.has(1);
  });
  return fitting[0] ?? null;
}

/** Three digits behind a single mark may be thousandths or thousands. */
const MAY_BE_THOUSANDS = /^[+-]?\d{1,3}[.,]\d{3}$/;

function decimalMarkOf(cells: readonly string[]): DecimalMark | null {
  const marked = cells.filter((cell) => /^[+-]?\d*[.,]\d+$/.test(cell));
  const certain = marked.filter((cell) => !MAY_BE_THOUSANDS.test(cell));
  const marks = new Set(marked.map((cell) => (cell.includes(',') ? 'comma' : 'point')));
  const [mark] = marks;
  return marks.size === 1 && certain.length > 0 && mark ? mark : null;
}

const DAY_FIRST = /^(\d{1,2})[./-](\d{1,2})[./-]\d{4}$/;

function dateOrderOf(cells: readonly string[]): DateOrder | null {
  const fromYear = cells.some((cell) => /^\d{4}-\d{1,2}-\d{1,2}$/.test(cell));
  const others = cells.flatMap((cell) => {
    const match = DAY_FIRST.exec(cell);
    return match ? [{ first: Number(match[1]), second: Number(match[2]) }] : [];
  });
  const dayFirst = others.some(({ first }) => first > 12);
  const monthFirst = others.some(({ second }) => second > 12);
  if (fromYear) return others.length === 0 ? 'year-month-day' : null;
  if (dayFirst === monthFirst) return null;
  return dayFirst ? 'day-month-year' : 'month-day-year';
}

/** What the list shows about itself; null wherever two readings are possible. */
export function detectWriting(list: string, known: Partial<Writing> = {}): Writing {
  const delimiter = known.delimiter ?? delimiterOf(list);
  const cells = delimiter === null ? [] : (partedBy(list, delimiter) ?? []).flatMap((line) => line.cells);
  return {
    delimiter,
    decimalMark: known.decimalMark ?? decimalMarkOf(cells),
    dateOrder: known.dateOrder ?? dateOrderOf(cells),
  };
}
