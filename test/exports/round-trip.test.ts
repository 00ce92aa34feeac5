/** Taking the logbook away and building it up again: nothing is lost, nothing is added, nothing is a formula. */
import Ajv from 'ajv/dist/2020.js';
import { parse } from 'papaparse';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { EXPORT_TABLES, LEFT_OUT } from '../../server/exports/columns.ts';
import { importExport } from '../../server/exports/import.ts';
import { looking } from '../db/support.ts';
import { TestServer } from '../server/support.ts';
import { AWKWARD, fill } from './rich-logbook.ts';
import { exported, unzipped } from './support.ts';

let server: TestServer;
let ids: Awaited<ReturnType<typeof fill>>;
let zip: Buffer;
let files: Map<string, Buffer>;
let folder: string;
beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), 'tarebook-import-'));
  server = await TestServer.start();
  ids = await fill(server);
  zip = await exported(server.logbook.file);
  files = await unzipped(zip);
});
afterAll(async () => {
  await server.end();
  rmSync(folder, { recursive: true, force: true });
});

const text = (name: string, from = files): string => (from.get(name) ?? Buffer.from('')).toString('utf8');
const rowsOf = (name: string, from = files): Record<string, string>[] =>
  parse<Record<string, string>>(text(name, from), { header: true, skipEmptyLines: true }).data;
const lines = (from = files): Record<string, unknown>[] =>
  text('journal.jsonl', from)
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line) as Record<string, unknown>);

it('names every table and column of the logbook, or says that it stays', () => {
  looking(server.logbook.file, (handle) => {
    const tables = handle
      .prepare<[], string>(
        "select name from sqlite_master where type = 'table' and name not like 'sqlite_%' order by 1",
      )
      .pluck()
      .all();
    expect([...EXPORT_TABLES.map(({ name }) => name), ...LEFT_OUT, 'journal_entry'].sort()).toEqual(tables);
    for (const { name, columns } of EXPORT_TABLES) {
      const present = (handle.pragma(`table_info(${name})`) as { name: string }[]).map((column) => column.name);
      expect(columns.map((column) => column.name)).toEqual(present.filter((column) => column !== 'content'));
    }
  });
});

it('holds as many rows of each table as the logbook', () => {
  looking(server.logbook.file, (handle) => {
    for (const { name } of EXPORT_TABLES)
      expect({ name, rows: rowsOf(`tables/${name}.csv`).length }).toEqual({
        name,
        rows: handle.prepare(`select count(*) from ${name}`).pluck().get(),
      });
  });
});

it('keeps readings as typed, and numbers bare', () => {
  const typed = rowsOf('tables/trial.csv').filter((row) => row['calibration_id'] === ids.first);
  expect(typed.map((row) => row['filled_g']).slice(0, 4)).toEqual(['160.8371', '160.83700', '+160.838', '0160.8369']);
});

it('puts an apostrophe before texts that a spreadsheet would take for a formula', () => {
  const [vessel] = rowsOf('tables/vessel.csv').filter((row) => row['tag'] === `'${ids.tag}`);
  const [, revised] = rowsOf('tables/vessel_revision.csv').filter((row) => row['vessel_id'] === vessel?.['id']);
  expect(revised).toMatchObject({
    serial: "'+7",
    maker: "''own",
    location: "'-0.5",
    note: `'${AWKWARD.join('\n')}`,
    reason: "'@ first look",
    expected_spread_ml: '0.010',
  });
});

it('ends every line of a table with CR LF, and quotes the line ends inside a cell', () => {
  const outsideQuotes = text('tables/vessel_revision.csv').replaceAll(/"(?:[^"]|"")*"/g, '');
  expect(outsideQuotes.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
});

it('describes the columns in the order of the header', () => {
  const { resources, $schema } = JSON.parse(text('datapackage.json')) as {
    $schema: string;
    resources: { path: string; type: string; rowCount: number; schema: { fields: { name: string }[] } }[];
  };
  // Data Package v2, https://datapackage.org/standard/data-package/ and …/data-resource/: the profile's address, a name,
  // a path and `type: table` for each tabular resource.
  expect($schema).toBe('https://datapackage.org/profiles/2.0/datapackage.json');
  for (const { path: file, type, schema } of resources) {
    expect(type).toBe('table');
    const [header] = parse<string[]>(text(file)).data;
    expect(schema.fields.map(({ name }) => name)).toEqual(header);
  }
});

it('has a schema that every line of the journal fits, and a line without its hash does not', () => {
  const fits = new Ajv.default({ strict: true, allowUnionTypes: true }).compile(
    JSON.parse(text('journal.schema.json')) as object,
  );
  for (const line of lines()) expect(fits(line)).toBe(true);
  const { hash: _hash, ...bare } = lines()[0] ?? {};
  expect(fits(bare)).toBe(false);
});

describe('an import', () => {
  it('builds a logbook whose export has the same bytes', async () => {
    const file = path.join(folder, 'export.zip');
    writeFileSync(file, zip);
    const built = path.join(folder, 'data');
    expect(await importExport(file, built)).toMatchObject({ fault: null });
    const again = await unzipped(await exported(path.join(built, 'tarebook.db')));
    expect([...again.keys()]).toEqual([...files.keys()]);
    for (const [name, content] of files)
      expect({ name, same: again.get(name)?.equals(content) }).toEqual({ name, same: true });
    await expect(importExport(file, built)).rejects.toThrow('This logbook is not empty.');
  });

  it('refuses a part of a logbook, and one without its certificate files', async () => {
    const part = path.join(folder, 'part.zip');
    writeFileSync(part, await exported(server.logbook.file, { filter: { vessel: ids.tag } }));
    await expect(importExport(part, path.join(folder, 'part'))).rejects.toThrow('narrowed by a filter');
    writeFileSync(part, await exported(server.logbook.file, { certificates: false }));
    await expect(importExport(part, path.join(folder, 'part'))).rejects.toThrow('without certificate files');
  });
});

describe('solutions of a narrowed export', () => {
  const titles = (from: Map<string, Buffer>) => rowsOf('tables/preparation.csv', from).map((row) => row['title']);
  const part = async (filter: Parameters<typeof exported>[1] & object) =>
    unzipped(await exported(server.logbook.file, filter));

  it.each([
    ['the vessel they were made with, through a stock too', { vessel: '=SUM(A1)' }, ["'=phthalate", 'diluted']],
    ['the days', { from: '2026-09-14' }, ['diluted']],
    ['the lot of a vessel', { lot: '=Autumn' }, ['diluted']],
    ['days of none', { to: '2026-09-10' }, []],
  ])('follow %s', async (_name, filter, expected) => {
    const some = await part({ filter });
    expect(titles(some).sort()).toEqual(expected);
    const ids = rowsOf('tables/preparation.csv', some).map((row) => row['id']);
    for (const table of ['preparation_vessel', 'preparation_decision', 'preparation_end'])
      expect(rowsOf(`tables/${table}.csv`, some)).toEqual(
        rowsOf(`tables/${table}.csv`).filter((row) => ids.includes(row['preparation_id'])),
      );
    const whole = lines(some).filter((line) => 'act' in line);
    expect(whole.filter(({ act }) => act === 'preparation-recorded')).toHaveLength(expected.length);
  });

  it('take along what they were made with: every key that is named leads to a row', async () => {
    const some = await part({ filter: { lot: '=Autumn' } });
    expect(rowsOf('tables/vessel.csv', some)).toHaveLength(4);
    const { resources } = JSON.parse(text('datapackage.json', some)) as {
      resources: {
        path: string;
        schema: { foreignKeys?: { fields: string[]; reference: { resource: string; fields: string[] } }[] };
      }[];
    };
    for (const { path: file, schema } of resources)
      for (const { fields, reference } of schema.foreignKeys ?? []) {
        const keys = (name: string, columns: string[]) =>
          rowsOf(name, some).map((row) => columns.map((column) => row[column]).join(' '));
        const there = new Set(keys(`tables/${reference.resource}.csv`, reference.fields));
        for (const key of keys(file, fields))
          if (key.trim() !== '') expect({ file, key, is: there.has(key) }).toEqual({ file, key, is: true });
      }
  });

  it('are counted in README.txt beside those left out', async () => {
    const said = text('README.txt', await part({ filter: { lot: '=Autumn' } }));
    expect(said).toContain('preparation: 1 of 2');
    expect(said).toContain('calibration: 0 of 2');
    expect(text('README.txt')).toContain('preparation: 2\r\n');
  });
});

describe('an export of one vessel or some days', () => {
  it.each([
    ['a vessel', () => ({ vessel: ids.tag }), () => ids.first],
    ['days', () => ({ from: '2026-09-11', to: '2026-09-13' }), () => ids.second],
  ])('holds the rows concerned and the chain whole: %s', async (_name, filter, expected) => {
    const some = await unzipped(await exported(server.logbook.file, { filter: filter() }));
    expect(rowsOf('tables/calibration.csv', some).map((row) => row['id'])).toEqual([expected()]);
    expect(new Set(rowsOf('tables/trial.csv', some).map((row) => row['calibration_id']))).toEqual(
      new Set([expected()]),
    );
    expect(lines(some).map(({ number, hash }) => [number, hash])).toEqual(
      lines().map(({ number, hash }) => [number, hash]),
    );
    const whole = lines(some).filter((line) => 'act' in line);
    expect(whole.length).toBeLessThan(lines().length);
    expect(whole.filter((line) => line['object'] === `calibration/${expected()}`)).toEqual(
      lines().filter((line) => line['object'] === `calibration/${expected()}`),
    );
  });
});
