/** What wants attention today, and the list of calibrations. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Today } from '../../server/records/contract.ts';
import { freshTag, idOf, TestServer } from './support.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(async () => server.end());

const today = async (): Promise<Today> => (await server.get('/api/today')).body as unknown as Today;
const later = (): void => {
  server.now = new Date(server.now.getTime() + 60_000);
};
const REASON = { reason: 'for the test' };

describe('today', () => {
  it('is empty in an empty logbook', async () => {
    expect(await today()).toEqual({
      open: [],
      counts: { vessels: 0, neverCalibrated: 0, openCalibrations: 0, trials: 0 },
      failing: [],
      due: { until: expect.stringMatching(/^\d{4}-\d\d-\d\d$/), vessels: [], vesselCount: 0, instruments: [] },
      lots: [],
      recent: [],
    });
  });

  it('counts, and shows what is open, does not pass, or ran out', async () => {
    await server.vessel({ tag: 'NEVER' });
    const [good, bad, broken] = [
      await server.vessel({ tag: 'GOOD' }),
      await server.vessel({ tag: 'BAD' }),
      await server.vessel({ tag: 'BROKEN' }),
    ];
    const calibrations: Record<string, string> = {};
    for (const [tag, vessel, filledG] of [
      ['GOOD', good, '160.8960'],
      ['BAD', bad, '160.3000'],
      ['BROKEN', broken, '160.3000'],
    ] as const) {
      later();
      const id = await server.calibration({}, vessel);
      for (const digit of ['0', '2', '4']) await server.trial(id, { filledG: filledG.slice(0, -1) + digit });
      calibrations[tag] = id;
    }
    later();
    await server.post(`/api/calibrations/${calibrations['GOOD'] ?? ''}/measured`, {});
    await server.patch(`/api/vessels/${broken}`, 1, { inUse: false, ...REASON });
    const due = { kind: 'balance', dueOn: '2026-09-13' };
    await server.post('/api/instruments', { ...due, tag: 'OVERDUE' });
    await server.post('/api/instruments', { ...due, tag: 'DUE-TODAY', dueOn: '2026-09-14' });
    await server.post('/api/instruments', { ...due, tag: 'DUE-IN-A-MONTH', dueOn: '2026-10-15' });
    await server.post('/api/instruments', { ...due, tag: 'DUE-LATER', dueOn: '2026-10-16' });
    const out = { ...due, tag: 'OUT' };
    const outId = idOf(await server.post('/api/instruments', out));
    await server.patch(`/api/instruments/${outId}`, 1, { instrument: out, inUse: false, ...REASON });

    const shown = await today();
    expect(shown.counts).toEqual({ vessels: 4, neverCalibrated: 1, openCalibrations: 2, trials: 9 });
    expect(shown.open.map((one) => one.tag)).toEqual(['BROKEN', 'BAD']);
    expect(shown.failing.map((one) => one.tag)).toEqual(['BAD']);
    expect(shown.due.instruments.map((one) => one.tag)).toEqual(['OVERDUE', 'DUE-TODAY', 'DUE-IN-A-MONTH']);
    expect(shown.due.instruments.map((one) => one.overdue)).toEqual([true, false, false]);
    expect(shown.recent.map((one) => one.tag)).toEqual(['GOOD', 'BROKEN', 'BAD']);
  });

  it('is the next day when the clock says so', async () => {
    server.now = new Date('2026-09-15T00:30:00.000Z');
    const { instruments, until } = (await today()).due;
    expect(instruments.filter(({ overdue }) => overdue).map(({ tag }) => tag)).toEqual(['OVERDUE', 'DUE-TODAY']);
    expect(until).toBe('2026-10-16');
  });

  it('asks about a failed vessel until something is decided, and tells which vessels are due', async () => {
    server.now = new Date('2026-09-15T08:00:00.000Z');
    const [failed] = (await today()).failing;
    const calibrationId = failed?.latest?.id ?? '';
    await server.post(`/api/calibrations/${calibrationId}/measured`, {});
    const decision = { calibrationId, decision: 'keep', ...REASON };
    expect((await server.post(`/api/vessels/${failed?.id ?? ''}/decisions`, decision)).status).toBe(201);
    expect((await today()).failing).toEqual([]);
    const laboratory = (await server.get('/api/laboratory')).body;
    await server.patch('/api/laboratory', Number(laboratory['version']), { intervalMonths: 12 });
    expect((await today()).due).toMatchObject({ vessels: [], vesselCount: 0 });
    server.now = new Date('2027-09-13T08:00:00.000Z');
    const { vessels, vesselCount } = (await today()).due;
    // Measured on the 14th, a year before; the one out of use is not due.
    expect(vessels.map(({ tag, dueOn }) => [tag, dueOn])).toEqual([
      ['BAD', '2027-09-14'],
      ['GOOD', '2027-09-14'],
    ]);
    expect(vesselCount).toBe(2);
    server.now = new Date('2026-09-15T00:30:00.000Z');
  });
});

describe('the list of calibrations', () => {
  const page = async (query: string) => {
    const { body } = await server.get(`/api/calibrations?${query}`);
    return body as unknown as { items: { id: string; state: string }[]; next: string | null };
  };

  it('shows each once, page by page, also those touched in the same moment', async () => {
    const made: string[] = [];
    for (let index = 0; index < 5; index += 1) made.push(await server.calibration());
    const seen: string[] = [];
    let next: string | null = '';
    while (next !== null) {
      const query: string = next === '' ? '' : `&cursor=${next}`;
      const { items, next: following } = await page(`limit=2&state=open${query}`);
      seen.push(...items.map((item) => item.id));
      next = following;
    }
    expect(new Set(seen).size).toBe(seen.length);
    expect(seen).toEqual(expect.arrayContaining(made));
    // One was open before; the other was measured when its decision was made.
    expect(seen).toHaveLength(made.length + 1);
  });

  it('is told apart by state', async () => {
    const id = await server.calibration();
    await server.post(`/api/calibrations/${id}/abandonment`, REASON);
    expect((await page('state=abandoned')).items).toMatchObject([{ id, state: 'abandoned' }]);
    expect((await page('state=checked')).items).toEqual([]);
  });

  it('does not take a state it does not know', async () => {
    expect((await server.get('/api/calibrations?state=lost')).status).toBe(422);
  });
});

it('pages of one vessel show its calibrations, newest day first', async () => {
  const vessel = await server.vessel({ tag: freshTag() });
  for (const performedOn of ['2026-09-01', '2026-09-12', '2026-08-30'])
    await server.calibration({ performedOn }, vessel);
  const { calibrations } = await server.vesselPage(vessel);
  expect(calibrations.map((one) => one.performedOn)).toEqual(['2026-09-12', '2026-09-01', '2026-08-30']);
});
