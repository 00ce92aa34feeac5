/** A vessel or a balance found wrong lists the solutions it touched, with the shift by hand. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { TouchedList } from '../../server/solutions/contract-record.ts';
import { expectProblem } from '../server/attempts.ts';
import { idOf, TestServer } from '../server/support.ts';
import { balance, calibrated, FLASK_100, PIPETTE_10, ROOM, solidIn } from './shelf.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(async () => server.end());

const touched = async (what: string) => (await server.get(`/api/${what}/preparations`)).body as unknown as TouchedList;
const make = async (title: string, solution: object, madeOn: string) =>
  idOf(await server.post('/api/preparations', { title, madeOn, solution }));

it('tells how a flask measured anew moves what was made in it, through a stock too', async () => {
  const flask = await server.vessel(FLASK_100);
  const pipette = await server.vessel(PIPETTE_10);
  const other = await server.vessel(FLASK_100);
  await calibrated(server, flask, '100', ['99.7180', '99.7200', '99.7220'], '2026-01-10');
  const weighing = { massG: '2.0422' };
  const strict = await make('strict', solidIn(flask, { weighing, accuracyPercent: '0.3' }), '2026-02-01');
  await make('loose', solidIn(flask, { weighing, accuracyPercent: '5' }), '2026-02-02');
  await make('unstated', solidIn(flask, { weighing }), '2026-02-03');
  const steps = [{ deliveries: [{ vesselId: pipette }], madeUpIn: { vesselId: other } }];
  await make('diluted', { way: 'dilution', stock: { preparationId: strict }, steps, ...ROOM }, '2026-02-04');
  await make('too early', solidIn(flask, { weighing }), '2026-01-09');
  expect((await touched(`vessels/${flask}`)).items.map(({ title }) => title)).toEqual([]);

  await calibrated(server, flask, '100', ['99.4180', '99.4200', '99.4220'], '2026-09-14');
  await make('after', solidIn(flask, { weighing }), '2026-09-14');
  const list = await touched(`vessels/${flask}`);
  expect(list).toMatchObject({ since: '2026-01-10', against: '2026-09-14', findings: [{ code: 'vessel-failed' }] });
  expect(list.items.map(({ title }) => title)).toEqual(['strict', 'loose', 'unstated', 'diluted']);
  // 99.720 g then and 99.420 g now in the same air: the flask holds less, so each was stronger by 0.30 %.
  for (const { shift } of list.items) expect(shift?.percent).toBeCloseTo(100 * (99.72 / 99.42 - 1), 6);
  expect(list.items.map(({ shift }) => shift?.matters)).toEqual([true, false, null, null]);

  const saved = await server.post(`/api/preparations/${strict}/decisions`, {
    vesselId: flask,
    decision: 'repeat',
    reason: 'needed to 0.3 %',
  });
  expect(saved.status).toBe(201);
  const decided = await touched(`vessels/${flask}`);
  expect(decided.items.map(({ decision }) => decision?.decision ?? null)).toEqual(['repeat', null, null, null]);
});

it('tells how a balance that shows too much moves what was weighed on it', async () => {
  const flask = await server.vessel(FLASK_100);
  const balanceId = await balance(server);
  await make(
    'weighed',
    solidIn(flask, { weighing: { massG: '2.0422' }, balanceId, accuracyPercent: '0.1' }),
    '2026-09-01',
  );
  const check = { referenceValue: '100.0000', reading: '100.1000', performedOn: '2026-09-10' };
  await server.post(`/api/instruments/${balanceId}/checks`, check);
  const list = await touched(`instruments/${balanceId}`);
  expect(list.items).toMatchObject([{ title: 'weighed', shift: { matters: true }, decision: null }]);
  // Shows 0.1 % too much: there was less in it.
  expect(list.items[0]?.shift?.percent).toBeCloseTo(100 * (100 / 100.1 - 1), 9);
});

it('knows no vessel and no instrument that are not there', async () => {
  expectProblem(await server.get('/api/vessels/zzzz/preparations'), ['not-found']);
  expectProblem(await server.get('/api/instruments/zzzz/preparations'), ['not-found']);
});
