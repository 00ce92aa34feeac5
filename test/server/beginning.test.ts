/** Beginning a calibration: points of the vessel, the day, the instruments, the first air, what is taken as given. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Calibration } from '../../server/calibrations/contract.ts';
import { attempt, type Expected } from './attempts.ts';
import { CALIBRATION, CONDITIONS, freshTag, idOf, TestServer } from './support.ts';

let server: TestServer;
let flask: string;
let burette: string;
let beaker: string;
let balance: string;
let thermometer: string;
beforeAll(async () => {
  server = await TestServer.start();
  flask = await server.vessel();
  burette = await server.vessel({
    kind: 'burette',
    nominalVolumeMl: '50',
    basis: 'deliver',
    divisionMl: '0.1',
    tolerance: { standard: 'ISO 385', edition: '2005', class: 'B' },
  });
  beaker = await server.vessel({
    kind: 'beaker',
    nominalVolumeMl: '250',
    marks: ['50', '100.0'],
    tolerance: { standard: 'ISO 3819', edition: 'unknown', class: '-' },
  });
  balance = await instrument({ kind: 'balance', resolutionG: '0.0001' });
  thermometer = await instrument({ kind: 'thermometer', resolutionC: '0.1' });
});
afterAll(async () => server.end());

async function instrument(facts: object): Promise<string> {
  return idOf(await server.post('/api/instruments', { tag: freshTag(), ...facts }));
}
function codesOf(page: Calibration): string[] {
  return [page, ...page.points].flatMap((part) => part.findings.map((finding) => finding.code));
}
function begins(name: string, vessel: () => string, facts: () => object, expected: Expected): void {
  const act = () => server.post(`/api/vessels/${vessel()}/calibrations`, { ...CALIBRATION, ...facts() });
  attempt(name, expected, () => server, act);
}
const ofFlask = (name: string, facts: object, expected: Expected) =>
  begins(
    name,
    () => flask,
    () => facts,
    expected,
  );

describe('points', () => {
  ofFlask('the mark written otherwise', { points: ['100.00'] }, undefined);
  ofFlask('none', { points: [] }, ['validation-failed', '#/points']);
  ofFlask('left out', { points: undefined }, ['validation-failed', '#/points']);
  ofFlask('a text', { points: '100' }, ['validation-failed', '#/points']);
  ofFlask('JSON numbers', { points: [100] }, ['validation-failed', '#/points/0']);
  ofFlask('zero', { points: ['0'] }, ['validation-failed', '#/points/0']);
  ofFlask('half a flask', { points: ['50'] }, ['validation-failed', '#/points/0']);
  ofFlask('the mark twice', { points: ['100', '100.0'] }, ['validation-failed', '#/points/1']);
  ofFlask('a hair beside the mark', { points: ['100.00000000000000000001'] }, ['validation-failed', '#/points/0']);
  begins(
    'any of a burette',
    () => burette,
    () => ({ points: ['10', '25.5', '50'] }),
    undefined,
  );
  begins(
    'above a burette',
    () => burette,
    () => ({ points: ['50.1'] }),
    ['validation-failed', '#/points/0'],
  );
  begins(
    'marks of a beaker',
    () => beaker,
    () => ({ points: ['50.0', '100', '250'] }),
    undefined,
  );
  begins(
    'between marks',
    () => beaker,
    () => ({ points: ['50', '75'] }),
    ['validation-failed', '#/points/1'],
  );
  const fifty = Array.from({ length: 51 }, (_, index) => `${index / 2 + 1}`);
  begins(
    '51 points',
    () => burette,
    () => ({ points: fifty }),
    ['validation-failed', '#/points'],
  );
  begins(
    '50 points',
    () => burette,
    () => ({ points: fifty.slice(1) }),
    undefined,
  );
  begins(
    'of an unknown vessel',
    () => 'aaaa',
    () => ({}),
    ['not-found'],
  );
});

describe('the plan', () => {
  for (const planned of [0, -1, 2.5, '3', null, 1001, 1e400])
    ofFlask(`${String(planned)} trials`, { plannedTrials: planned }, ['validation-failed', '#/plannedTrials']);
  ofFlask('another rule', { decisionRule: 'lenient' }, ['validation-failed', '#/decisionRule']);
  ofFlask('simple', { decisionRule: 'simple' }, undefined);
  for (const probability of ['0.5', '0.950', '95', '0.9545 '])
    ofFlask(`coverage ${probability}`, { coverageProbability: probability }, [
      'validation-failed',
      '#/coverageProbability',
    ]);
  ofFlask('coverage as a JSON number', { coverageProbability: 0.95 }, ['validation-failed', '#/coverageProbability']);
  for (const probability of ['0.95', '0.9545', '0.99'])
    ofFlask(`coverage ${probability}`, { coverageProbability: probability }, undefined);
  ofFlask('another basis', { basis: 'both' }, ['validation-failed', '#/basis']);
  ofFlask('the basis that is not marked', { basis: 'deliver' }, undefined);
});

describe('repeatability', () => {
  const pooled = (facts: object) => ({ repeatability: { use: 'pooled', ...facts } });
  ofFlask('own', { repeatability: { use: 'own' } }, undefined);
  ofFlask('another use', { repeatability: { use: 'guessed' } }, ['validation-failed', '#/repeatability/use']);
  ofFlask('own with a value', { repeatability: { use: 'own', sdMl: '1' } }, [
    'validation-failed',
    '#/repeatability/sdMl',
  ]);
  ofFlask('pooled and typed', pooled({ sdMl: '0.012', degreesOfFreedom: 10 }), undefined);
  ofFlask('pooled from the record', pooled({}), undefined);
  ofFlask('9 degrees of freedom', pooled({ sdMl: '0.012', degreesOfFreedom: 9 }), [
    'validation-failed',
    '#/repeatability/degreesOfFreedom',
  ]);
  ofFlask('a spread alone', pooled({ sdMl: '0.012' }), ['validation-failed', '#/repeatability/degreesOfFreedom']);
  ofFlask('degrees of freedom alone', pooled({ degreesOfFreedom: 12 }), ['validation-failed', '#/repeatability/sdMl']);
  ofFlask('a spread below zero', pooled({ sdMl: '-0.1', degreesOfFreedom: 12 }), [
    'validation-failed',
    '#/repeatability/sdMl',
  ]);
});

describe('the day', () => {
  ofFlask('tomorrow', { performedOn: '2026-09-15' }, ['validation-failed', '#/performedOn']);
  ofFlask('no day of the calendar', { performedOn: '2026-06-31' }, ['validation-failed', '#/performedOn']);
  it('is today when nothing is said, and then nothing is entered later', async () => {
    const page = await server.calibrationPage(await server.calibration({}, flask));
    expect(page.performedOn).toBe('2026-09-14');
    expect(codesOf(page)).not.toContain('entered-later');
  });
  it('may be earlier, which is a finding; server time stays', async () => {
    const page = await server.calibrationPage(await server.calibration({ performedOn: '2026-09-10' }, flask));
    expect(page).toMatchObject({ performedOn: '2026-09-10', recordedAt: '2026-09-14T08:30:00.000Z' });
    expect(codesOf(page)).toContain('entered-later');
  });
});

describe('instruments', () => {
  const named = (name: string, instruments: () => object, expected: Expected) =>
    begins(
      name,
      () => flask,
      () => ({ instruments: instruments() }),
      expected,
    );
  named(
    'each in its place',
    () => ({ balanceId: balance, thermometerId: thermometer, airThermometerId: thermometer }),
    undefined,
  );
  named('an unknown id', () => ({ balanceId: 'aaaa' }), ['validation-failed', '#/instruments/balanceId']);
  named('no id at all', () => ({ balanceId: 'A B' }), ['validation-failed', '#/instruments/balanceId']);
  named('a thermometer as balance', () => ({ balanceId: thermometer }), [
    'validation-failed',
    '#/instruments/balanceId',
  ]);
  named('a balance as thermometer of the air', () => ({ airThermometerId: balance }), [
    'validation-failed',
    '#/instruments/airThermometerId',
  ]);
  named('an unknown place', () => ({ scaleId: balance }), ['validation-failed', '#/instruments/scaleId']);
  named('everything wrong at once', () => ({ balanceId: thermometer, hygrometerId: balance }), [
    'validation-failed',
    '#/instruments/balanceId',
    '#/instruments/hygrometerId',
  ]);

  it('out of use are refused', async () => {
    const broken = { kind: 'balance', tag: freshTag() };
    const id = await instrument(broken);
    await server.patch(`/api/instruments/${id}`, 1, { instrument: broken, inUse: false, reason: 'display broken' });
    const reply = await server.post(`/api/vessels/${flask}/calibrations`, {
      ...CALIBRATION,
      instruments: { balanceId: id },
    });
    expect(reply).toMatchObject({ status: 422, body: { errors: [{ pointer: '#/instruments/balanceId' }] } });
  });

  it('stay as they were when the calibration began', async () => {
    const old = { kind: 'balance', tag: freshTag(), resolutionG: '0.001', dueOn: '2026-01-31' };
    const id = await instrument(old);
    const calibration = await server.calibration({ instruments: { balanceId: id } }, flask);
    const renewed = { ...old, resolutionG: '0.0001', dueOn: '2027-01-31' };
    expect(
      (await server.patch(`/api/instruments/${id}`, 1, { instrument: renewed, reason: 'new certificate' })).status,
    ).toBe(200);
    const page = await server.calibrationPage(calibration);
    expect(page.instruments).toEqual({ balanceId: id });
    expect(page.instrumentFacts).toEqual({ balance: { resolutionG: '0.001', dueOn: '2026-01-31' } });
    expect(codesOf(page)).toContain('instrument-overdue');
    const later = await server.calibrationPage(await server.calibration({ instruments: { balanceId: id } }, flask));
    expect(later.instrumentFacts.balance?.resolutionG).toBe('0.0001');
    expect(codesOf(later)).not.toContain('instrument-overdue');
  });
});

describe('the first air', () => {
  const air = (name: string, conditions: object, expected: Expected, more: object = {}) =>
    ofFlask(name, { conditions: { ...CONDITIONS, ...conditions }, ...more }, expected);
  const at = (field: string): Expected => ['validation-failed', `#/conditions/${field}`];
  for (const value of ['4.9', '40.1']) air(`at ${value} °C`, { airTemperatureC: value }, at('airTemperatureC'));
  for (const value of ['599.9', '1100.1']) air(`at ${value} hPa`, { airPressureHpa: value }, at('airPressureHpa'));
  for (const value of ['-0.1', '100.1'])
    air(`at ${value} %`, { relativeHumidityPercent: value }, at('relativeHumidityPercent'));
  for (const ends of [
    ['5', '850', '0'],
    ['40', '1100', '100'],
  ])
    air(
      `at ${ends.join(', ')}`,
      { airTemperatureC: ends[0], airPressureHpa: ends[1], relativeHumidityPercent: ends[2] },
      undefined,
    );
  for (const field of ['airTemperatureHalfWidthC', 'evaporationMgPerMin', 'conductivityUsPerCm', 'acclimatisedH']) {
    air(`${field} below zero`, { [field]: '-0.1' }, at(field));
    air(`${field} zero`, { [field]: '0' }, undefined);
  }
  air('another water', { waterGrade: 'rain' }, at('waterGrade'));
  air('a word for yes', { inspected: 'yes' }, at('inspected'));
  air(
    'nothing known',
    { airTemperatureC: undefined, airPressureHpa: undefined, relativeHumidityPercent: undefined },
    undefined,
  );

  const asks: Expected = ['please-confirm', '#/conditions/airPressureHpa'];
  // No altitude is set: 850 to 1100 hPa is what laboratories see.
  air('at 849.9 hPa', { airPressureHpa: '849.9' }, asks);
  air('a name without a note', { airPressureHpa: '700', confirm: ['air-pressure'] }, asks);
  air('a note without a name', { airPressureHpa: '700', note: 'on the mountain' }, asks);
  air('name and note', { airPressureHpa: '700', confirm: ['air-pressure'], note: 'on the mountain' }, undefined);
  air('name and note beside it', { airPressureHpa: '700' }, undefined, { confirm: ['air-pressure'], note: 'high up' });
  air('an unknown name', { airPressureHpa: '700', confirm: ['pressure'], note: 'high up' }, at('confirm/0'));

  it('is refused with the correction of the instrument applied', async () => {
    const corrected = await instrument({ kind: 'thermometer', corrections: [{ at: '30', correction: '0.5' }] });
    const instruments = { airThermometerId: corrected };
    const reply = await server.post(`/api/vessels/${flask}/calibrations`, {
      ...CALIBRATION,
      instruments,
      conditions: { ...CONDITIONS, airTemperatureC: '39.8' },
    });
    expect(reply).toMatchObject({ status: 422, body: { errors: [{ pointer: '#/conditions/airTemperatureC' }] } });
  });
});
