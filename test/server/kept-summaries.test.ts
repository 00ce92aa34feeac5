/** Summaries that are kept are those that computing them anew would give, whatever happened in between. */
import { cpSync, mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { keptSummariesOf } from '../../server/calibrations/kept-summaries.ts';
import { summariesOf } from '../../server/calibrations/view-strip.ts';
import { TestServer, TRIAL } from './support.ts';

const REASON = { reason: 'for the test' };
const servers: TestServer[] = [];
afterAll(async () => {
  for (const server of servers) await server.end();
});

const started = async (folder?: string): Promise<TestServer> => {
  const server = await (folder === undefined ? TestServer.start() : TestServer.on(folder));
  servers.push(server);
  return server;
};

/** @returns the summary, asked for twice so that the second answer is a kept one wherever one may be kept */
const expectSame = (server: TestServer, id: string) =>
  server.logbook.read(async (db) => {
    await keptSummariesOf(db, [id]);
    const kept = (await keptSummariesOf(db, [id])).get(id);
    expect(kept).toEqual((await summariesOf(db, [id])).get(id));
    return kept;
  });

it('are computed again after every act on the calibration or its vessel', async () => {
  const server = await started();
  const vessel = await server.vessel();
  const id = await server.calibration({ plannedTrials: 2 }, vessel);
  const url = `/api/calibrations/${id}`;
  const states: unknown[] = [];
  const acts: [path: string, body: object][] = [
    [`${url}/trials`, TRIAL],
    [`${url}/trials`, { ...TRIAL, filledG: '160.9102' }],
    [`${url}/measured`, {}],
    [`${url}/reopening`, REASON],
    [`${url}/trials/2/exclusion`, { cause: 'spill', ...REASON }],
    [`${url}/measured`, REASON],
    [`${url}/abandonment`, REASON],
  ];
  for (const [address, body] of acts) {
    expect((await server.post(address, body)).status).toBe(201);
    const summary = await expectSame(server, id);
    states.push([summary?.state, summary?.points[0]?.n]);
  }
  expect(states).toEqual([
    ['open', 1],
    ['open', 2],
    ['measured', 2],
    ['open', 2],
    ['open', 1],
    ['measured', 1],
    ['abandoned', 1],
  ]);
  expect((await server.patch(`/api/vessels/${vessel}`, 1, { serial: '7', ...REASON })).status).toBe(200);
  await expectSame(server, id);
});

it('of a copy that went its own way are not those of the other logbook', async () => {
  const one = await started();
  const id = await one.calibration({ plannedTrials: 1 });
  await one.post(`/api/calibrations/${id}/trials`, TRIAL);
  await one.close();
  const folder = mkdtempSync(path.join(tmpdir(), 'tarebook-copy-'));
  cpSync(one.folder, folder, { recursive: true });
  await one.open();
  const other = await started(folder);
  await one.post(`/api/calibrations/${id}/trials`, { ...TRIAL, filledG: '160.8000' });
  await other.post(`/api/calibrations/${id}/trials`, { ...TRIAL, filledG: '160.9000' });
  for (const server of [one, other])
    expect((await server.post(`/api/calibrations/${id}/measured`, REASON)).status).toBe(201);
  const means = [await expectSame(one, id), await expectSame(other, id)].map((summary) => summary?.points[0]?.meanMl);
  expect(new Set(means).size).toBe(2);
});
