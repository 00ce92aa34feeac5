/** Cells of one row as fields of a trial: digits kept as they stand, nothing guessed. */
import { isoDate } from '../wire.ts';
import type { Columns, DateOrder, DecimalMark, RowProblem, SheetField } from './contract.ts';
import type { SheetLine } from './detecting.ts';

export interface SheetRow {
  line: number;
  tag: string;
  performedOn: string;
  /** Fields with a value, quantities as decimal text. */
  fields: Partial<Record<SheetField, string>>;
}

const QUANTITIES = [
  'pointMl',
  'emptyG',
  'filledG',
  'waterTemperatureC',
  'airTemperatureC',
  'airPressureHpa',
  'relativeHumidityPercent',
  'deliveryTimeS',
  'waitingTimeS',
] as const satisfies readonly SheetField[];

const NUMBERS: Record<DecimalMark, RegExp> = { point: /^[+-]?\d+(\.\d*)?$/, comma: /^[+-]?\d+(,\d*)?$/ };

/** @returns decimal text with a point; null for what is no plain number with this mark */
export const numberIn = (cell: string, mark: DecimalMark): string | null => {
  const plain = cell.replace('−', '-');
  return NUMBERS[mark].test(plain) ? plain.replace(',', '.') : null;
};

const ORDERS: Record<
  DateOrder,
  readonly ['year' | 'month' | 'day', 'year' | 'month' | 'day', 'year' | 'month' | 'day']
> = {
  'year-month-day': ['year', 'month', 'day'],
  'day-month-year': ['day', 'month', 'year'],
  'month-day-year': ['month', 'day', 'year'],
};

/** @returns the day as ISO text; null for what is no day in this order */
export function dayIn(cell: string, order: DateOrder): string | null {
  const parts = cell.split(/[./-]/);
  if (parts.length !== 3 || !parts.every((part) => /^\d+$/.test(part))) return null;
  const named = Object.fromEntries(ORDERS[order].map((name, index) => [name, parts[index] ?? '']));
  if (named['year']?.length !== 4) return null;
  const day = `${named['year']}-${named['month']?.padStart(2, '0')}-${named['day']?.padStart(2, '0')}`;
  return isoDate('The day').safeParse(day).success ? day : null;
}

interface HowToRead {
  columns: Columns;
  decimalMark: DecimalMark;
  dateOrder: DateOrder | null;
  performedOn: string | undefined;
}

/** One row with what cannot be read in it. */
export function readRow({ line, cells }: SheetLine, how: HowToRead): { row: SheetRow; problems: RowProblem[] } {
  const problems: RowProblem[] = [];
  const refuse = (field: SheetField, detail: string) => void problems.push({ line, field, detail });
  const cellOf = (field: SheetField): string => {
    const column = how.columns[field];
    return column === undefined ? '' : (cells[column - 1] ?? '');
  };
  const fields: SheetRow['fields'] = {};
  for (const field of QUANTITIES) {
    const cell = cellOf(field);
    if (cell === '') continue;
    const number = numberIn(cell, how.decimalMark);
    if (number === null) refuse(field, `“${cell}” is no plain number with a decimal ${how.decimalMark}.`);
    else fields[field] = number;
  }
  const note = cellOf('note');
  if (note !== '') fields.note = note;
  const tag = cellOf('tag');
  if (tag === '') refuse('tag', 'The tag is missing.');
  for (const field of ['emptyG', 'filledG'] as const)
    if (cellOf(field) === '') refuse(field, `The ${field === 'emptyG' ? 'empty' : 'filled'} reading is missing.`);
  const written = cellOf('performedOn');
  const day = written === '' || how.dateOrder === null ? how.performedOn : dayIn(written, how.dateOrder);
  if (day == null)
    refuse('performedOn', written === '' ? 'The day is missing.' : `“${written}” is no day in this order.`);
  return { row: { line, tag, performedOn: day ?? '', fields }, problems };
}
