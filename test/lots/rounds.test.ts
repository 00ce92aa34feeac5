/** A round: one calibration a vessel in one write, its air, its looks at the balance, its pooled spread, its end. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Round } from '../../server/lots/contract-round.ts';
import type { LotWithVessels } from '../../server/lots/contract.ts';
import { faultIn } from '../db/support.ts';
import { expectProblem } from '../server/attempts.ts';
import { CONDITIONS, idOf, TestServer, TRIAL } from '../server/support.ts';
import { begunLot, delivery, filledG, ROUND, weighedLot, type Member } from './delivery.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(async () => server.end());

const roundPage = async (lot: string, number = 1): Promise<Round> =>
  (await server.get(`/api/lots/${lot}/rounds/${number}`)).body as unknown as Round;

describe('a round', () => {
  it('begins a calibration of every vessel that is free, and a second one finds none', async () => {
    const { lot, members } = await begunLot(server, 30);
    expect(members).toHaveLength(30);
    const page = await roundPage(lot);
    expect(page).toMatchObject({ plannedPoints: ['100'], plannedTrials: 3, wayOfWorking: 'empties-first' });
    expect(page.rows.map(({ state }) => state)).toEqual(members.map(() => 'open'));
    expectProblem(await server.post(`/api/lots/${lot}/rounds`, ROUND), ['state-conflict']);
    const named = await server.post(`/api/lots/${lot}/rounds`, { ...ROUND, vesselIds: [members[0]?.vesselId, 'zz'] });
    expectProblem(named, ['validation-failed', '#/vesselIds/0', '#/vesselIds/1']);
    expect(faultIn(server.logbook.file)).toBeNull();
  });

  it('refuses the whole of itself where one thing of its set-up is wrong', async () => {
    const lot = idOf(await server.post('/api/lots', delivery()));
    const body = { ...ROUND, instruments: { balanceId: 'none' } };
    expectProblem(await server.post(`/api/lots/${lot}/rounds`, body), ['validation-failed', '#/instruments/balanceId']);
    const low = { ...ROUND, conditions: { ...CONDITIONS, airPressureHpa: '760' } };
    expectProblem(await server.post(`/api/lots/${lot}/rounds`, low), ['please-confirm', '#/conditions/airPressureHpa']);
    expect((await server.get(`/api/lots/${lot}/rounds/1`)).status).toBe(404);
  });

  it('shows each trial in short, a carried temperature as carried, and the spread of all vessels together', async () => {
    const { lot, members } = await begunLot(server, 2);
    const sds: number[] = [];
    for (const [vessel, { calibrationId }] of members.entries()) {
      for (const trial of [0, 1, 2])
        await server.trial(calibrationId, {
          ...TRIAL,
          filledG: filledG(vessel, trial),
          ...(trial === 0 ? {} : { waterTemperatureSource: 'carried' }),
        });
      sds.push((await server.calibrationPage(calibrationId)).points[0]?.sdMl ?? 0);
    }
    const { rows, pooled } = await roundPage(lot);
    expect(rows[0]?.trials.map(({ waterTemperatureSource }) => waterTemperatureSource)).toEqual([
      null,
      'carried',
      'carried',
    ]);
    // Two samples of the same size: the pooled variance is the mean of the variances (any handbook of statistics).
    const [first = 0, second = 0] = sds;
    expect(pooled?.sdMl).toBeCloseTo(Math.sqrt((first ** 2 + second ** 2) / 2), 12);
    expect(pooled).toMatchObject({ degreesOfFreedom: 4, vessels: 2 });
    expect(faultIn(server.logbook.file)).toBeNull();
  });

  it('pools each vessel over the others of the lot, and keeps what it took when it leaves the bench', async () => {
    const { lot, members } = await weighedLot(server, 7, { repeatability: 'pooled' });
    const { rows } = await roundPage(lot);
    const spreads = rows.map((row) => row.summary.points[0]?.sdMl ?? 0);
    const others = spreads.slice(1).reduce((sum, sd) => sum + 2 * sd ** 2, 0);
    expect(rows[0]?.pool?.degreesOfFreedom).toBe(12);
    expect(rows[0]?.pool?.sdMl).toBeCloseTo(Math.sqrt(others / 12), 12);
    const calibrationId = members[0]?.calibrationId ?? '';
    const before = await server.calibrationPage(calibrationId);
    expect(before.points[0]?.repeatability).toMatchObject({ kind: 'pooled', degreesOfFreedom: 12 });
    const moved = await server.post(`/api/lots/${lot}/rounds/1/measured`, {});
    expect(moved.body['calibrations']).toHaveLength(7);
    const kept = await server.calibrationPage(calibrationId);
    expect(kept.points[0]?.expandedUncertaintyMl).toBe(before.points[0]?.expandedUncertaintyMl);
    expect(kept.pool?.from).toHaveLength(6);
    // What was chosen stays beside what it came to, so that a paper does not speak of earlier calibrations.
    expect(kept.repeatability).toMatchObject({ use: 'pooled', over: 'lot', degreesOfFreedom: 12 });
    expect(faultIn(server.logbook.file)).toBeNull();
  });

  it('opens a calibration whose lot was too small to pool over, and says so', async () => {
    const { lot, members } = await weighedLot(server, 3, { repeatability: 'pooled' });
    expect((await server.post(`/api/lots/${lot}/rounds/1/measured`, {})).status).toBe(201);
    const kept = await server.calibrationPage(members[0]?.calibrationId ?? '');
    // Two others of three trials each: 2 · (3 − 1) degrees of freedom, where ten are needed.
    expect(kept.repeatability).toMatchObject({ use: 'pooled', over: 'lot', degreesOfFreedom: 4 });
    expect(kept.points[0]?.repeatability?.kind).not.toBe('pooled');
    expect(kept.points[0]?.findings.map(({ code }) => code)).toContain('pooled-too-few');
  });

  it('cannot pool over a lot a vessel does not belong to', async () => {
    const vessel = await server.vessel();
    const body = { points: ['100'], plannedTrials: 3, repeatability: { use: 'pooled', over: 'lot' } };
    const reply = await server.post(`/api/vessels/${vessel}/calibrations`, body);
    expectProblem(reply, ['validation-failed', '#/repeatability/over']);
  });

  it('reads the air again for all that are open, and lets go only those with their planned trials', async () => {
    const { lot, members } = await begunLot(server, 2);
    const [first, second] = members as [Member, Member];
    for (let trial = 0; trial < 3; trial += 1) await server.trial(first.calibrationId);
    const url = `/api/lots/${lot}/rounds/1`;
    expectProblem(await server.post(`${url}/conditions`, { airPressureHpa: '760' }), [
      'please-confirm',
      '#/airPressureHpa',
    ]);
    expect((await server.post(`${url}/conditions`, { airTemperatureC: '22.4' })).status).toBe(201);
    for (const { calibrationId } of members)
      expect((await server.calibrationPage(calibrationId)).conditionReadings).toMatchObject([
        { airTemperatureC: '22.4' },
      ]);
    expect((await server.post(`${url}/measured`, {})).body).toEqual({ calibrations: [first.calibrationId] });
    expectProblem(await server.post(`${url}/measured`, {}), ['state-conflict']);
    expect((await server.calibrationPage(second.calibrationId)).state).toBe('open');
    expect(faultIn(server.logbook.file)).toBeNull();
  });

  it('keeps each look at the zero of the balance as displayed', async () => {
    const { lot } = await begunLot(server, 1);
    const url = `/api/lots/${lot}/rounds/1/zero-checks`;
    await server.post(url, { readingG: '0.0000', afterVessels: 10 });
    expect((await server.post(url, { readingG: '-0.0002', afterVessels: 20, note: 'set to zero' })).body).toEqual({
      number: 2,
    });
    expect((await roundPage(lot)).zeroChecks).toMatchObject([
      { number: 1, afterVessels: 10, readingG: '0.0000', note: null },
      { number: 2, afterVessels: 20, readingG: '-0.0002', note: 'set to zero' },
    ]);
    expect(faultIn(server.logbook.file)).toBeNull();
  });
});

describe('an inspection', () => {
  const findings = { chips: false, cracks: false, cleanFilm: true, dry: true };
  const look = (vessel: string, facts: object = {}) =>
    server.post(`/api/vessels/${vessel}/inspections`, { findings, outcome: 'fit', ...facts });

  it('stands beside the calibration it was made for', async () => {
    const { lot, members } = await begunLot(server, 1);
    const { vesselId = '', calibrationId } = members[0] ?? {};
    expect((await look(vesselId, { calibrationId })).body).toEqual({ number: 1, abandoned: [] });
    expect((await roundPage(lot)).rows[0]?.inspection).toMatchObject({ outcome: 'fit', dry: true, chips: false });
    expectProblem(await look(vesselId, { calibrationId: 'zz' }), ['validation-failed', '#/calibrationId']);
    expectProblem(await look(vesselId, { findings: { ...findings, cracks: true } }), [
      'validation-failed',
      '#/outcome',
    ]);
  });

  it('that finds damage ends the calibration and takes the vessel out of use, in one write', async () => {
    const { lot, members } = await begunLot(server, 2);
    const { vesselId = '', calibrationId = '' } = members[0] ?? {};
    const reply = await look(vesselId, {
      findings: { ...findings, chips: true },
      outcome: 'damaged',
      note: 'at the rim',
    });
    expect(reply.body).toEqual({ number: 1, abandoned: [calibrationId] });
    expect(await server.vesselPage(vesselId)).toMatchObject({ inUse: false, version: 2 });
    expect((await server.calibrationPage(calibrationId)).acts).toMatchObject([
      { act: 'calibration-abandoned', reason: 'Looked over and found chipped. at the rim' },
    ]);
    const page = (await server.get(`/api/lots/${lot}`)).body as unknown as LotWithVessels;
    expect(page.vessels.map(({ standing }) => standing)).toEqual(['damaged', 'not-begun']);
    expectProblem(await look(vesselId), ['state-conflict']);
    expect(faultIn(server.logbook.file)).toBeNull();
  });
});
