import { z } from 'zod';
import { conditionsBody } from '../calibrations/contract.ts';
import { confirmNames, id, isoDate, note, requiredText, within } from '../wire.ts';

/** Most rows of one list: beyond it the list is taken over in parts. */
export const MOST_ROWS = 2000;

export const DELIMITERS = ['tab', 'semicolon', 'comma'] as const;
export type Delimiter = (typeof DELIMITERS)[number];
export const DECIMAL_MARKS = ['point', 'comma'] as const;
export type DecimalMark = (typeof DECIMAL_MARKS)[number];
export const DATE_ORDERS = ['year-month-day', 'day-month-year', 'month-day-year'] as const;
export type DateOrder = (typeof DATE_ORDERS)[number];

/** How the list is written; a dry run proposes what is left out, taking over demands all of it. */
const writing = {
  delimiter: z.enum(DELIMITERS, { error: 'Columns are parted by tab, semicolon or comma.' }),
  decimalMark: z.enum(DECIMAL_MARKS, { error: 'The decimal mark is a point or a comma.' }),
  dateOrder: z.enum(DATE_ORDERS, { error: 'Say in which order day, month and year stand.' }),
};
const proposed = z.strictObject({
  delimiter: writing.delimiter.nullable(),
  decimalMark: writing.decimalMark.nullable(),
  dateOrder: writing.dateOrder.nullable(),
});
export type Writing = z.infer<typeof proposed>;

export const SHEET_FIELDS = [
  'tag',
  'performedOn',
  'pointMl',
  'emptyG',
  'filledG',
  'waterTemperatureC',
  'airTemperatureC',
  'airPressureHpa',
  'relativeHumidityPercent',
  'deliveryTimeS',
  'waitingTimeS',
  'note',
] as const;
export type SheetField = (typeof SHEET_FIELDS)[number];

const column = z
  .number({ error: 'A column is a whole number, counted from 1.' })
  .int('A column is a whole number, counted from 1.')
  .min(1, 'Columns count from 1.')
  .max(200)
  .optional();
const columns = z.strictObject(
  Object.fromEntries(SHEET_FIELDS.map((field) => [field, column])) as Record<SheetField, typeof column>,
);
export type Columns = z.infer<typeof columns>;

/** Which column holds what, and how the list is written: kept under a name and used again. */
export const mapping = z.strictObject({
  hasHeader: z.boolean({ error: 'Say whether the first line names the columns.' }),
  columns,
  delimiter: writing.delimiter.optional(),
  decimalMark: writing.decimalMark.optional(),
  dateOrder: writing.dateOrder.optional(),
});
export type Mapping = z.infer<typeof mapping>;

/** What the paper does not say and somebody assumes, with how far it may be off. */
const { confirm: _confirm, note: _note, ...conditionFields } = conditionsBody.shape;
const assumed = z.strictObject({
  waterTemperatureC: within('The water temperature', 0, 40, '°C').optional(),
  waterTemperatureHalfWidthC: conditionFields.airTemperatureHalfWidthC,
  conditions: z.strictObject(conditionFields).default({}),
});

export const oldSheetBody = z.strictObject({
  dryRun: z.boolean({ error: 'Say true to be shown what would be taken over, false to take it over.' }),
  list: z.string({ error: 'The list must be text.' }).max(900_000, 'The list is too long. Take it over in parts.'),
  mapping,
  /** Of all rows, where no column says it. */
  performedOn: isoDate('The day').optional(),
  assumed: assumed.default({ conditions: {} }),
  /** Leaves out calibrations with a problem; without it one problem keeps everything out. */
  onlyGood: z.boolean().default(false),
  rememberAs: requiredText('The name of the mapping', 60).optional(),
  confirm: confirmNames.optional(),
  note: note.optional(),
});
export type OldSheetBody = z.infer<typeof oldSheetBody>;

const rowProblem = z.object({
  line: z.number().int(),
  field: z.string(),
  detail: z.string(),
  /** A question, answered for all by `confirm` and a note. */
  confirm: z.enum(['air-pressure', 'volume', 'tolerance']).optional(),
});
export type RowProblem = z.infer<typeof rowProblem>;

const sheetCalibration = z.object({
  tag: z.string(),
  performedOn: z.string(),
  lines: z.array(z.number().int()),
  /** good: taken over · questions: asks first · refused · known: the record has it already. */
  standing: z.enum(['good', 'questions', 'refused', 'known']),
});

export const oldSheetPreview = z.object({
  dryRun: z.literal(true),
  /** What was found about how the list is written; null where it cannot be told. */
  proposed,
  /** The first lines, parted into cells, to choose columns by. */
  sample: z.array(z.array(z.string())),
  rows: z.number().int(),
  calibrations: z.array(sheetCalibration),
  problems: z.array(rowProblem),
});
export type OldSheetPreview = z.infer<typeof oldSheetPreview>;

export const oldSheetTaken = z.object({
  calibrations: z.array(z.object({ id, tag: z.string(), performedOn: z.string(), trials: z.number().int() })),
  /** Lines left out, of problems and of what the record had already. */
  leftOut: z.array(z.number().int()),
});
export type OldSheetTaken = z.infer<typeof oldSheetTaken>;

export const mappings = z.object({
  items: z.array(z.object({ name: z.string(), mapping, recordedAt: z.string(), recordedBy: z.string() })),
});
