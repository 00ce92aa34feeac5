/** Pages of a large register stay quick: no list reads every trial, or every entry of the journal. */
import Database from 'better-sqlite3';
import path from 'node:path';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { connect } from '../../server/db/connection.ts';
import { CALIBRATION, FLASK, freshTag, idOf, TestServer, TRIAL } from '../server/support.ts';

let server: TestServer;
let vesselId = '';
beforeAll(async () => {
  server = await TestServer.start();
  vesselId = await server.vessel({ ...FLASK, tag: freshTag() });
  const begun = await server.post(`/api/vessels/${vesselId}/calibrations`, CALIBRATION);
  for (let trial = 0; trial < 3; trial += 1) await server.post(`/api/calibrations/${idOf(begun)}/trials`, TRIAL);
});
afterAll(async () => server.end());

/** Tables that grow with every weighing. */
const GROWS = /^SCAN (?:trial|trial_correction|trial_exclusion|journal_entry)\b/;

/** What pages ask of the database, each statement once: those prepared before are not prepared again. */
const askedBy = async (addresses: readonly string[]): Promise<Set<string>> => {
  const spy = vi.spyOn(Database.prototype, 'prepare');
  try {
    for (const address of addresses) expect((await server.get(address)).status, address).toBe(200);
    return new Set(spy.mock.calls.map(([sql]) => sql));
  } finally {
    spy.mockRestore();
  }
};

const planOf = (handle: Database.Database, sql: string): string[] => {
  const explained = handle.prepare<unknown[], { detail: string }>(`explain query plan ${sql}`);
  const values = Array.from({ length: sql.split('?').length - 1 }, () => null);
  return explained.all(...values).map(({ detail }) => detail);
};

it('reads no table of weighings from end to end for history, drift, search, plan, deliveries, or a choice', async () => {
  const addresses = [
    `/api/vessels/${vesselId}`,
    `/api/vessels/${vesselId}/over-time`,
    '/api/vessels?search=F',
    '/api/vessels?dueBy=2030-01-01',
    '/api/today',
    '/api/lots',
    '/api/solutions/choice?job=make-up&volumeMl=100',
  ];
  const handle = connect(path.join(server.folder, 'tarebook.db'), { readOnly: true });
  try {
    const statements = await askedBy(addresses);
    const selects = [...statements].filter((sql) => /^\s*(?:select|with)\b/i.test(sql));
    expect(selects.length).toBeGreaterThan(addresses.length);
    for (const sql of selects)
      for (const step of planOf(handle, sql)) expect(GROWS.test(step), `${step}\n${sql}`).toBe(false);
  } finally {
    handle.close();
  }
});
