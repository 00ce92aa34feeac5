/** What becomes of a delivery. Limits of ISO 1042:1998 at 100 mL: class A ±0.1 mL, class B ±0.2 mL. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { LotWithVessels } from '../../server/lots/contract.ts';
import { faultIn } from '../db/support.ts';
import { expectProblem } from '../server/attempts.ts';
import { idOf, TestServer, TRIAL } from '../server/support.ts';
import { delivery, ROUND, WARE, type Member } from './delivery.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(async () => server.end());

const CLASSED = { ...WARE, tolerance: { standard: 'ISO 1042', edition: '1998', class: 'A' } };

/** A delivery whose first vessels hold so many grams of water more than a good flask; the rest has no trial. */
const deliveredWith = async (moreG: readonly number[], count: number): Promise<string> => {
  const numbering = { ...(delivery()['numbering'] as object), count };
  const lot = idOf(await server.post('/api/lots', { ...delivery(), ware: CLASSED, numbering }));
  const begun = await server.post(`/api/lots/${lot}/rounds`, ROUND);
  const members = begun.body['calibrations'] as Member[];
  for (const [index, more] of moreG.entries())
    for (const g of [0, 0.004, -0.003]) {
      const filledG = (160.8371 + more + g).toFixed(4);
      await server.trial(members[index]?.calibrationId ?? '', { ...TRIAL, filledG, confirm: ['volume'] });
    }
  expect((await server.post(`/api/lots/${lot}/rounds/1/measured`, {})).status).toBe(201);
  return lot;
};
const pageOf = async (lot: string) => (await server.get(`/api/lots/${lot}`)).body as unknown as LotWithVessels;
const SEEN = { reason: 'seen at the bench' };

describe('vessels of a delivery that do not pass', () => {
  it('are decided about once for all, each with an entry of its own, those that pass left alone', async () => {
    const lot = await deliveredWith([0.02, 0.2, 0.22], 3);
    expect((await pageOf(lot)).vessels.map((vessel) => vessel.asksForDecision)).toEqual([false, true, true]);
    const body = { decision: 'downgrade', class: 'B', ...SEEN };
    const decided = await server.post(`/api/lots/${lot}/vessel-decisions`, body);
    expect(decided).toMatchObject({ status: 201, body: { vessels: [{ inUse: true }, { inUse: true }] } });
    const { vessels } = await pageOf(lot);
    expect(vessels.map(({ decision }) => decision)).toEqual([null, 'downgrade', 'downgrade']);
    expect(await server.vesselPage(vessels[1]?.id ?? '')).toMatchObject({ tolerance: { class: 'B' } });
    const { items } = (await server.get('/api/journal?act=vessel-decided')).body as { items: unknown[] };
    expect(items).toHaveLength(2);
    expectProblem(await server.post(`/api/lots/${lot}/vessel-decisions`, body), ['state-conflict']);
  });

  it('stay undecided, all of them, where one does not bear the class; the others can then be named', async () => {
    const lot = await deliveredWith([0.2, 0.5], 2);
    const body = { decision: 'downgrade', class: 'B', ...SEEN };
    const url = `/api/lots/${lot}/vessel-decisions`;
    expectProblem(await server.post(url, body), ['validation-failed', '#/class']);
    const [good, bad] = (await pageOf(lot)).vessels;
    expect([good?.decision, bad?.decision]).toEqual([null, null]);
    expect((await server.post(url, { ...body, vesselIds: [good?.id] })).status).toBe(201);
    expectProblem(await server.post(url, { ...body, vesselIds: [good?.id, bad?.id, bad?.id, 'zz'] }), [
      'validation-failed',
      '#/vesselIds/0',
      '#/vesselIds/2',
      '#/vesselIds/3',
    ]);
    expect((await server.post(url, { decision: 'retire', ...SEEN })).status).toBe(201);
    expect((await pageOf(lot)).progress).toMatchObject({ measured: 1, outOfUse: 1 });
  });
});

describe('a delivery', () => {
  it('that is accepted from a sample keeps plan and counts, and presses nobody any more', async () => {
    const lot = await deliveredWith([0.02], 2);
    const listed = async () => {
      const { lots } = (await server.get('/api/today')).body as { lots: { id: string }[] };
      return lots.some(({ id }) => id === lot);
    };
    expect(await listed()).toBe(true);
    const plan = { sampleSize: 1, acceptAtMost: 0, good: 0, limiting: 1 };
    expect((await server.post(`/api/lots/${lot}/decisions`, { decision: 'accept', plan, ...SEEN })).status).toBe(201);
    expect((await pageOf(lot)).decisions).toMatchObject([
      { number: 1, decision: 'accept', plan, counts: { vessels: 2, tested: 1, notPassing: 0, outOfUse: 0 }, ...SEEN },
    ]);
    expect(await listed()).toBe(false);
    const url = `/api/lots/${lot}/decisions`;
    const more = { decision: 'screen', ...SEEN, plan: { ...plan, sampleSize: 3 } };
    expectProblem(await server.post(url, more), ['validation-failed', '#/plan/sampleSize']);
    const turned = { decision: 'screen', ...SEEN, plan: { ...plan, good: 1 } };
    expectProblem(await server.post(url, turned), ['validation-failed', '#/plan/limiting']);
  });

  it('that goes back takes every vessel out of use: decided about, measured, at the bench, damaged', async () => {
    const lot = await deliveredWith([0.2, 0.02], 4);
    const before = await pageOf(lot);
    const findings = { chips: true, cracks: false, cleanFilm: true, dry: true };
    const damaged = before.vessels[3]?.id ?? '';
    await server.post(`/api/vessels/${damaged}/inspections`, { findings, outcome: 'damaged' });
    const sent = await server.post(`/api/lots/${lot}/decisions`, { decision: 'reject', ...SEEN });
    expect(sent.body).toEqual({ number: 1, outOfUse: before.vessels.slice(0, 3).map(({ id }) => id) });
    const { vessels, progress, decisions } = await pageOf(lot);
    expect(progress).toMatchObject({ vessels: 4, outOfUse: 4, open: 0 });
    expect(vessels.map(({ decision }) => decision)).toEqual(['send-back', null, null, null]);
    expect(decisions[0]?.counts).toEqual({ vessels: 4, tested: 2, notPassing: 1, outOfUse: 1 });
    expect((await server.get('/api/calibrations?state=open')).body['items']).toHaveLength(1);
  });

  it('leaves a journal that tells of every row', () => {
    expect(faultIn(server.logbook.file)).toBeNull();
  });
});
