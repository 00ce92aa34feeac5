/** A full disk: refused by its name, nothing half written, and work goes on once there is room. */
import { afterEach, beforeEach, expect, it } from 'vitest';
import { Writer } from '../../server/db/write.ts';
import { connect, queryBuilder, type Handle } from '../../server/db/connection.ts';
import { buildApp, type App } from '../../server/app.ts';
import { checkMoment } from '../../server/journal/verify.ts';
import { CALIBRATION, freshKey, TestServer, TRIAL } from '../server/support.ts';

let server: TestServer;
let handle: Handle;
let app: App;
beforeEach(async () => {
  server = await TestServer.start();
  handle = connect(server.logbook.file, { readOnly: false });
  const writer = new Writer(queryBuilder(handle), handle, () => server.now);
  const logbook = { ...server.logbook, write: writer.submit.bind(writer) };
  app = await buildApp({ logbook, pagesFolder: null, clock: () => server.now });
});
afterEach(async () => {
  await app.close();
  handle.close();
  await server.end();
});

const save = (calibration: string) =>
  app.inject({
    method: 'POST',
    url: `/api/calibrations/${calibration}/trials`,
    headers: { 'idempotency-key': freshKey() },
    payload: { ...TRIAL, note: 'long '.repeat(200) },
  });
const counts = () =>
  handle
    .prepare('select (select count(*) from trial) as trials, (select max(number) from journal_entry) as entries')
    .get();

it('answers 507, keeps what was acknowledged, and saves again when there is room', async () => {
  const calibration = await server.calibration({ ...CALIBRATION, plannedTrials: 1000 });
  const pages = Number(handle.pragma('page_count', { simple: true }));
  handle.pragma(`max_page_count = ${pages + 4}`);
  let saved = 0;
  let reply = await save(calibration);
  for (; reply.statusCode === 201; reply = await save(calibration)) saved += 1;
  expect(saved).toBeGreaterThan(0);
  expect({ status: reply.statusCode, type: reply.json<{ type: string }>().type }).toEqual({
    status: 507,
    type: '/problems/storage-full',
  });
  const before = counts();
  expect(before).toMatchObject({ trials: saved });
  expect((await save(calibration)).statusCode).toBe(507);
  expect(counts()).toEqual(before);
  expect(checkMoment(handle).fault).toBeNull();
  expect(handle.pragma('integrity_check', { simple: true })).toBe('ok');
  handle.pragma('max_page_count = 1000000');
  expect((await save(calibration)).json<{ number: number }>().number).toBe(saved + 1);
  expect(checkMoment(handle).fault).toBeNull();
});
