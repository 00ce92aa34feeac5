/** An export fetched over HTTP: whole, counted beforehand, narrowed, and not in the way of those who weigh. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { expectProblem } from '../server/attempts.ts';
import { CALIBRATION, FLASK, idOf, TestServer } from '../server/support.ts';
import { unzipped } from './support.ts';

let server: TestServer;
let calibration: string;
beforeAll(async () => {
  server = await TestServer.start();
  const vessel = idOf(await server.post('/api/vessels', { ...FLASK, tag: 'F-1' }));
  calibration = idOf(await server.post(`/api/vessels/${vessel}/calibrations`, { ...CALIBRATION, plannedTrials: 1000 }));
  for (let trial = 0; trial < 5; trial += 1) await server.trial(calibration);
  await server.trial(await server.calibration());
});
afterAll(() => server.end());

const fetched = async (query: string) => {
  const reply = await server.app.inject({ method: 'GET', url: `/api/export${query}` });
  return { reply, files: await unzipped(reply.rawPayload) };
};
const linesOf = (content: Buffer | undefined): number => (content?.toString('utf8').match(/\n/g) ?? []).length;

it('sends one zip, with as many rows as its plan said, and tells when it is whole', async () => {
  const plan = (await server.get('/api/export/plan')).body as {
    tables: { name: string; rows: number }[];
    journalEntries: number;
    head: object;
  };
  expect((await server.get('/api/export/progress/token-one')).body).toEqual({
    done: 0,
    total: 0,
    state: 'waiting',
    head: null,
  });
  const { reply, files } = await fetched('?watch=token-one');
  expect(reply.headers).toMatchObject({
    'content-type': 'application/zip',
    'content-disposition': 'attachment; filename="tarebook-2026-09-14T08-30-00-000Z.zip"',
  });
  for (const { name, rows } of plan.tables) {
    const content = files.get(`tables/${name}.csv`)?.toString('utf8') ?? '';
    expect({ name, isThere: content.length > 0 }).toEqual({ name, isThere: true });
    if (!content.includes('"')) expect({ name, rows: linesOf(Buffer.from(content)) - 1 }).toEqual({ name, rows });
  }
  expect(plan.tables.find(({ name }) => name === 'trial')?.rows).toBe(6);
  expect(linesOf(files.get('journal.jsonl'))).toBe(plan.journalEntries);
  expect(linesOf(files.get('volumes.csv'))).toBe(1 + 6);
  expect(linesOf(files.get('results.csv'))).toBe(1 + 2);
  const progress = (await server.get('/api/export/progress/token-one')).body;
  expect(progress).toMatchObject({ state: 'finished', head: plan.head });
  expect(progress['done']).toBe(progress['total']);
});

it('holds one vessel where one is asked for, and refuses a tag nobody knows', async () => {
  const { files } = await fetched('?vessel=F-1&certificates=false');
  expect(linesOf(files.get('volumes.csv'))).toBe(1 + 5);
  for (const path of ['/api/export', '/api/export/plan'])
    expectProblem(await server.get(`${path}?vessel=F-unknown`), ['validation-failed', '#/vessel']);
  expectProblem(await server.get('/api/export/plan?lot=unknown'), ['validation-failed', '#/lot']);
  expectProblem(await server.get('/api/export?from=today'), ['validation-failed', '#/from']);
  expectProblem(await server.get('/api/export?certificates=perhaps'), ['validation-failed', '#/certificates']);
});

it('does not hold up trials that are saved meanwhile, and holds none of them', async () => {
  const before = ((await server.get('/api/journal/head')).body as { number: number }).number;
  const [{ files }, ...numbers] = await Promise.all([
    fetched(''),
    ...Array.from({ length: 50 }, () => server.trial(calibration)),
  ]);
  expect(new Set(numbers).size).toBe(50);
  const entries = linesOf(files.get('journal.jsonl'));
  const trials = linesOf(files.get('volumes.csv')) - 1;
  // Each trial is one entry: both are of the same moment, whenever it was.
  expect(trials - 6).toBe(entries - before);
});
