/** The papers of an export: what it is, how its tables are built, what a line of the journal looks like. */
import { VERSION } from '../version.ts';
import { MAY_LEAD_OUT, unitOf, type Column, type ColumnKind, type ExportTable } from './columns.ts';
import { CALCULATED } from './calculated.ts';

export interface Told {
  at: string;
  migrations: string[];
  filter: string;
  filtered: boolean;
  certificates: boolean;
  /** Null where none was asked for. */
  workbook: { tooLong: { title: string; rows: number; file: string }[] } | null;
  demonstration: boolean;
  /** Class experiments whose readings the program made up, to rehearse with. */
  madeUpClasses: number;
  head: { number: number; hash: string } | null;
  /** Rows of each file. */
  rows: Record<string, number>;
  /** Rows of each table in the logbook; null where an export holds them all. */
  rowsInAll: Record<string, number> | null;
  entriesWhole: number;
}

const TYPES: Record<ColumnKind, object> = {
  text: { type: 'string' },
  code: { type: 'string' },
  number: { type: 'number', bareNumber: true, decimalChar: '.' },
  integer: { type: 'integer' },
  boolean: { type: 'boolean', trueValues: ['true'], falseValues: ['false'] },
  date: { type: 'date', format: '%Y-%m-%d' },
  time: { type: 'datetime', format: 'default' },
  json: { type: 'string' },
};

const ABOUT: Partial<Record<ColumnKind, string>> = {
  text: "Free text. One leading ' is not part of it: it keeps a spreadsheet from taking the text for a formula.",
  number: 'As typed, with every digit.',
  json: 'JSON as text.',
  time: 'UTC.',
};

const field = ({ name, kind, nullable }: Column): object => {
  const unit = unitOf(name);
  return {
    name,
    ...TYPES[kind],
    title: unit === null ? name.replaceAll('_', ' ') : `${name.replaceAll('_', ' ')} in ${unit}`,
    ...(ABOUT[kind] === undefined ? {} : { description: ABOUT[kind] }),
    ...(nullable ? {} : { constraints: { required: true } }),
  };
};

const resource = (path: string, table: ExportTable, rows: number, filtered: boolean): object => {
  const foreignKeys = table.foreignKeys.filter(
    ({ fields }) => !filtered || !MAY_LEAD_OUT.has(`${table.name} ${fields.join(' ')}`),
  );
  const required = table.primaryKey.every((key) =>
    table.columns.some(({ name, nullable }) => name === key && !nullable),
  );
  return {
    name: table.name,
    type: 'table',
    path,
    format: 'csv',
    mediatype: 'text/csv',
    encoding: 'utf-8',
    dialect: { header: true, delimiter: ',', lineTerminator: '\r\n', quoteChar: '"', doubleQuote: true },
    rowCount: rows,
    schema: {
      fields: table.columns.map(field),
      missingValues: [''],
      ...(required ? { primaryKey: table.primaryKey } : {}),
      ...(foreignKeys.length === 0
        ? {}
        : {
            foreignKeys: foreignKeys.map(({ fields, table: other, to }) => ({
              fields,
              reference: { resource: other, fields: to },
            })),
          }),
    },
  };
};

/** Data Package v2 (datapackage.org): the tables, their columns with types and units, and how they hang together. */
export const dataPackage = (tables: readonly ExportTable[], told: Told): string => {
  const document = {
    $schema: 'https://datapackage.org/profiles/2.0/datapackage.json',
    name: 'tarebook-export',
    title: 'Export of a Tarebook logbook',
    created: told.at,
    program: VERSION,
    migrations: told.migrations,
    filter: told.filter,
    filtered: told.filtered,
    certificates: told.certificates,
    demonstration: told.demonstration,
    madeUpClasses: told.madeUpClasses,
    journal: { path: 'journal.jsonl', entriesWhole: told.entriesWhole, head: told.head },
    resources: [
      ...tables.map((table) => resource(`tables/${table.name}.csv`, table, told.rows[table.name] ?? 0, told.filtered)),
      ...CALCULATED.map((table) => resource(`${table.name}.csv`, table, told.rows[table.name] ?? 0, told.filtered)),
    ],
  };
  return `${JSON.stringify(document, null, 2)}\n`;
};

/** JSON Schema 2020-12 of one line of journal.jsonl. */
export const journalSchema = (): string => {
  const hash = { type: 'string', pattern: '^[0-9a-f]{64}$' };
  const value = { $ref: '#/$defs/value' };
  const number = { type: 'integer', minimum: 1 };
  const text = { type: 'string' };
  const stub = { number, previousHash: hash, hash };
  const whole = {
    ...stub,
    at: text,
    actor: text,
    act: text,
    object: text,
    before: value,
    after: value,
    requestId: text,
  };
  const shape = (properties: object) => ({
    type: 'object',
    properties,
    required: Object.keys(properties),
    additionalProperties: false,
  });
  const document = {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    title: 'One line of journal.jsonl: an entry of the journal, whole or by its hash only',
    oneOf: [shape(whole), shape(stub)],
    $defs: {
      value: {
        anyOf: [
          { type: ['string', 'integer', 'boolean', 'null'] },
          { type: 'array', items: value },
          { type: 'object', additionalProperties: value },
        ],
      },
    },
  };
  return `${JSON.stringify(document, null, 2)}\n`;
};

const workbookLines = (workbook: NonNullable<Told['workbook']>): string[] => [
  'workbook.xlsx    the same for a spreadsheet, to look at; the CSV files are the record. Texts are guarded as there,',
  '                 a number that a spreadsheet would not keep digit by digit is a text, and a text longer than',
  '                 a cell holds (32 767 characters) is cut',
  ...workbook.tooLong.map(
    ({ title, rows, file }) =>
      `                 WITHOUT the rows of the sheet ${title}: ${rows} rows are more than it is made for, see ${file}`,
  ),
];

const madeUpLines = (count: number): string[] =>
  count === 0
    ? []
    : [`MADE UP: ${count} of the class experiments are rehearsals (made_up is true in class_experiment.csv).`, ''];

const rowLines = ({ rows, rowsInAll }: Told): string[] => [
  ...(rowsInAll
    ? [
        'Narrowed: the rows below say how many of those in the logbook this export holds. A solution takes along the',
        'vessels and instruments it was made with. Left out where the filter leaves them out: the calibrations of these',
        'vessels, and the solutions it was made from. Its own result holds the values it was computed from.',
        '',
      ]
    : []),
  'Rows:',
  ...Object.entries(rows).map(([name, held]) => {
    const all = rowsInAll?.[name];
    return `  ${name}: ${held}${all === undefined ? '' : ` of ${all}`}`;
  }),
];

export const readme = (told: Told): string => {
  const { head } = told;
  const lines = [
    `Export of a Tarebook logbook, Tarebook ${VERSION}`,
    '',
    ...(told.demonstration ? ['THIS LOGBOOK HOLDS INVENTED DEMONSTRATION DATA.', ''] : []),
    ...madeUpLines(told.madeUpClasses),
    `Made at: ${told.at}`,
    `Schema: ${told.migrations.join(', ')}`,
    `Filter: ${told.filter}`,
    head === null ? 'Journal: no entry yet' : `Journal: ${head.number} entries, ${told.entriesWhole} of them whole`,
    ...(head === null ? [] : [`Head of the journal: entry ${head.number}, ${head.hash}`]),
    `Certificate files: ${told.certificates ? 'in the folder certificates' : 'left out'}`,
    'Left out: passphrases, codes and keys of people and programs; codes and words of classes; addresses',
    'of feeds of due dates; answers kept for repeated requests.',
    '',
    ...rowLines(told),
    '',
    'tables/*.csv     what was recorded; readings exactly as typed. class_*.csv is what classes measured to learn: no',
    '                 evidence of any vessel, and gone from later exports once it is erased',
    'results.csv      each test point: mean, bias, spread, uncertainty, verdict',
    'volumes.csv      each trial: readings beside mass and volume',
    ...(told.workbook ? workbookLines(told.workbook) : []),
    'journal.jsonl    every act in order, each line with the hash of the one before it',
    'datapackage.json columns, types, units, keys (Data Package v2)',
    'verify.mjs       checks the journal, and readings, corrections, exclusions and certificates against it, without',
    '                 Tarebook: node verify.mjs [--expect-head HASH]',
    '',
    'The hash of an entry is the SHA-256 of a byte 01, the 32 bytes of previousHash, and the RFC 8785 text of the entry',
    'without previousHash and hash. Compare the head above with one printed on a certificate or kept elsewhere: a',
    'journal written anew from some entry on is whole in itself and shows only by its head.',
    '',
  ];
  return lines.join('\r\n');
};
