/** A check weight between certificates: what it should weigh and what the balance showed, kept for good. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { TestServer } from './support.ts';

let server: TestServer;
let address = '';
beforeAll(async () => {
  server = await TestServer.start();
  const balance = { kind: 'balance', tag: 'BAL-1', resolutionG: '0.0001' };
  address = `/api/instruments/${String((await server.post('/api/instruments', balance)).body['id'])}`;
});
afterAll(async () => server.end());

it('keeps both values as typed and says how far apart they are, newest first', async () => {
  const first = await server.post(`${address}/checks`, { referenceValue: '100.0000', reading: '100.0003' });
  expect(first.body).toMatchObject({ number: 1, unit: 'g', difference: '0.0003', performedOn: '2026-09-14' });
  await server.post(`${address}/checks`, { referenceValue: '100.0000', reading: '99.9990', note: 'after moving it' });
  const { checks } = (await server.get(address)).body;
  expect(checks).toMatchObject([
    { number: 2, referenceValue: '100.0000', reading: '99.9990', difference: '-0.0010', note: 'after moving it' },
    { number: 1, reading: '100.0003' },
  ]);
});

it('refuses what is not a reading, a day to come, and an instrument nobody knows', async () => {
  const bad = await server.post(`${address}/checks`, { referenceValue: '100', reading: '1e2' });
  expect(bad.body['errors']).toMatchObject([{ pointer: '#/reading' }]);
  const early = { referenceValue: '100', reading: '100', performedOn: '2031-01-01' };
  expect((await server.post(`${address}/checks`, early)).body['errors']).toMatchObject([{ pointer: '#/performedOn' }]);
  const unknown = await server.post('/api/instruments/nobody/checks', { referenceValue: '1', reading: '1' });
  expect(unknown.status).toBe(404);
});
