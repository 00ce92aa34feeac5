/** What becomes of a vessel that does not pass. Limits of ISO 1042:1998 at 100 mL: class A ±0.1 mL, class B ±0.2 mL. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { faultIn } from '../db/support.ts';
import { expectProblem } from './attempts.ts';
import { FLASK, freshTag, idOf, TestServer } from './support.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(() => server.end());

const CLASSED = { ...FLASK, tolerance: { standard: 'ISO 1042', edition: '1998', class: 'A' } };

/** A measured flask that is so many grams of water heavier than 99.6337 g, which is 99.94 mL at 21.3 °C. */
const weighed = async (moreG: number, vessel: object = CLASSED) => {
  const vesselId = idOf(await server.post('/api/vessels', { ...vessel, tag: freshTag() }));
  const conditions = { airTemperatureC: '21.0', airPressureHpa: '1005', relativeHumidityPercent: '50' };
  const plan = { points: ['100'], plannedTrials: 3, conditions };
  const id = idOf(await server.post(`/api/vessels/${vesselId}/calibrations`, plan));
  for (const g of [0, 0.004, -0.003]) {
    const filledG = (160.8371 + moreG + g).toFixed(4);
    const trial = { pointMl: '100', emptyG: '61.2034', filledG, waterTemperatureC: '21.3' };
    expect((await server.post(`/api/calibrations/${id}/trials`, { ...trial, confirm: ['volume'] })).status).toBe(201);
  }
  expect((await server.post(`/api/calibrations/${id}/measured`, {})).status).toBe(201);
  return { vesselId, calibrationId: id };
};
const decide = ({ vesselId, calibrationId }: { vesselId: string; calibrationId: string }, body: object) =>
  server.post(`/api/vessels/${vesselId}/decisions`, { calibrationId, reason: 'seen at the bench', ...body });
const vesselOf = async (id: string) => (await server.get(`/api/vessels/${id}`)).body;

describe('a vessel that does not pass', () => {
  it('is taken down to the class that it passes, and its result stands as it was judged', async () => {
    const flask = await weighed(0.2);
    expect(await decide(flask, { decision: 'downgrade', class: 'B' })).toMatchObject({ status: 201 });
    const vessel = await vesselOf(flask.vesselId);
    expect(vessel).toMatchObject({ inUse: true, toleranceMl: 0.2, tolerance: { class: 'B', standard: 'ISO 1042' } });
    expect(vessel['decisions']).toMatchObject([{ decision: 'downgrade', fromClass: 'A', toClass: 'B' }]);
    expect((vessel['calibrations'] as unknown[])[0]).toMatchObject({ verdict: 'fail' });
  });

  it('is not taken down to a class that it does not pass either, or that is no wider', async () => {
    const flask = await weighed(0.4);
    expectProblem(await decide(flask, { decision: 'downgrade', class: 'B' }), ['validation-failed', '#/class']);
    expectProblem(await decide(flask, { decision: 'downgrade', class: 'A' }), ['validation-failed', '#/class']);
    expectProblem(await decide(flask, { decision: 'downgrade' }), ['validation-failed', '#/class']);
    const marked = await weighed(0.2, { ...FLASK, tolerance: { markedMl: '0.1' } });
    expectProblem(await decide(marked, { decision: 'downgrade', class: 'B' }), ['validation-failed', '#/class']);
  });

  it('is taken out of use or sent back, or kept all the same', async () => {
    for (const [decision, inUse] of [
      ['retire', false],
      ['send-back', false],
      ['keep', true],
    ] as const) {
      const flask = await weighed(0.4);
      expect(await decide(flask, { decision })).toMatchObject({ status: 201, body: { number: 1, inUse } });
      expect((await vesselOf(flask.vesselId))['inUse']).toBe(inUse);
    }
  });

  it('is the only one there is something to decide about', async () => {
    expectProblem(await decide(await weighed(0.05), { decision: 'retire' }), ['state-conflict']);
    const [one, other] = [await weighed(0.4), await weighed(0.4)];
    const mixed = { vesselId: one.vesselId, calibrationId: other.calibrationId };
    expectProblem(await decide(mixed, { decision: 'retire' }), ['validation-failed', '#/calibrationId']);
  });

  it('leaves a journal that tells of every row', () => {
    expect(faultIn(server.logbook.file)).toBeNull();
  });
});
