/** The register of instruments and the settings of the laboratory. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { attempt, expectProblem, type Expected } from './attempts.ts';
import { CALIBRATION, CONDITIONS, freshTag, idOf, TestServer } from './support.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
  await server.vessel({ tag: 'V-1' });
});
afterAll(async () => server.end());

const WHOLE: Record<string, object> = {
  balance: {
    kind: 'balance',
    resolutionG: '0.0001',
    repeatabilityG: '0.00010',
    linearityG: '0.0002',
    capacityG: '220',
    driftRelative: '0',
    expandedUncertaintyG: '0.0003',
    expandedUncertaintyRelative: '0.0000012',
    coverageFactor: '2.00',
    certificateCovers: ['resolution', 'linearity', 'repeatability'],
    degreesOfFreedom: 50,
    corrections: [
      { at: '0', correction: '-0.0001' },
      { at: '-5.0', correction: '0' },
    ],
    maker: 'Nordwaage',
    model: 'N 220',
    serial: '77-12',
    location: 'room 2',
    certificateNumber: 'K 2026-17',
    certificateOn: '2026-03-02',
    dueOn: '2027-03-01',
    note: 'by the window',
  },
  thermometer: {
    kind: 'thermometer',
    resolutionC: '0.1',
    expandedUncertaintyC: '0.05',
    coverageFactor: '2',
    gradientC: '0.0',
    corrections: [{ at: '20', correction: '-0.03' }],
  },
  barometer: { kind: 'barometer', expandedUncertaintyHpa: '0.3', coverageFactor: '2', corrections: [] },
  hygrometer: { kind: 'hygrometer', expandedUncertaintyPercent: '2', degreesOfFreedom: 1 },
};

describe('each kind', () => {
  it.each(Object.entries(WHOLE))('%s comes back as typed', async (_kind, facts) => {
    const tag = freshTag();
    const id = idOf(await server.post('/api/instruments', { tag, ...facts }));
    const { body } = await server.get(`/api/instruments/${id}`);
    expect(body).toMatchObject({ tag, ...facts, id, version: 1, inUse: true, overdue: false });
  });
  for (const kind of Object.keys(WHOLE)) registers(`a ${kind} of which nothing is known`, { kind }, undefined);
  registers('another kind', { kind: 'stopwatch' }, ['validation-failed', '#/kind']);
  registers('no kind', {}, ['validation-failed', '#/kind']);
  registers('a resolution in °C on a balance', { kind: 'balance', resolutionC: '0.1' }, [
    'validation-failed',
    '#/resolutionC',
  ]);
});

describe('fields', () => {
  const at = (reading: string) => ({ at: reading, correction: '0.1' });
  const balance = (name: string, facts: object, field: string) =>
    registers(name, { kind: 'balance', ...facts }, ['validation-failed', `#/${field}`]);
  for (const field of ['resolutionG', 'coverageFactor', 'capacityG'])
    for (const value of ['0', '-0.1']) balance(`${field} ${value}`, { [field]: value }, field);
  for (const field of ['repeatabilityG', 'linearityG', 'driftRelative', 'expandedUncertaintyG']) {
    balance(`${field} below zero`, { [field]: '-0.1' }, field);
    registers(`${field} zero`, { kind: 'balance', [field]: '0' }, undefined);
  }
  balance('a JSON number', { resolutionG: 0.0001 }, 'resolutionG');
  balance('0 degrees of freedom', { degreesOfFreedom: 0 }, 'degreesOfFreedom');
  balance('degrees of freedom as text', { degreesOfFreedom: '50' }, 'degreesOfFreedom');
  balance('half a degree of freedom', { degreesOfFreedom: 2.5 }, 'degreesOfFreedom');
  balance('a certificate that covers drift', { certificateCovers: ['drift'] }, 'certificateCovers/0');
  balance('a correction without its place', { corrections: [{ correction: '0' }] }, 'corrections/0/at');
  balance('a correction as number', { corrections: [{ at: '0', correction: 1 }] }, 'corrections/0/correction');
  balance('a correction with more', { corrections: [{ at: '0', correction: '0', u: '1' }] }, 'corrections/0/u');
  balance('two corrections at one reading', { corrections: [at('5'), at('0'), at('5.0')] }, 'corrections/2/at');
  balance('a due date that is none', { dueOn: 'next spring' }, 'dueOn');
  balance('no tag', { tag: '' }, 'tag');
});

describe('tags', () => {
  registers('one of the laboratory', { kind: 'balance', tag: 'Wägetisch' }, undefined);
  registers('the same in other letter case', { kind: 'thermometer', tag: 'wÄGETISCH' }, ['duplicate', '#/tag']);
  registers('that of a vessel, which is another list', { kind: 'balance', tag: 'V-1' }, undefined);

  it('stay with the instrument that once bore them', async () => {
    const id = idOf(await server.post('/api/instruments', { kind: 'balance', tag: 'B-OLD' }));
    const url = `/api/instruments/${id}`;
    const renamed = { instrument: { kind: 'balance', tag: 'B-NEW' }, reason: 'relabelled' };
    expect((await server.patch(url, 1, renamed)).status).toBe(200);
    expectProblem(await server.post('/api/instruments', { kind: 'balance', tag: 'b-old' }), ['duplicate', '#/tag']);
    const other = idOf(await server.post('/api/instruments', { kind: 'balance', tag: 'B-THIRD' }));
    const taking = { instrument: { kind: 'balance', tag: 'b-old' }, reason: 'relabelled' };
    expectProblem(await server.patch(`/api/instruments/${other}`, 1, taking), ['duplicate', '#/instrument/tag']);
    const back = { instrument: { kind: 'balance', tag: 'B-OLD' }, reason: 'relabelled again' };
    expect((await server.patch(url, 2, back)).status).toBe(200);
  });
});

describe('a changed instrument', () => {
  it('keeps each certificate it had', async () => {
    const facts = { kind: 'balance', tag: freshTag(), certificateNumber: 'K-1', dueOn: '2026-09-13' };
    const id = idOf(await server.post('/api/instruments', facts));
    const url = `/api/instruments/${id}`;
    expect((await server.get(url)).body).toMatchObject({ overdue: true });
    const renewed = { ...facts, certificateNumber: 'K-2', dueOn: '2026-09-14' };
    await server.patch(url, 1, { instrument: renewed, reason: 'calibrated again' });
    const { body } = await server.get(url);
    expect(body).toMatchObject({ version: 2, overdue: false, certificateNumber: 'K-2' });
    expect(body['revisions']).toMatchObject([
      { version: 1, certificateNumber: 'K-1', reason: null },
      { version: 2, certificateNumber: 'K-2', reason: 'calibrated again' },
    ]);
  });

  it('stays of its kind, and says why it changes', async () => {
    const tag = freshTag();
    const id = idOf(await server.post('/api/instruments', { kind: 'balance', tag }));
    const change = (body: object) => server.patch(`/api/instruments/${id}`, 1, body);
    expectProblem(await change({ instrument: { kind: 'hygrometer', tag }, reason: 'mistaken' }), [
      'validation-failed',
      '#/instrument/kind',
    ]);
    expectProblem(await change({ instrument: { kind: 'balance', tag } }), ['validation-failed', '#/reason']);
  });
});

describe('the laboratory', () => {
  let version = 1;
  const set = async (body: object) => {
    const reply = await server.patch('/api/laboratory', version, body);
    if (reply.status === 200) version += 1;
    return reply;
  };
  const refuses = (name: string, body: object, pointer: string) =>
    attempt(
      name,
      ['validation-failed', pointer],
      () => server,
      () => set(body),
    );

  refuses('an altitude above all laboratories', { altitudeM: '5001' }, '#/altitudeM');
  refuses('an altitude below the Dead Sea', { altitudeM: '-431' }, '#/altitudeM');
  refuses('an altitude as number', { altitudeM: 500 }, '#/altitudeM');
  refuses('an unknown setting', { colour: 'blue' }, '#/colour');

  it('has no altitude at first, and no demonstration data', async () => {
    expect((await server.get('/api/laboratory')).body).toMatchObject({
      version: 1,
      altitudeM: null,
      standardPressureHpa: null,
      demonstration: false,
    });
  });

  it('keeps what is not named, and empties by null', async () => {
    await set({ name: 'School laboratory', address: 'Lane 1' });
    await set({ altitudeM: '500.0' });
    expect((await set({ address: null })).body).toMatchObject({
      name: 'School laboratory',
      address: null,
      altitudeM: '500.0',
    });
    // ISO 2533:1975, table of the standard atmosphere at a geopotential altitude of 500 m: 954.61 hPa.
    const { body } = await server.get('/api/laboratory');
    expect(Number(body['standardPressureHpa'])).toBeCloseTo(954.61, 2);
  });

  it('asks about an air pressure more than 40 hPa from that of its altitude, at the start and per trial', async () => {
    const vessel = await server.vessel();
    const begin = (airPressureHpa: string) =>
      server.post(`/api/vessels/${vessel}/calibrations`, {
        ...CALIBRATION,
        conditions: { ...CONDITIONS, airPressureHpa },
      });
    for (const pressure of ['914.6', '994.7', '1013.25', '850'])
      expectProblem(await begin(pressure), ['please-confirm', '#/conditions/airPressureHpa']);
    for (const pressure of ['914.7', '994.6']) expect((await begin(pressure)).status).toBe(201);
  });

  it('computes an open calibration with the altitude it began with', async () => {
    const id = await server.calibration({ conditions: { inspected: true } });
    await set({ altitudeM: null });
    expect((await server.calibrationPage(id)).laboratory.altitudeM).toBe('500.0');
  });
});

function registers(name: string, facts: object, expected: Expected): void {
  const act = () => server.post('/api/instruments', { tag: freshTag(), ...facts });
  attempt(name, expected, () => server, act);
}
