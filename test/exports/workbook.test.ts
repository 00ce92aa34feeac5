/** The workbook of an export, read back as any program would: a zip of XML, against the tables of text beside it. */
import { XmlDocument, XmlElement } from 'libxml2-wasm';
import { parse } from 'papaparse';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { readme, type Told } from '../../server/exports/documents.ts';
import { MOST_ROWS, sheetCell, Workbook } from '../../server/exports/workbook.ts';
import { TestServer } from '../server/support.ts';
import { fill } from './rich-logbook.ts';
import { exported, unzipped } from './support.ts';

let server: TestServer;
let files: Map<string, Buffer>;
let book: Map<string, Buffer>;
beforeAll(async () => {
  server = await TestServer.start();
  await fill(server);
  // A word that plain objects know already.
  await server.vessel({ tag: 'F-9', note: 'constructor' });
  files = await unzipped(await exported(server.logbook.file, { workbook: true }));
  book = await unzipped(files.get('workbook.xlsx') ?? Buffer.from(''));
});
afterAll(() => server.end());

const NAMES = { x: 'http://schemas.openxmlformats.org/spreadsheetml/2006/main' };

const elements = (within: XmlElement, path: string): XmlElement[] =>
  within.find(path, NAMES).filter((one) => one instanceof XmlElement);

/** A part of a workbook: what `path` finds, as told by `tell`. */
const found = <T>(from: ReadonlyMap<string, Buffer>, part: string, path: string, tell: (one: XmlElement) => T): T[] => {
  using document = XmlDocument.fromBuffer(from.get(part) ?? Buffer.from('<missing/>'));
  return elements(document.root, path).map(tell);
};

interface Read {
  type: string;
  text: string;
  format: string;
}

/** Cells of a sheet by row and by the name in its first row. */
const sheet = (title: string, from = book): Record<string, Read>[] => {
  const titles = found(from, 'xl/workbook.xml', '//x:sheet', (one) => ({
    title: one.attr('name')?.value,
    id: one.attr('id', 'r')?.value,
  }));
  const id = titles.find((one) => one.title === title)?.id;
  using relations = XmlDocument.fromBuffer(from.get('xl/_rels/workbook.xml.rels') ?? Buffer.from('<missing/>'));
  const target = elements(relations.root, '//*').find((one) => one.attr('Id')?.value === id);
  const texts = found(from, 'xl/sharedStrings.xml', '//x:si', (one) => one.content);
  const codes = new Map(
    found(from, 'xl/styles.xml', '//x:numFmt', (one) => [one.attr('numFmtId')?.value, one.attr('formatCode')?.value]),
  );
  const formats = found(from, 'xl/styles.xml', '//x:cellXfs/x:xf', (one) => one.attr('numFmtId')?.value);
  const rows = found(from, `xl/${target?.attr('Target')?.value}`, '//x:row', (row) =>
    elements(row, 'x:c').map((cell) => {
      const type = cell.attr('t')?.value ?? 'n';
      const format = formats[Number(cell.attr('s')?.value ?? 0)];
      return {
        column: (cell.attr('r')?.value ?? '').replace(/\d+/, ''),
        type,
        text: type === 's' ? (texts[Number(cell.content)] ?? 'no such text') : cell.content,
        format: codes.get(format) ?? format ?? '',
      };
    }),
  );
  const names = new Map(rows[0]?.map(({ column, text }) => [column, text]));
  return rows.slice(1).map((row) => Object.fromEntries(row.map(({ column, ...cell }) => [names.get(column), cell])));
};

const csv = (name: string): Record<string, string>[] =>
  parse<Record<string, string>>((files.get(name) ?? Buffer.from('')).toString('utf8'), {
    header: true,
    skipEmptyLines: true,
  }).data;

/** Days of a spreadsheet count from 1899-12-30 (ECMA-376 part 1, 18.17.4.1). */
const dayOf = (serial: string): string => new Date(Date.UTC(1899, 11, 30) + Number(serial) * 86_400_000).toISOString();

const expectSame = (read: Record<string, Read>[], written: Record<string, string>[], without: string[] = []): void => {
  expect(read).toHaveLength(written.length);
  for (const [index, row] of written.entries())
    for (const [name, text] of Object.entries(row).filter(([column]) => !without.includes(column))) {
      const cell = read[index]?.[name];
      const seen =
        cell?.type === 'b'
          ? String(cell.text === '1')
          : cell?.format.startsWith('yyyy') === true
            ? dayOf(cell.text).slice(0, text.length)
            : (cell?.text ?? '');
      const same = cell?.type === 'n' && !cell.format.startsWith('yyyy') ? Number(seen) === Number(text) : null;
      if (same === null) expect({ name, seen }).toEqual({ name, seen: text === 'constructor' ? "'constructor" : text });
      else expect({ name, text, same }).toEqual({ name, text, same: true });
    }
};

it('says in every sheet what the tables of text say', () => {
  const latest = new Map(csv('tables/vessel_revision.csv').map((row) => [row['vessel_id'], row]));
  expectSame(sheet('Vessels'), [...latest.values()]);
  expectSame(sheet('Calibrations'), csv('results.csv'));
  expectSame(sheet('Trials'), csv('volumes.csv'));
  expectSame(sheet('Instruments'), csv('tables/instrument.csv'));
  expectSame(sheet('Certificates'), csv('tables/certificate.csv'), ['frozen']);
});

it('keeps readings as numbers with the decimals that were typed, and dates as dates', () => {
  const rowsOf = (title: string) => sheet(title).filter((row) => row['tag']?.text === "'=SUM(A1)");
  const second = rowsOf('Trials').find((row) => row['trial_number']?.text === '2');
  expect(second?.['filled_g']).toEqual({ type: 'n', text: '160.837', format: '0.00000' });
  const [first] = rowsOf('Calibrations');
  expect(first?.['performed_on']).toMatchObject({ type: 'n', format: 'yyyy-mm-dd' });
  expect(dayOf(first?.['performed_on']?.text ?? '')).toBe('2026-09-10T00:00:00.000Z');
});

it('takes a number that a spreadsheet would not keep as a text', () => {
  const column = { name: 'filled_g', kind: 'number', nullable: false } as const;
  expect(sheetCell(column, '160.8370')).toEqual({ type: Number, value: 160.837, format: '0.0000' });
  expect(sheetCell(column, '123456789.1234567')).toEqual({ type: String, value: '123456789.1234567' });
  expect(sheetCell(column, '-0.00')).toEqual({ type: String, value: '-0.00' });
});

it('holds no formula, and no sign that XML cannot hold', () => {
  for (const [name, part] of book)
    if (name.startsWith('xl/worksheets/sheet')) expect(part.toString('utf8')).not.toMatch(/<f[ >]/);
  expect(sheet('Trials').map((row) => row['tag']?.text)).toContain("'=SUM(A1)");
  const column = { name: 'note', kind: 'text', nullable: true } as const;
  expect(sheetCell(column, 'a\u0001b\nc')).toEqual({ type: String, value: 'a\uFFFDb\nc' });
});

it('is left out unless it is asked for', async () => {
  expect([...(await unzipped(await exported(server.logbook.file))).keys()]).not.toContain('workbook.xlsx');
  expect((files.get('README.txt') ?? '').toString()).toContain('workbook.xlsx');
});

it('says so plainly where a table is longer than a sheet', async () => {
  const long = new Workbook();
  const row = ['c-1', 'F-1', 1, '100', '50.0', '150.0', '20.0', 99.7, 100, 100, 1];
  for (let rows = 0; rows <= MOST_ROWS; rows += 1) long.take('volumes', [row]);
  const tooLong = [{ title: 'Trials', rows: MOST_ROWS + 1, file: 'volumes.csv' }];
  expect(long.tooLong).toEqual(tooLong);
  const chunks: Buffer[] = [];
  for await (const chunk of await long.bytes()) chunks.push(chunk as Buffer);
  const texts = found(await unzipped(Buffer.concat(chunks)), 'xl/sharedStrings.xml', '//x:si', (one) => one.content);
  expect(texts).toContain('50001 rows are more than a sheet is made for (50000): see volumes.csv.');
  const told: Told = {
    at: '2026-09-14T12:00:00.000Z',
    migrations: [],
    filter: '',
    filtered: false,
    certificates: false,
    workbook: { tooLong },
    demonstration: false,
    madeUpClasses: 0,
    head: null,
    rows: {},
    rowsInAll: null,
    entriesWhole: 0,
  };
  expect(readme(told)).toContain('WITHOUT the rows of the sheet Trials: 50001 rows');
});
