/** A solution that was made: kept as it was, on the shelf until it ends, told of in the journal. */
import { createHash } from 'node:crypto';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { Preparation } from '../../server/solutions/contract-record.ts';
import { checkJournal } from '../../server/journal/verify.ts';
import { connect } from '../../server/db/connection.ts';
import { expectProblem } from '../server/attempts.ts';
import { idOf, TestServer } from '../server/support.ts';
import { balance, BURETTE_25, calibrated, evaluated, FLASK_100, KHP, PIPETTE_10, ROOM, solidIn } from './shelf.ts';

let server: TestServer;
let flask = '';
let pipette = '';
let balanceId = '';
let calibration = '';
beforeAll(async () => {
  server = await TestServer.start();
  flask = await server.vessel(FLASK_100);
  pipette = await server.vessel(PIPETTE_10);
  calibration = await calibrated(server, flask, '100', ['99.6612', '99.6580', '99.6634']);
  balanceId = await balance(server);
});
afterAll(async () => server.end());

const solution = () =>
  solidIn(flask, { weighing: { massG: '2.0422' }, balanceId, buoyancy: 'off', accuracyPercent: '0.3' });
const made = async (more: object = {}) =>
  idOf(await server.post('/api/preparations', { title: 'Phthalate 0.1 mol/L', solution: solution(), ...more }));
const page = async (id: string) => (await server.get(`/api/preparations/${id}`)).body as unknown as Preparation;

it('keeps what was typed, what came out, and what was used', async () => {
  const id = await made({ lots: 'K-17', expiresOn: '2026-12-31', hazardLine: 'none known' });
  const kept = await page(id);
  expect(kept).toMatchObject({
    number: 'S-0001',
    way: 'solid',
    madeOn: '2026-09-14',
    expired: false,
    end: null,
    lots: 'K-17',
    accuracyPercent: '0.3',
    solution: { ...solution(), substance: KHP },
    instruments: [{ instrumentId: balanceId, version: 1, use: 'balance' }],
    decisions: [],
  });
  expect(kept.result.vessels).toMatchObject([{ vesselId: flask, calibrationId: calibration, use: 'made-up' }]);
  const again = await evaluated(server, kept.solution);
  expect(again.value).toBe(kept.value);
  // 2.0422 g of phthalate, 204.22 g/mol (handbook), in what this flask holds.
  const litres = (kept.result.vessels[0]?.volumeMl ?? 0) / 1000;
  expect(kept.value).toBeCloseTo(2.0422 / 204.22 / litres, 5);
});

it('is on the shelf until it is used up or discarded, once', async () => {
  const id = await made({ title: 'Short lived' });
  const listed = async (query: string) =>
    ((await server.get(`/api/preparations?${query}`)).body['items'] as { id: string }[]).map((one) => one.id);
  expect(await listed('search=short')).toEqual([id]);
  const ended = await server.post(`/api/preparations/${id}/end`, { ending: 'discarded', reason: 'turned cloudy' });
  expect(ended).toMatchObject({ status: 201, body: { end: { ending: 'discarded', reason: 'turned cloudy' } } });
  expect(await listed('search=short')).toEqual([]);
  expect(await listed('search=short&shelf=all')).toEqual([id]);
  const twice = await server.post(`/api/preparations/${id}/end`, { ending: 'used-up', reason: 'by mistake' });
  expectProblem(twice, ['state-conflict']);
});

it('pages through the list', async () => {
  const first = (await server.get('/api/preparations?shelf=all&limit=1')).body;
  const next = String(first['next']);
  const second = (await server.get(`/api/preparations?shelf=all&limit=50&cursor=${next}`)).body;
  const ids = [first, second].flatMap((one) => one['items'] as { id: string }[]).map(({ id }) => id);
  expect(new Set(ids).size).toBe(ids.length);
  expect(ids.length).toBeGreaterThanOrEqual(2);
});

it('refuses a plan alone, a day to come, and what expires before it is made', async () => {
  const body = { title: 'Plan', solution: solidIn(flask) };
  expectProblem(await server.post('/api/preparations', body), ['validation-failed', '#/solution/weighing']);
  const late = { title: 'Late', madeOn: '2027-01-01', expiresOn: '2026-01-01', solution: solution() };
  expectProblem(await server.post('/api/preparations', late), ['validation-failed', '#/madeOn', '#/expiresOn']);
  const unknown = { title: 'x', solution: { ...solution(), madeUp: { by: 'volume', vesselId: 'zzzz', ...ROOM } } };
  expectProblem(await server.post('/api/preparations', unknown), ['validation-failed', '#/solution/madeUp/vesselId']);
});

it('as a stock brings its own influences along: the same flask acts once', async () => {
  const stock = await page(await made({ title: 'Stock' }));
  const steps = [{ deliveries: [{ vesselId: pipette }], madeUpIn: { vesselId: flask } }];
  const body = { way: 'dilution', stock: { preparationId: stock.id }, steps, ...ROOM };
  const result = await evaluated(server, body);
  expect(result.value / stock.value).toBeCloseTo(10 / (result.vessels[1]?.volumeMl ?? 0), 9);
  const ofFlask = result.budget.filter(({ key }) => key === `vessel:${flask}@${calibration}:calibration`);
  const inStock = stock.result.budget.find(({ key }) => key === `vessel:${flask}@${calibration}:calibration`);
  expect(ofFlask).toHaveLength(1);
  // Stock and dilution are made in one flask: its relative error counts twice, added and not in quadrature.
  const relative = (ofFlask[0]?.contribution ?? 0) / result.value;
  expect(relative / ((inStock?.contribution ?? 1) / stock.value)).toBeCloseTo(2, 6);
  const id = idOf(await server.post('/api/preparations', { title: 'Tenth', solution: body }));
  const kept = await page(id);
  expect(kept.vesselsInStock).toMatchObject([{ vesselId: flask, calibrationId: calibration }]);
  expect(kept.instruments).toMatchObject([{ instrumentId: balanceId, use: 'in-stock' }]);
});

it('standardises a titrant against a solution of the record', async () => {
  const stock = await page(await made({ title: 'Standard' }));
  const burette = await server.vessel(BURETTE_25);
  const titration = { pipette: { vesselId: pipette }, buretteFromMl: '0', buretteToMl: '10' };
  const result = await evaluated(server, {
    way: 'standardisation',
    titrant: { name: 'sodium hydroxide' },
    standard: { preparationId: stock.id },
    titrations: [titration, titration, titration],
    buretteId: burette,
    ...ROOM,
  });
  // 10 mL against 10 mL.
  expect(result.value).toBeCloseTo(stock.value, 6);
  expect(result.explanation.value).toBeCloseTo(result.value, 12);
});

it('is decided about, with the calibration that was the newest then', async () => {
  const id = await made({ title: 'Decided' });
  const url = `/api/preparations/${id}/decisions`;
  const reason = 'the shift is small';
  const saved = await server.post(url, { vesselId: flask, decision: 'stands', reason });
  expect(saved).toMatchObject({ status: 201, body: { number: 1 } });
  expectProblem(await server.post(url, { decision: 'stands', reason }), ['validation-failed', '#/vesselId']);
  expectProblem(await server.post(url, { instrumentId: 'zzzz', decision: 'repeat', reason }), [
    'validation-failed',
    '#/instrumentId',
  ]);
  expect((await page(id)).decisions).toMatchObject([
    { vesselId: flask, calibrationId: calibration, decision: 'stands' },
  ]);
});

it('stands in the journal with the hash of its result, and a changed result is found', () => {
  const handle = connect(server.logbook.file, { readOnly: false });
  try {
    expect(checkJournal(handle).fault).toBeNull();
    const row = handle.prepare('select id, result, result_hash from preparation limit 1').get() as {
      id: string;
      result: string;
      result_hash: string;
    };
    expect(createHash('sha256').update(row.result).digest('hex')).toBe(row.result_hash);
    handle.exec('drop trigger preparation_no_update');
    handle.prepare('update preparation set result = ? where id = ?').run(row.result.replace('mol/L', 'mol/m'), row.id);
    expect(checkJournal(handle).fault?.fault).toMatch(/result of preparation S-\d+ was changed/);
  } finally {
    handle.close();
  }
});
