/** The journal of a logbook that was filled over the wire: whole, without a gap, and damage in the file is named. */
import Database from 'better-sqlite3';
import { createHash } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { JournalEntryTable } from '../../server/db/tables.ts';
import { VERSIONS } from '../../server/metrology/versions.ts';
import { faultIn, looking } from '../db/support.ts';
import { CONDITIONS, idOf, TestServer } from '../server/support.ts';

let server: TestServer;
let calibration: string;
beforeAll(async () => {
  server = await TestServer.start();
  const vessel = await server.vessel({ tag: 'Kölbchen 3', maker: 'Стекло' });
  await server.patch(`/api/vessels/${vessel}`, 1, { serial: '12', reason: 'found on the foot' });
  const balance = { kind: 'balance', tag: 'B-1' };
  const balanceId = idOf(await server.post('/api/instruments', balance));
  await server.patch(`/api/instruments/${balanceId}`, 1, { instrument: balance, reason: 'seen again' });
  await server.patch('/api/laboratory', 1, { name: 'School', altitudeM: '120' });
  calibration = await server.calibration({ instruments: { balanceId } }, vessel);
  const url = `/api/calibrations/${calibration}`;
  const reason = 'seen on the bench';
  await Promise.all([1, 2, 3].map(() => server.trial(calibration)));
  await server.post(`${url}/trials`, { pointMl: '100' });
  await server.post(`${url}/trials/2/correction`, { field: 'emptyG', value: '61.2035', reason });
  await server.post(`${url}/trials/2/exclusion`, { cause: 'spill', reason });
  await server.post(`${url}/trials/2/inclusion`, { reason });
  await server.post(`${url}/conditions`, CONDITIONS);
  await server.patch(url, 8, { plannedTrials: 2, reason });
  await server.post(`${url}/measured`, {});
  await server.post(`${url}/reopening`, { reason });
  await server.restart();
  await server.post(`${url}/abandonment`, { reason });
});
afterAll(async () => server.end());

const rows = (): JournalEntryTable[] =>
  looking(server.logbook.file, (handle) =>
    handle.prepare<[], JournalEntryTable>('select * from journal_entry order by number').all(),
  );

it('tells every act once, in order, with who, when and the request', () => {
  expect(rows().map(({ number, act, object }) => `${number} ${act} ${object.split('/')[0] ?? ''}`)).toEqual([
    '1 vessel-registered vessel',
    '2 vessel-corrected vessel',
    '3 instrument-registered instrument',
    '4 instrument-changed instrument',
    '5 laboratory-changed laboratory',
    '6 calibration-begun calibration',
    '7 trial-recorded calibration',
    '8 trial-recorded calibration',
    '9 trial-recorded calibration',
    '10 trial-corrected calibration',
    '11 trial-excluded calibration',
    '12 trial-included-again calibration',
    '13 conditions-read calibration',
    '14 plan-changed calibration',
    '15 calibration-measured calibration',
    '16 calibration-reopened calibration',
    '17 calibration-abandoned calibration',
  ]);
  for (const row of rows()) {
    expect(row.at).toBe(server.now.toISOString());
    expect(row.actor).toBe('unnamed (before sign-in)');
    expect(row.request_id).toMatch(/^[\w-]{8,}$/);
  }
  expect(new Set(rows().map((row) => row.request_id)).size).toBe(17);
});

it('is whole', () => {
  expect(faultIn(server.logbook.file)).toBeNull();
});

it('can be checked by hand from the written format alone', () => {
  const [row] = rows() as [JournalEntryTable];
  const body = { act: row.act, actor: row.actor, at: row.at, number: 1, object: row.object, requestId: row.request_id };
  // Keys in the order of their letters: act, actor, after, at, before, number, object, requestId.
  const text =
    `{"act":${JSON.stringify(body.act)},"actor":${JSON.stringify(body.actor)},"after":${row.after},` +
    `"at":${JSON.stringify(body.at)},"before":${row.before},"number":1,` +
    `"object":${JSON.stringify(body.object)},"requestId":${JSON.stringify(body.requestId)}}`;
  expect(row.previous_hash).toBe('0'.repeat(64));
  const bytes = Buffer.concat([Buffer.of(1), Buffer.alloc(32), Buffer.from(text, 'utf8')]);
  expect(createHash('sha256').update(bytes).digest('hex')).toBe(row.hash);
});

it('holds the readings with every digit', () => {
  const trial = rows().find((row) => row.act === 'trial-recorded');
  expect(JSON.parse(trial?.after ?? '')).toEqual({
    number: 1,
    pointMl: '100',
    emptyG: '61.2034',
    filledG: '160.8371',
    waterTemperatureC: '21.3',
    formulas: `${VERSIONS.model} ${VERSIONS.waterDensity} ${VERSIONS.airDensity}`,
  });
});

it('goes on in its order when the clock is set back', async () => {
  const before = rows().length;
  server.now = new Date(server.now.getTime() - 3_600_000);
  await server.calibration();
  const [vessel, begun] = rows().slice(before);
  expect([vessel?.number, begun?.number]).toEqual([before + 1, before + 2]);
  expect(begun?.at).toBe(server.now.toISOString());
  expect(faultIn(server.logbook.file)).toBeNull();
});

describe('damage done to the file itself, with the triggers out of the way', () => {
  const damaged = (name: string, statement: string): string => {
    const copy = `${server.logbook.file}.${name}`;
    looking(server.logbook.file, (handle) => handle.prepare('vacuum into ?').run(copy));
    const handle = new Database(copy);
    handle.exec('drop trigger journal_entry_no_update; drop trigger journal_entry_no_delete;');
    handle.exec(statement);
    handle.close();
    return copy;
  };

  const rename = (from: number, to: number) => `update journal_entry set number = ${to} where number = ${from};`;
  it.each([
    ['reading', `update journal_entry set after = replace(after, '160.8371', '160.8372') where number = 8`, 8],
    ['actor', `update journal_entry set actor = 'someone' where number = 3`, 3],
    ['spaced', `update journal_entry set after = replace(after, ':', ': ') where number = 7`, 7],
    ['broken', `update journal_entry set after = substr(after, 2) where number = 11`, 11],
    ['emptied', `update journal_entry set before = '' where number = 10`, 10],
    ['hash', `update journal_entry set hash = upper(hash) where number = 5`, 5],
    ['bit', `update journal_entry set object = replace(object, 'calibration', 'calibratioo') where number = 12`, 12],
    ['dropped', 'delete from journal_entry where number = 4', 4],
    ['first', 'delete from journal_entry where number = 1', 1],
    ['swapped', `${rename(6, 100)} ${rename(7, 6)} ${rename(100, 7)}`, 6],
    [
      'closed-up',
      `delete from journal_entry where number = 9; ${rename(10, 9)} delete from journal_entry where number > 9`,
      9,
    ],
  ])('%s', (name, statement, number) => {
    expect(faultIn(damaged(name, statement))?.number).toBe(number);
  });
});
