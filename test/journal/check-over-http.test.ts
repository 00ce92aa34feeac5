/** The whole journal checked on demand, and what every page is told of a journal that is not whole. */
import Database from 'better-sqlite3';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { TestServer } from '../server/support.ts';

let server: TestServer;
beforeEach(async () => {
  server = await TestServer.start();
});
afterEach(() => server.end());

const checked = async (): Promise<Record<string, unknown>> => {
  const started = await server.post('/api/journal/check');
  expect(started).toMatchObject({ status: 202, body: { state: 'running' } });
  for (;;) {
    const { body } = await server.get('/api/journal/check');
    if (body['state'] === 'finished') return body;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
};

it('finds a whole journal whole, up to its head', async () => {
  expect((await server.get('/api/journal/check')).body).toEqual({ state: 'idle' });
  await server.trial(await server.calibration());
  const { number, hash } = (await server.get('/api/journal/head')).body;
  expect(await checked()).toEqual({
    state: 'finished',
    at: '2026-09-14T08:30:00.000Z',
    fault: null,
    entries: number,
    head: { number, hash },
  });
  expect((await server.get('/api/laboratory')).body).toMatchObject({ journalFault: null });
});

it('names the entry of a row that was changed behind its back, and tells every page', async () => {
  await server.trial(await server.calibration());
  const told = (await server.get('/api/journal/head')).body['number'];
  const handle = new Database(server.logbook.file);
  const triggers = handle
    .prepare<[], string>("select name from sqlite_master where type = 'trigger' and tbl_name = 'trial'")
    .pluck()
    .all();
  for (const name of triggers) handle.exec(`drop trigger "${name}"`);
  handle.exec("update trial set filled_g = '160.8372'");
  handle.close();
  const { fault } = await checked();
  expect(fault).toMatchObject({ number: told, fault: expect.stringMatching(/\S/) as string });
  expect((await server.get('/api/laboratory')).body['journalFault']).toEqual(fault);
});
