/** What the server says of uncertainty beside the result: capability, one more trial, pooled spread, unfolding, referee. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CALIBRATION, FLASK, TestServer, TRIAL } from './support.ts';

let server: TestServer;
let balanceId = '';
beforeAll(async () => {
  server = await TestServer.start();
  const fine = { kind: 'balance', tag: 'BAL-1', resolutionG: '0.0001', repeatabilityG: '0.0002', capacityG: '220' };
  balanceId = (await server.post('/api/instruments', fine)).body['id'] as string;
  await server.post('/api/instruments', { kind: 'balance', tag: 'BAL-2', resolutionG: '0.1', capacityG: '3200' });
});
afterAll(async () => server.end());

// Replies are looked at field by field.
interface Any {
  [key: string]: Any;
}
const any = (value: unknown): Any => value as Any;

let tags = 0;
const newVessel = async (facts: object = {}): Promise<string> => {
  tags += 1;
  const reply = await server.post('/api/vessels', { ...FLASK, tag: `FS-${tags}`, ...facts });
  expect(reply.status).toBe(201);
  return reply.body['id'] as string;
};

const begun = async (vessel: string, facts: object = {}): Promise<string> => {
  const reply = await server.post(`/api/vessels/${vessel}/calibrations`, { ...CALIBRATION, ...facts });
  expect(reply.status).toBe(201);
  return reply.body['id'] as string;
};

const weigh = async (calibration: string, filled: readonly string[]): Promise<void> => {
  for (const filledG of filled) {
    const reply = await server.post(`/api/calibrations/${calibration}/trials`, { ...TRIAL, filledG });
    expect(reply.status).toBe(201);
  }
};

describe('capability before weighing', () => {
  it('comes with the new calibration and without one, and is the same', async () => {
    const vessel = await newVessel();
    const body = { ...CALIBRATION, instruments: { balanceId } };
    const before = await server.send('POST', `/api/vessels/${vessel}/capability`, body);
    expect(before.status).toBe(200);
    const made = await server.post(`/api/vessels/${vessel}/calibrations`, body);
    expect(made.body['capability']).toEqual(before.body);
    const point = any(before.body)['points']?.[0 as never] as Any;
    expect(point['decidableAtZeroError']).toBe(true);
    expect(Number(point['passPossibleWithinMl'])).toBeCloseTo(0.1 - Number(point['expandedUncertaintyMl']), 12);
  });

  it('says which balance of the register would do', async () => {
    const vessel = await newVessel({ nominalVolumeMl: '10' });
    const body = { ...CALIBRATION, points: ['10'], instruments: { balanceId } };
    const reply = await server.send('POST', `/api/vessels/${vessel}/capability`, body);
    const point = any(reply.body)['points']?.[0 as never] as Any;
    const does = Object.fromEntries((point['balances'] as unknown as Any[]).map((one) => [one['tag'], one['does']]));
    expect(does).toEqual({ 'BAL-1': true, 'BAL-2': false });
  });

  it('never decides with one trial planned', async () => {
    const vessel = await newVessel();
    const reply = await server.send('POST', `/api/vessels/${vessel}/capability`, { ...CALIBRATION, plannedTrials: 1 });
    expect(any(reply.body)['decidable']).toBe(false);
  });

  it('stores nothing', async () => {
    const vessel = await newVessel();
    await server.send('POST', `/api/vessels/${vessel}/capability`, CALIBRATION);
    expect((await server.get(`/api/vessels/${vessel}`)).body['calibrations']).toEqual([]);
  });
});

describe('pooled spread from the record', () => {
  it('is taken from finished calibrations on the same balance and kept when measuring ends', async () => {
    const earlier = await begun(await newVessel(), { plannedTrials: 6, instruments: { balanceId } });
    await weigh(earlier, ['160.8371', '160.8391', '160.8381', '160.8361', '160.8376', '160.8386']);
    await server.post(`/api/calibrations/${earlier}/measured`, {});
    const second = await begun(await newVessel(), { plannedTrials: 7, instruments: { balanceId } });
    await weigh(second, ['160.8371', '160.8391', '160.8381', '160.8361', '160.8376', '160.8386', '160.8380']);
    await server.post(`/api/calibrations/${second}/measured`, {});

    const pooled = await begun(await newVessel(), {
      plannedTrials: 2,
      instruments: { balanceId },
      repeatability: { use: 'pooled' },
    });
    await weigh(pooled, ['160.8370', '160.8385']);
    const open = any((await server.get(`/api/calibrations/${pooled}`)).body);
    expect(open['pool']).toMatchObject({ degreesOfFreedom: 11 });
    expect((open['pool']?.['from'] as unknown as string[]).toSorted()).toEqual([earlier, second].toSorted());
    expect((open['points']?.[0 as never] as Any)['repeatability']).toMatchObject({
      kind: 'pooled',
      degreesOfFreedom: 11,
    });

    await server.post(`/api/calibrations/${pooled}/measured`, {});
    const later = await begun(await newVessel(), { plannedTrials: 3, instruments: { balanceId } });
    await weigh(later, ['160.8371', '160.8391', '160.8381']);
    await server.post(`/api/calibrations/${later}/measured`, {});
    const kept = any((await server.get(`/api/calibrations/${pooled}`)).body);
    expect(kept['pool']).toEqual(open['pool']);
  });

  it('says that it rests on too little, and takes the own spread', async () => {
    const calibration = await begun(await newVessel(), { repeatability: { use: 'pooled' } });
    await weigh(calibration, ['160.8370', '160.8385']);
    const point = any((await server.get(`/api/calibrations/${calibration}`)).body)['points']?.[0 as never] as Any;
    expect(point['repeatability']).toMatchObject({ kind: 'own', degreesOfFreedom: 1 });
    expect((point['findings'] as unknown as Any[]).map((one) => one['code'])).toContain('pooled-too-few');
  });
});

describe('unfolding', () => {
  it('comes only when asked and ends at typed digits', async () => {
    const calibration = await begun(await newVessel());
    await weigh(calibration, ['160.8370']);
    expect((await server.get(`/api/calibrations/${calibration}`)).body).not.toHaveProperty('explain');
    const asked = await server.get(`/api/calibrations/${calibration}?explain=true`);
    expect(JSON.stringify(asked.body['explain'])).toContain('"typed":"160.8370"');
    expect((await server.get(`/api/calibrations/${calibration}?explain=perhaps`)).status).toBe(422);
  });
});

describe('one more trial', () => {
  it('is foreseen while the calibration is open, and not after', async () => {
    const calibration = await begun(await newVessel());
    await weigh(calibration, ['160.8370', '160.8385', '160.8379']);
    const open = any((await server.get(`/api/calibrations/${calibration}`)).body);
    const point = open['points']?.[0 as never] as Any;
    const more = open['oneMore']?.[0 as never] as Any;
    expect(more['trials']).toBe(4);
    expect(Number(more['expandedUncertaintyMl'])).toBeLessThan(Number(point['expandedUncertaintyMl']));
    await server.post(`/api/calibrations/${calibration}/measured`, {});
    const done = any((await server.get(`/api/calibrations/${calibration}`)).body);
    expect(done['oneMore']).toEqual([null]);
    expect(done['capability']).toBeNull();
  });
});

describe('the referee', () => {
  it('names its seed, repeats itself with it, and refuses what it cannot draw', async () => {
    const calibration = await begun(await newVessel());
    const address = `/api/calibrations/${calibration}/referee`;
    const early = await server.send('POST', address, { pointMl: '100' });
    expect(early.status).toBe(422);
    await weigh(calibration, ['160.8370', '160.8385', '160.8379', '160.8381']);
    const first = await server.send('POST', address, { pointMl: '100.0', seed: 11 });
    expect(first.status).toBe(200);
    expect(first.body).toMatchObject({ seed: 11, outcome: 'confirmed' });
    const again = await server.send('POST', address, { pointMl: '100', seed: 11 });
    expect(again.body['drawn']).toEqual(first.body['drawn']);
    const other = await server.send('POST', address, { pointMl: '100' });
    expect(Number.isInteger(other.body['seed'])).toBe(true);
    expect((await server.send('POST', address, { pointMl: '50' })).status).toBe(422);
  }, 60_000);
});
