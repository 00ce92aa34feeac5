/** What everybody may read without signing in: the book of reference, the limits, the refusals, the API document. */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { PROBLEMS } from '../../server/problem-codes.ts';
import type { Formula, ReferenceBook, ToleranceTable } from '../../server/reference/contract.ts';
import { FORMULAS } from '../../server/reference/formulas.ts';
import { TestServer } from './support.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(async () => server.end());

const root = fileURLToPath(new URL('../../', import.meta.url));
const computation = readdirSync(`${root}server/metrology`, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts'))
  .map((file) => readFileSync(`${root}server/metrology/${file}`, 'utf8').replace(/\n \*\s+/g, '\n * '))
  .join('\n');

const formula = (id: string): Formula => {
  const found = FORMULAS.find((one) => one.id === id);
  if (!found) throw new Error(`no formula ${id}`);
  return found;
};
const valueIn = (id: string, symbol: string) => formula(id).constants.find((one) => one.symbol === symbol)?.value;

describe('formulas in use', () => {
  it('each have an address of their own', () => {
    const ids = FORMULAS.map((one) => one.id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids.filter((id) => !/^[a-z-]+$/.test(id))).toEqual([]);
  });

  it('name the same source and place in it as the code that computes', () => {
    const published = FORMULAS.filter((one) => one.source !== 'common-practice');
    const lines = published.map((one) => `@source ${one.source}, ${one.locator.replaceAll('’', "'")}`);
    expect(lines.length).toBeGreaterThan(5);
    expect(lines.filter((line) => !computation.includes(line))).toEqual([]);
  });

  it('explain every letter with an index, as a symbol or as a constant', () => {
    const unexplained = FORMULAS.flatMap((one) => {
      const known = new Set([...one.symbols, ...one.constants].map(({ symbol }) => symbol));
      const letters = one.formula.match(/[\p{L}]_[\p{L}0-9]+/gu) ?? [];
      return letters.filter((letter) => !known.has(letter)).map((letter) => `${one.id}: ${letter}`);
    });
    expect(unexplained).toEqual([]);
  });

  // Tanaka et al. 2001, table 1.
  it.each([
    ['a_1', -3.983035],
    ['a_2', 301.797],
    ['a_3', 522528.9],
    ['a_4', 69.34881],
    ['a_5', 999.97495],
  ])('show the coefficient %s of the water as published', (symbol, published) => {
    expect(valueIn('water-density', symbol)).toBe(published);
  });

  // Picard et al. 2008 (CIPM-2007), appendix; ISO 2533:1975 for the atmosphere; OIML D 28 for the weights.
  it.each([
    ['air-density', 'R', 8.314472],
    ['air-density', 'A', 1.2378847e-5],
    ['air-density', 'M_v', 18.01528e-3],
    ['standard-atmosphere', 'p_0', 1013.25],
    ['standard-atmosphere', 'T_0', 288.15],
    ['z-factor', 'ρ_b', 8000],
  ])('show in %s the constant %s as published', (id, symbol, published) => {
    expect(valueIn(id, symbol)).toBe(published);
  });
});

describe('GET /api/reference', () => {
  it('gives formulas, sources, materials and findings, and no source that is not listed', async () => {
    const { status, body } = await server.get('/api/reference');
    const book = body as unknown as ReferenceBook;
    expect(status).toBe(200);
    const known = new Set([...book.sources.map((one) => one.key), 'common-practice']);
    const named = book.formulas.flatMap((one) => [one.source, ...one.constants.map((constant) => constant.source)]);
    expect(named.filter((key) => !known.has(key))).toEqual([]);
    // ISO 3585:1998: mean linear coefficient 3.3e-6 /K, cubic three times that.
    expect(book.materials.find((one) => one.material === 'borosilicate-3.3')?.expansionPerK).toBe(9.9e-6);
    expect(book.findings.find((one) => one.code === 'air-assumed')?.meaning).toMatch(/not measured/);
    expect(book.sources.find((one) => one.key === 'tanaka-2001')?.doi).toBe('10.1088/0026-1394/38/4/3');
  });
});

describe('GET /api/reference/tolerances', () => {
  it('gives the rows of one kind with how far each was checked', async () => {
    const { status, body } = await server.get('/api/reference/tolerances?kind=volumetric-flask');
    const table = body as unknown as ToleranceTable;
    expect(status).toBe(200);
    expect(new Set(table.items.map((row) => row.kind))).toEqual(new Set(['volumetric-flask']));
    const row = table.items.find(
      (one) => one.standard === 'ISO 1042' && one.class === 'A' && one.nominalVolumeMl === 100,
    );
    // ISO 1042:1998, table 1, as two sources repeat it: ±0.10 mL.
    expect(row).toMatchObject({ edition: '1998', toleranceMl: 0.1, verification: 'two sources agree' });
    expect(table.standards.map((one) => one.id)).toContain('ISO 1042');
    const listed = new Set(table.sources.map((one) => one.key));
    expect(table.items.flatMap((one) => one.sources).filter((key) => !listed.has(key))).toEqual([]);
    expect(table.standards.map((one) => one.id)).not.toContain('ISO 385');
  });

  it('gives every kind when none is named', async () => {
    const { body } = await server.get('/api/reference/tolerances');
    const kinds = new Set((body as unknown as ToleranceTable).items.map((row) => row.kind));
    expect(kinds).toContain('burette');
    expect(kinds).toContain('beaker');
  });

  it('refuses a kind that does not exist, by name', async () => {
    const { status, body } = await server.get('/api/reference/tolerances?kind=teacup');
    expect(status).toBe(422);
    expect(body).toMatchObject({ type: '/problems/validation-failed', errors: [{ pointer: '#/kind' }] });
  });
});

describe('GET /api/problems', () => {
  it('lists every refusal there is, with its status', async () => {
    const { status, body } = await server.get('/api/problems');
    const items = (body as unknown as { items: { code: string; status: number }[] }).items;
    expect(status).toBe(200);
    expect(items.map((one) => one.code)).toEqual(Object.keys(PROBLEMS));
    // RFC 9110, 15.5.13: 412 Precondition Failed is what a failed If-Match gets.
    expect(items.find((one) => one.code === 'stale-edit')?.status).toBe(412);
  });
});

describe('GET /api/health', () => {
  it('says ok and the version of the package', async () => {
    const { version } = JSON.parse(readFileSync(`${root}package.json`, 'utf8')) as { version: string };
    expect(await server.get('/api/health')).toMatchObject({ status: 200, body: { status: 'ok', version } });
  });
});

describe('GET /api/openapi.json', () => {
  it('describes these routes, itself among them, and nothing outside /api', async () => {
    const { status, body } = await server.get('/api/openapi.json');
    const document = body as unknown as { openapi: string; paths: Record<string, Record<string, unknown>> };
    expect(status).toBe(200);
    expect(document.openapi).toMatch(/^3\.1/);
    const paths = Object.keys(document.paths);
    expect(paths.filter((path) => !path.startsWith('/api/'))).toEqual([]);
    for (const own of ['health', 'openapi.json', 'reference', 'reference/tolerances', 'problems'])
      expect(document.paths[`/api/${own}`]).toHaveProperty('get');
  });
});
