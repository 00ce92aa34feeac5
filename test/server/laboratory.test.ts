/** Settings of the laboratory, and rows of the tolerance table that a keeper has seen in the standard. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { expectProblem } from './attempts.ts';
import { CALIBRATION, FLASK, TestServer } from './support.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(async () => server.end());

const version = async (): Promise<number> => Number((await server.get('/api/laboratory')).body['version']);

it('gives the standard atmosphere of its altitude', async () => {
  // ISO 2533:1975, table 5: 954.61 hPa at 500 m.
  const reply = await server.patch('/api/laboratory', await version(), { altitudeM: '500' });
  expect(Number(reply.body['standardPressureHpa'])).toBeCloseTo(954.61, 2);
});

it('is changed by one person at a time', async () => {
  const present = await version();
  expect((await server.patch('/api/laboratory', present, { name: 'Room 3' })).status).toBe(200);
  const late = await server.patch('/api/laboratory', present, { name: 'Room 4' });
  expect(late.status).toBe(412);
  expect(late.body['current']).toMatchObject({ name: 'Room 3', version: present + 1 });
});

it.each([
  // ISO 3166-1: GB and NZ stand for countries; XX and ZZ are left to users, UK is no code of it.
  [' nz', 200, 'NZ'],
  ['GB', 200, 'GB'],
  [null, 200, null],
  ['XX', 422, undefined],
  ['ZZ', 422, undefined],
  ['UK', 422, undefined],
  ['New Zealand', 422, undefined],
])('takes %j for its country: %i', async (countryCode, status, kept) => {
  const reply = await server.patch('/api/laboratory', await version(), { countryCode });
  expect(reply.status).toBe(status);
  expect(reply.body['countryCode']).toBe(kept);
  if (status === 422) expect(reply.body['errors']).toMatchObject([{ pointer: '#/countryCode' }]);
});

it('gives a calibration what it does not say, and the calibration keeps it', async () => {
  const defaults = { decisionRule: 'simple', coverageProbability: '0.95', repeatability: 'pooled' };
  await server.patch('/api/laboratory', await version(), { defaults });
  const vessel = (await server.post('/api/vessels', { ...FLASK, tag: 'LB-1' })).body['id'] as string;
  const id = (await server.post(`/api/vessels/${vessel}/calibrations`, CALIBRATION)).body['id'] as string;
  await server.patch('/api/laboratory', await version(), { defaults: { decisionRule: 'guarded' } });
  const kept = (await server.get(`/api/calibrations/${id}`)).body;
  expect(kept).toMatchObject({ decisionRule: 'simple', repeatability: { use: 'pooled' } });
  expect(kept['points']).toMatchObject([{ coverageProbability: '0.95' }]);
});

it('lets an overdue certificate block, where it says so', async () => {
  const overdue = { kind: 'balance', tag: 'BAL-9', resolutionG: '0.0001', dueOn: '2026-01-31' };
  const balanceId = (await server.post('/api/instruments', overdue)).body['id'] as string;
  const vessel = (await server.post('/api/vessels', { ...FLASK, tag: 'LB-2' })).body['id'] as string;
  const body = { ...CALIBRATION, instruments: { balanceId } };
  const begin = async () => server.post(`/api/vessels/${vessel}/calibrations`, body);
  expect((await begin()).status).toBe(201);
  await server.patch('/api/laboratory', await version(), { defaults: { overdueBlocks: true } });
  const refused = await begin();
  expect(refused.status).toBe(422);
  expect(refused.body['errors']).toMatchObject([{ pointer: '#/instruments/balanceId' }]);
});

it('keeps who saw a tolerance in the standard, where and when', async () => {
  const row = { standard: 'ISO 1042', edition: '1998', kind: 'volumetric-flask', class: 'A', nominalVolumeMl: '100' };
  const reply = await server.post('/api/tolerances/confirmations', { ...row, whereSeen: 'table 1' });
  expect(reply.status).toBe(201);
  const { items } = (await server.get('/api/tolerances/confirmations')).body;
  expect(items).toEqual([reply.body]);
  expect(reply.body).toMatchObject({ limit: '0.1 mL', whereSeen: 'table 1', at: server.now.toISOString() });
  const sameMoment = await server.post('/api/tolerances/confirmations', { ...row, whereSeen: 'table 2' });
  expectProblem(sameMoment, ['state-conflict']);
  expect((await server.get('/api/tolerances/confirmations')).body['items']).toEqual([reply.body]);
  const unknown = await server.post('/api/tolerances/confirmations', { ...row, class: 'C', whereSeen: 'table 1' });
  expect(unknown.status).toBe(422);
});
