/** Every result can be computed again from its own evidence rows, to the last digit, and state follows from the acts. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { evaluate } from '../../server/metrology/evaluate.ts';
import { toleranceRows } from '../../server/metrology/tolerance-table.ts';
import { looking } from '../db/support.ts';
import { recordFromRows } from './rows.ts';
import { CONDITIONS, freshTag, idOf, TestServer } from './support.ts';

let server: TestServer;
const made: Record<string, string> = {};
const REASON = { reason: 'seen on the bench' };
const post = (id: string, what: string, body: object) => server.post(`/api/calibrations/${id}/${what}`, body);
const READINGS = ['160.8371', '160.8412', '160.8330', '160.84020', '160.9000'];

beforeAll(async () => {
  server = await TestServer.start();
  const ids: Record<string, string> = {};
  for (const [role, facts] of Object.entries(INSTRUMENTS))
    ids[`${role}Id`] = idOf(await server.post('/api/instruments', { tag: freshTag(), ...facts }));

  made['plain'] = await filled({}, READINGS);
  made['with every instrument, corrected, excluded and taken back'] = await worked({ instruments: ids });
  made['with air read again and a changed plan'] = await replanned();
  made['finished, the vessel and an instrument changed since'] = await finished(ids);
  await server.patch('/api/laboratory', 1, { altitudeM: '640' });
  made['in the mountains, pressure not measured'] = await filled(
    { conditions: { airTemperatureC: '20' }, performedOn: '2026-09-01' },
    READINGS,
  );
  await server.patch('/api/laboratory', 2, { altitudeM: null });
  made['of a burette, pooled'] = await graduated();
  await server.restart();
});
afterAll(async () => server.end());

const INSTRUMENTS = {
  balance: {
    kind: 'balance',
    resolutionG: '0.0001',
    expandedUncertaintyG: '0.0003',
    corrections: [
      { at: '0', correction: '0.0001' },
      { at: '200', correction: '-0.0004' },
    ],
    dueOn: '2026-06-30',
  },
  thermometer: { kind: 'thermometer', resolutionC: '0.1', corrections: [{ at: '20', correction: '-0.04' }] },
  airThermometer: { kind: 'thermometer', expandedUncertaintyC: '0.2' },
  barometer: { kind: 'barometer', expandedUncertaintyHpa: '0.3' },
  hygrometer: { kind: 'hygrometer', expandedUncertaintyPercent: '2', degreesOfFreedom: 8 },
};

async function filled(facts: object, readings: string[], vessel?: string): Promise<string> {
  const id = await server.calibration(facts, vessel);
  for (const [index, filledG] of readings.entries())
    await server.trial(id, { filledG, waterTemperatureC: `21.${index}` });
  return id;
}

async function worked(facts: object): Promise<string> {
  const id = await filled(facts, READINGS);
  await post(id, 'trials/2/correction', { field: 'filledG', value: '160.8421', ...REASON });
  await post(id, 'trials/2/correction', { field: 'waterTemperatureC', value: '21.25', ...REASON });
  await post(id, 'trials/2/correction', { field: 'filledG', value: '160.84210', ...REASON });
  await post(id, 'trials/5/exclusion', { cause: 'spill', ...REASON });
  await post(id, 'trials/1/exclusion', { cause: 'other', ...REASON });
  await post(id, 'trials/1/inclusion', REASON);
  return id;
}

async function replanned(): Promise<string> {
  const id = await filled({}, READINGS.slice(0, 2));
  await post(id, 'conditions', { airTemperatureC: '23.5', relativeHumidityPercent: '60' });
  await server.trial(id, { openTimeS: '30', airPressureHpa: '990.1' });
  const change = { plannedTrials: 6, decisionRule: 'simple', coverageProbability: '0.99', ...REASON };
  const { version } = await server.calibrationPage(id);
  expect((await server.patch(`/api/calibrations/${id}`, version, change)).status).toBe(200);
  return id;
}

async function finished(instruments: object): Promise<string> {
  const vessel = await server.vessel({ neckDiameterMm: '13.0' });
  const id = await filled({ instruments }, READINGS, vessel);
  await post(id, 'measured', {});
  const { tag } = await server.vesselPage(vessel);
  const change = { nominalVolumeMl: '250', neckDiameterMm: null, tag: `${tag}-b`, ...REASON };
  expect((await server.patch(`/api/vessels/${vessel}`, 1, change)).status).toBe(200);
  const balanceId = (instruments as { balanceId: string }).balanceId;
  const renewed = { kind: 'balance', tag: freshTag(), resolutionG: '0.001' };
  expect((await server.patch(`/api/instruments/${balanceId}`, 1, { instrument: renewed, ...REASON })).status).toBe(200);
  return id;
}

async function graduated(): Promise<string> {
  const vessel = await server.vessel({
    kind: 'burette',
    nominalVolumeMl: '50',
    basis: 'deliver',
    divisionMl: '0.1',
    marks: ['10', '50'],
    tolerance: { standard: 'ISO 385', edition: '2005', class: 'B' },
  });
  const repeatability = { use: 'pooled', sdMl: '0.012', degreesOfFreedom: 24 };
  const id = await server.calibration({ points: ['10', '50'], repeatability, conditions: CONDITIONS }, vessel);
  for (const [pointMl, filledG] of [
    ['10', '19.9600'],
    ['10.0', '19.9640'],
    ['50', '59.8400'],
  ] as const)
    await server.trial(id, { pointMl, emptyG: '10.0000', filledG, emptySource: 'carried', emptyState: 'drained' });
  return id;
}

describe('a calibration computed from its rows', () => {
  it.each([
    'plain',
    'with every instrument, corrected, excluded and taken back',
    'with air read again and a changed plan',
    'finished, the vessel and an instrument changed since',
    'in the mountains, pressure not measured',
    'of a burette, pooled',
  ])('%s', async (name) => {
    const id = made[name] ?? '';
    const page = await server.calibrationPage(id);
    const { record, state } = looking(server.logbook.file, (handle) => recordFromRows(handle, id));
    const result = evaluate(record, toleranceRows);
    expect(state).toBe(page.state);
    expect(record.trials.length).toBeGreaterThan(2);
    const { basis, decisionRule, points, difference, verdict, final, findings, versions } = result;
    expect({ basis, decisionRule, points, difference, verdict, final, findings, versions }).toEqual({
      basis: page.basis,
      decisionRule: page.decisionRule,
      points: page.points,
      difference: page.difference,
      verdict: page.verdict,
      final: page.final,
      findings: page.findings,
      versions: page.versions,
    });
    const computed = ({ massG, volumeMl, simpleVolumeMl, corrected, air, used }: (typeof page.trials)[number]) => ({
      massG,
      volumeMl,
      simpleVolumeMl,
      corrected,
      air,
      used,
    });
    expect(result.trials.map((trial) => computed(trial as (typeof page.trials)[number]))).toEqual(
      page.trials.map(computed),
    );
  });

  it('says which formulas and tables made it', () => {
    const rows = looking(server.logbook.file, (handle) =>
      handle.prepare<[], { versions: string }>('select versions from calibration').all(),
    );
    for (const row of rows) expect(Object.keys(JSON.parse(row.versions) as object)).toContain('waterDensity');
    const formulas = looking(server.logbook.file, (handle) =>
      handle.prepare('select distinct formulas from trial').pluck().all(),
    );
    expect(formulas).toHaveLength(1);
    expect(formulas[0]).toMatch(/\S+ \S+ \S+/);
  });
});
