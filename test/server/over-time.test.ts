/** Over time: calibrations of a vessel, checks and certificates of an instrument, what depended on it, ware of a maker. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type {
  DistributionOnWire,
  InstrumentOverTime,
  MakerList,
  VesselOverTime,
} from '../../server/over-time/contract.ts';
import { weighedLot } from '../lots/delivery.ts';
import { freshTag, idOf, TestServer } from './support.ts';

let server: TestServer;
let balanceId = '';
let vesselId = '';
const calibrations: string[] = [];
const REASON = { reason: 'certificate of this year' };

/** Three trials around a mass, 1 mg apart; the flask then leaves `open`. */
async function calibrated(vessel: string, performedOn: string, massMg: number): Promise<string> {
  const instruments = { balanceId };
  const id = await server.calibration({ performedOn, instruments }, vessel);
  for (const offMg of [0, 1, -1])
    await server.trial(id, { emptyG: '60.0000', filledG: (60 + (massMg + offMg) / 1000).toFixed(4) });
  const reply = await server.post(`/api/calibrations/${id}/measured`, {});
  if (reply.status !== 201) throw new Error(JSON.stringify(reply.body));
  return id;
}

const overTime = async (vessel: string) =>
  (await server.get(`/api/vessels/${vessel}/over-time`)).body as unknown as VesselOverTime;
const balance = (facts: object) => ({ kind: 'balance', tag: 'BAL-7', resolutionG: '0.0001', ...facts });

beforeAll(async () => {
  server = await TestServer.start();
  const first = { certificateNumber: 'K-1', certificateOn: '2021-01-10', expandedUncertaintyG: '0.0003' };
  const corrections = [
    { at: '50', correction: '0.0001' },
    { at: '150', correction: '0.0003' },
  ];
  balanceId = idOf(await server.post('/api/instruments', balance({ ...first, corrections })));
  vesselId = await server.vessel({ maker: 'Glashof' });
  // 10 mg a year more: about 0.010 mL a year
  for (const [index, year] of [2021, 2022, 2023, 2024].entries())
    calibrations.push(await calibrated(vesselId, `${year}-03-01`, 99_600 + 10 * index));
});
afterAll(async () => server.end());

describe('a vessel', () => {
  it('has its calibrations oldest first, each with its change since the one before, and no trend of four', async () => {
    const { points, leftOut } = await overTime(vesselId);
    expect(leftOut).toBe(0);
    const [point] = points;
    expect(point?.calibrations.map(({ id }) => id)).toEqual(calibrations);
    expect(point?.calibrations[0]?.change).toBeNull();
    for (const { change } of point?.calibrations.slice(1) ?? []) {
      // 10 mg of water at 21.3 °C: 1.003 mL/g, factor of every table of Z
      expect(change?.changeMl).toBeCloseTo(0.01003, 5);
      const { changeMl = 0, standardUncertaintyMl = 1, normalisedChange } = change ?? {};
      expect(normalisedChange).toBeCloseTo(changeMl / (2 * standardUncertaintyMl), 12);
    }
    expect(point?.trend).toBeNull();
  });

  it('of five steady steps has a trend, and the day on which it may leave', async () => {
    calibrations.push(await calibrated(vesselId, '2025-03-01', 99_640));
    const [point] = (await overTime(vesselId)).points;
    expect(point?.trend).toMatchObject({ significant: true });
    expect(point?.trend?.slopeMlPerYear).toBeCloseTo(0.01003, 4);
    // The first mean is 99.907 mL or so: below the limit, rising; it meets +0.1 mL about 19 years later.
    expect(Number(point?.trend?.leavesOn?.slice(0, 4))).toBeGreaterThan(2036);
    expect(Number(point?.trend?.leavesOn?.slice(0, 4))).toBeLessThan(2045);
  });

  it('is advised an interval from its last calibration', async () => {
    const steady = await server.vessel();
    expect((await overTime(steady)).interval).toEqual({
      months: 12,
      reason: 'nothing-known',
      goodInARow: 0,
      nextOn: null,
    });
    for (const day of ['2024-08-31', '2025-01-01', '2026-02-28']) await calibrated(steady, day, 99_700);
    expect((await overTime(steady)).interval).toMatchObject({ months: 24, reason: 'lengthened', nextOn: '2028-02-28' });
  });

  it('leaves out another basis, open work, and is refused where nobody knows it', async () => {
    const vessel = await server.vessel();
    await server.calibration({}, vessel);
    const other = await server.calibration({ basis: 'deliver' }, vessel);
    await server.trial(other);
    await server.post(`/api/calibrations/${other}/measured`, { reason: 'one is enough' });
    expect(await overTime(vessel)).toMatchObject({ points: [], leftOut: 1 });
    expect((await server.get('/api/vessels/nobody/over-time')).status).toBe(404);
  });
});

describe('an instrument', () => {
  it('shows its certificates with what changed between them, and the checks on a chart', async () => {
    const corrections = [{ at: '100', correction: '0.0005' }];
    const renewed = {
      certificateNumber: 'K-2',
      certificateOn: '2025-06-01',
      corrections,
      expandedUncertaintyG: '0.0002',
    };
    await server.patch(`/api/instruments/${balanceId}`, 1, { instrument: balance(renewed), ...REASON });
    for (const reading of ['100.0001', '100.0002', '100.0000', '100.0001'])
      await server.post(`/api/instruments/${balanceId}/checks`, { referenceValue: '100.0000', reading });
    await server.post(`/api/instruments/${balanceId}/checks`, { referenceValue: '20', reading: '20.0001' });
    const seen = (await server.get(`/api/instruments/${balanceId}/over-time`)).body as unknown as InstrumentOverTime;
    expect(seen.certificates.map(({ number }) => number)).toEqual(['K-2', 'K-1']);
    // halfway between 0.0001 g at 50 g and 0.0003 g at 150 g stood 0.0002 g
    expect(seen.certificates[0]?.drift).toEqual([
      {
        at: 100,
        correction: 0.0005,
        before: expect.closeTo(0.0002, 12) as number,
        change: expect.closeTo(0.0003, 12) as number,
      },
    ]);
    expect(seen.charts).toHaveLength(1);
    // by hand, the newest left out: mean 0.0001 g, moving ranges 0.1 and 0.2 mg, their mean 0.15 mg, limits ± 2.660 times that
    const [chart] = seen.charts;
    expect(chart).toMatchObject({ referenceValue: '100.0000', unit: 'g' });
    // all were made after the second certificate: nothing begins anew between them
    expect(chart?.stretches).toMatchObject([{ certificate: null, first: 0, count: 4 }]);
    const limits = chart?.stretches[0]?.limits;
    expect(limits).toMatchObject({ base: 3, isFirstGuess: true });
    expect(limits?.centre).toBeCloseTo(0.0001, 10);
    expect((limits?.high ?? 0) - (limits?.centre ?? 0)).toBeCloseTo(2.66 * 0.00015, 6);
  });

  it('begins centre and limits anew with a new certificate, and says where there are too few checks', async () => {
    const tag = freshTag();
    const certified = (certificateNumber: string, certificateOn: string) =>
      balance({ tag, certificateNumber, certificateOn });
    const id = idOf(await server.post('/api/instruments', certified('A', '2024-01-10')));
    const check = (performedOn: string, difference: number) =>
      server.post(`/api/instruments/${id}/checks`, {
        performedOn,
        referenceValue: '100',
        reading: (100 + difference).toFixed(4),
      });
    for (const [day, difference] of [20, 30, 20, 30].entries()) await check(`2024-02-0${day + 1}`, difference);
    await server.patch(`/api/instruments/${id}`, 1, { instrument: certified('B', '2025-01-10'), ...REASON });
    // NIST/SEMATECH e-Handbook, 6.3.2.2: flow rates of ten batches, and one more that is held against their limits
    const rates = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1, 56.0];
    for (const [day, rate] of rates.entries()) await check(`2025-02-${String(day + 1).padStart(2, '0')}`, rate);
    await server.patch(`/api/instruments/${id}`, 2, { instrument: certified('C', '2026-01-10'), ...REASON });
    const charts = async () =>
      ((await server.get(`/api/instruments/${id}/over-time`)).body as unknown as InstrumentOverTime).charts;
    const [chart] = await charts();
    expect(chart?.stretches).toMatchObject([
      { certificate: null, first: 0, count: 4 },
      {
        certificate: { number: 'B', on: '2025-01-10' },
        first: 4,
        count: 11,
        limits: { base: 10, isFirstGuess: false },
      },
      { certificate: { number: 'C', on: '2026-01-10' }, first: 15, count: 0, limits: null },
    ]);
    const limits = chart?.stretches[1]?.limits;
    expect(limits?.centre).toBeCloseTo(50.81, 8);
    expect(limits?.low).toBeCloseTo(45.8159, 3);
    expect(limits?.high).toBeCloseTo(55.8041, 3);
    // no range over the break, and the last alone outside
    expect(chart?.checks[4]).toMatchObject({ movingRange: null, outside: false });
    expect(chart?.checks.flatMap(({ outside }, index) => (outside ? index : []))).toEqual([14]);
    await check('2026-02-01', 50);
    expect((await charts())[0]?.stretches[2]).toMatchObject({ first: 15, count: 1, limits: null });
  });

  it('names what depended on it between two days, page by page', async () => {
    const url = `/api/instruments/${balanceId}/dependents?from=2021-01-01&to=2023-12-31`;
    const all = (await server.get(url)).body as { items: { calibrationId: string }[]; total: number };
    expect(all.total).toBe(3);
    expect(all.items.map(({ calibrationId }) => calibrationId)).toEqual(calibrations.slice(0, 3).reverse());
    expect(all.items[0]).toMatchObject({
      roles: ['balance'],
      instrumentVersion: 1,
      certificates: [],
      state: 'measured',
    });
    const page = (await server.get(`${url}&limit=2`)).body as { items: object[]; next: string };
    const rest = (await server.get(`${url}&limit=2&cursor=${page.next}`)).body as { items: object[]; next: null };
    expect([page.items.length, rest.items.length, rest.next]).toEqual([2, 1, null]);
    expect((await server.get('/api/instruments/nobody/dependents')).status).toBe(404);
  });
});

describe('the ware of a maker', () => {
  it('is listed where there are two, and its errors are counted against each class', async () => {
    for (const massMg of [99_580, 99_500, 99_690])
      await calibrated(await server.vessel({ maker: 'Zweiglas' }), '2026-05-04', massMg);
    await server.vessel({ maker: 'Zweiglas', tag: freshTag() });
    const { items } = (await server.get('/api/makers')).body as unknown as MakerList;
    expect(items).toContainEqual({
      maker: 'Zweiglas',
      kind: 'volumetric-flask',
      nominalVolumeMl: '100',
      vessels: 4,
    });
    const url = '/api/distribution?kind=volumetric-flask&nominalVolumeMl=100.0&maker=Zweiglas';
    const found = (await server.get(url)).body as unknown as DistributionOnWire;
    expect(found).toMatchObject({ vessels: 4, lookedAt: 4, standard: 'ISO 1042:1998' });
    expect(found.pieces).toHaveLength(3);
    // Common practice, no source: Z about 1.00309 mL/g here, so 99.580, 99.500 and 99.690 g are 99.888, 99.807 and
    // 99.998 mL. ISO 1042: A ±0.1 mL, B ±0.2 mL.
    expect(found.summary?.classes.map((one) => [one.class, one.within.count])).toEqual([
      ['A', 1],
      ['B', 3],
    ]);
    expect(found.summary?.meanBiasMl).toBeCloseTo(-0.1023, 3);
    const refused = await server.get('/api/distribution?kind=volumetric-flask');
    expect([refused.status, refused.body['errors']]).toMatchObject([422, [{ pointer: '#/nominalVolumeMl' }]]);
  });

  it('or a lot by itself', async () => {
    const { lot, members } = await weighedLot(server, 3);
    for (const { calibrationId } of members) await server.post(`/api/calibrations/${calibrationId}/measured`, {});
    const found = (await server.get(`/api/distribution?lotId=${lot}`)).body as unknown as DistributionOnWire;
    expect(found).toMatchObject({ lotId: lot, kind: 'volumetric-flask', nominalVolumeMl: '100', vessels: 3 });
    expect(found.pieces.map(({ vesselId }) => vesselId).sort()).toEqual(members.map(({ vesselId }) => vesselId).sort());
    expect((await server.get('/api/distribution?lotId=nobody')).status).toBe(404);
  });
});
