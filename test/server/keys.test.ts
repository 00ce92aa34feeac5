/** Sending a request again: one row and the same answer; another request under the same key is refused. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { everything, expectProblem } from './attempts.ts';
import { CALIBRATION, CONDITIONS, FLASK, freshKey, freshTag, TestServer, TRIAL, type Reply } from './support.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(async () => server.end());

const under = (key: string, url: string, body: object): Promise<Reply> =>
  server.send('POST', url, body, { 'idempotency-key': key });
const rows = (): number => Object.values(everything(server)).reduce((sum, table) => sum + table.length, 0);

/** Every route that creates: where, with what, and a body that differs. */
const CREATING: Record<string, () => Promise<[url: string, body: object, other: object]>> = {
  vessel: async () => {
    const body = { ...FLASK, tag: freshTag() };
    return ['/api/vessels', body, { ...body, maker: 'Südglas' }];
  },
  instrument: async () => {
    const body = { kind: 'balance', tag: freshTag() };
    return ['/api/instruments', body, { ...body, maker: 'Nordwaage' }];
  },
  calibration: async () => [
    `/api/vessels/${await server.vessel()}/calibrations`,
    CALIBRATION,
    { ...CALIBRATION, plannedTrials: 4 },
  ],
  trial: async () => [
    `/api/calibrations/${await server.calibration()}/trials`,
    TRIAL,
    { ...TRIAL, filledG: '160.8372' },
  ],
  exclusion: async () => {
    const calibration = await server.calibration();
    await server.trial(calibration);
    const body = { cause: 'spill', reason: 'it ran over' };
    return [`/api/calibrations/${calibration}/trials/1/exclusion`, body, { ...body, cause: 'other' }];
  },
  correction: async () => {
    const calibration = await server.calibration();
    await server.trial(calibration);
    const body = { field: 'emptyG', value: '61.2035', reason: 'misread' };
    return [`/api/calibrations/${calibration}/trials/1/correction`, body, { ...body, value: '61.2036' }];
  },
  'air read again': async () => [
    `/api/calibrations/${await server.calibration()}/conditions`,
    CONDITIONS,
    { ...CONDITIONS, airTemperatureC: '22.0' },
  ],
  end: async () => [
    `/api/calibrations/${await server.calibration()}/measured`,
    { reason: 'water ran out' },
    { reason: 'time ran out' },
  ],
};

describe.each(Object.entries(CREATING))('a new %s', (_name, prepare) => {
  it('sent three times at once and again after a restart is one, with one answer', async () => {
    const [url, body, other] = await prepare();
    const key = freshKey();
    const before = rows();
    const [first, ...more] = await Promise.all([under(key, url, body), under(key, url, body), under(key, url, body)]);
    const once = rows();
    await server.restart();
    more.push(await under(key, url, body));
    expect(first.status).toBe(201);
    for (const reply of more)
      expect({ status: reply.status, body: reply.body }).toEqual({ status: 201, body: first.body });
    expect(once).toBeGreaterThan(before);
    expect(rows()).toBe(once);

    expectProblem(await under(key, url, other), ['key-reused']);
    expect(rows()).toBe(once);
  });
});

describe('a key', () => {
  it('is spent by what was accepted, not by what was refused', async () => {
    const url = `/api/calibrations/${await server.calibration()}/trials`;
    const key = freshKey();
    expectProblem(await under(key, url, { ...TRIAL, filledG: '61' }), ['validation-failed', '#/filledG']);
    expectProblem(await under(key, url, { ...TRIAL, filledG: '150' }), ['please-confirm', '#/filledG']);
    expectProblem(await under(key, url, { ...TRIAL, pointMl: '50' }), ['validation-failed', '#/pointMl']);
    const kept = await under(key, url, TRIAL);
    expect(kept).toMatchObject({ status: 201, body: { number: 1 } });
    expect((await under(key, url, TRIAL)).body).toEqual(kept.body);
    expectProblem(await under(key, url, { ...TRIAL, note: 'more' }), ['key-reused']);
  });

  it('of an act the state refused is free once the state allows it', async () => {
    const calibration = await server.calibration();
    await server.post(`/api/calibrations/${calibration}/measured`, { reason: 'water ran out' });
    const key = freshKey();
    const url = `/api/calibrations/${calibration}/trials`;
    expectProblem(await under(key, url, TRIAL), ['state-conflict']);
    await server.post(`/api/calibrations/${calibration}/reopening`, { reason: 'water is back' });
    expect((await under(key, url, TRIAL)).status).toBe(201);
  });

  it('belongs to one address', async () => {
    const [one, two] = [await server.calibration(), await server.calibration()];
    const key = freshKey();
    expect((await under(key, `/api/calibrations/${one}/trials`, TRIAL)).status).toBe(201);
    expectProblem(await under(key, `/api/calibrations/${two}/trials`, TRIAL), ['key-reused']);
  });

  it('does not care in which order the fields were written', async () => {
    const url = `/api/calibrations/${await server.calibration()}/trials`;
    const key = freshKey();
    const first = await under(key, url, TRIAL);
    const turned = await under(key, url, Object.fromEntries(Object.entries(TRIAL).reverse()));
    expect(turned).toMatchObject({ status: 201, body: first.body });
  });

  it('answers again even when the same would be refused by now', async () => {
    const calibration = await server.calibration();
    const key = freshKey();
    const first = await under(key, `/api/calibrations/${calibration}/trials`, TRIAL);
    await server.post(`/api/calibrations/${calibration}/abandonment`, { reason: 'the flask broke' });
    expect((await under(key, `/api/calibrations/${calibration}/trials`, TRIAL)).body).toEqual(first.body);
  });

  it('many at once, each three times: each once, numbered without a gap', async () => {
    const calibration = await server.calibration({ plannedTrials: 40 });
    const keys = Array.from({ length: 40 }, () => freshKey());
    const sent = [...keys, ...keys, ...keys].map((key) => under(key, `/api/calibrations/${calibration}/trials`, TRIAL));
    const numbers = (await Promise.all(sent)).map((reply) => Number(reply.body['number']));
    for (const [index, number] of numbers.entries()) expect(number).toBe(numbers[index % keys.length]);
    expect([...new Set(numbers)].sort((a, b) => a - b)).toEqual(keys.map((_, index) => index + 1));
    expect((await server.calibrationPage(calibration)).trials).toHaveLength(40);
  });
});
