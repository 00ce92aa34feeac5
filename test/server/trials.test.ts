/** Recording a trial: what is refused, what is asked, what is only noted, and when a calibration takes none. */
import Database from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { attempt, expectProblem, type Expected } from './attempts.ts';
import { CONDITIONS, freshTag, idOf, TestServer, TRIAL } from './support.ts';

let server: TestServer;
let flask: string;
beforeAll(async () => {
  server = await TestServer.start();
  flask = await server.calibration({ plannedTrials: 1000 });
});
afterAll(async () => server.end());

const record = (calibration: string, facts: object) =>
  server.post(`/api/calibrations/${calibration}/trials`, { ...TRIAL, ...facts });
const tries = (name: string, facts: object, expected: Expected) =>
  attempt(
    name,
    expected,
    () => server,
    () => record(flask, facts),
  );
const at = (field: string): Expected => ['validation-failed', `#/${field}`];

describe('refused outright, confirmed or not', () => {
  const insisting = { confirm: ['air-pressure', 'volume'], note: 'really so' };
  const refuses = (name: string, facts: object, field: string) => {
    tries(name, facts, at(field));
    tries(`${name}, insisting`, { ...facts, ...insisting }, at(field));
  };
  refuses('filled equal to empty', { emptyG: '160.8371' }, 'filledG');
  refuses('filled equal with other digits', { emptyG: '160.83710' }, 'filledG');
  refuses('filled below empty', { emptyG: '160.8372' }, 'filledG');
  refuses(
    'filled below empty by less than a double tells',
    { emptyG: '100.00000000000000002', filledG: '100.00000000000000001' },
    'filledG',
  );
  for (const value of ['-0.1', '40.1'])
    refuses(`water at ${value} °C`, { waterTemperatureC: value }, 'waterTemperatureC');
  for (const value of ['4.9', '40.1']) refuses(`air at ${value} °C`, { airTemperatureC: value }, 'airTemperatureC');
  for (const value of ['599', '1100.1']) refuses(`air at ${value} hPa`, { airPressureHpa: value }, 'airPressureHpa');
  for (const value of ['-0.1', '100.1'])
    refuses(`humidity ${value} %`, { relativeHumidityPercent: value }, 'relativeHumidityPercent');
  for (const field of ['waterTemperatureHalfWidthC', 'deliveryTimeS', 'waitingTimeS', 'openTimeS'])
    refuses(`${field} below zero`, { [field]: '-0.01' }, field);
});

describe('fields', () => {
  for (const field of ['pointMl', 'emptyG', 'filledG', 'waterTemperatureC'])
    tries(`no ${field}`, { [field]: undefined }, at(field));
  tries('a point that is not planned', { pointMl: '50' }, at('pointMl'));
  tries('a point a hair beside', { pointMl: '100.00000000000000001' }, at('pointMl'));
  tries('the point written otherwise', { pointMl: '100.0' }, undefined);
  tries('the point with a sign', { pointMl: '+100.' }, undefined);
  tries('an unknown source of the empty reading', { emptySource: 'guessed' }, at('emptySource'));
  tries('an unknown state', { emptyState: 'wet' }, at('emptyState'));
  tries('a computed value', { volumeMl: '100' }, at('volumeMl'));
  tries('an exclusion', { exclusion: { cause: 'spill', reason: 'it ran over' } }, at('exclusion'));
  tries('another time', { recordedAt: '2020-01-01T00:00:00Z' }, at('recordedAt'));
  for (const value of ['0', '-0.0'])
    tries(
      `a half-width and times of ${value}`,
      { waterTemperatureHalfWidthC: value, deliveryTimeS: value, openTimeS: value },
      undefined,
    );
});

describe('a reading taken over', () => {
  const over = (name: string, facts: object, expected: Expected) =>
    tries(name, { emptyState: 'dry', ...facts }, expected);
  over('reused from trial 1', { emptySource: 'reused', emptyOf: 1 }, undefined);
  over('carried from trial 1', { emptySource: 'carried', emptyOf: 1, emptyState: 'drained' }, undefined);
  over('reused from nowhere named', { emptySource: 'reused' }, undefined);
  over(
    'a zero set with the empty vessel on',
    { emptySource: 'tared', emptyG: '0.0000', filledG: '99.6337' },
    undefined,
  );
  over('from a trial to come', { emptySource: 'reused', emptyOf: 900 }, at('emptyOf'));
  over('from trial 0', { emptySource: 'reused', emptyOf: 0 }, at('emptyOf'));
  over('from trial 1.5', { emptySource: 'reused', emptyOf: 1.5 }, at('emptyOf'));
  over('from a trial as text', { emptySource: 'reused', emptyOf: '1' }, at('emptyOf'));
  over('an own reading of another trial', { emptySource: 'own', emptyOf: 1 }, at('emptyOf'));
  over('a tared reading of another trial', { emptySource: 'tared', emptyOf: 1 }, at('emptyOf'));
  over('of another trial without saying how', { emptyOf: 1 }, at('emptyOf'));
  it('from itself', async () => {
    const fresh = await server.calibration();
    expectProblem(await record(fresh, { emptySource: 'carried', emptyOf: 1 }), ['validation-failed', '#/emptyOf']);
  });
});

describe('asked, not guessed', () => {
  const volume: Expected = ['please-confirm', '#/filledG'];
  const light = { filledG: '158.8371' };
  // 100 mL, ±0.1 mL: the question begins beyond the larger of five tolerances and 2 % of the point, here 2 mL.
  tries('2.06 mL below the point', light, volume);
  tries('2.3 mL above the point', { filledG: '163.2000' }, volume);
  tries('1.9 mL above the point', { filledG: '162.8000' }, undefined);
  tries('a name without a note', { ...light, confirm: ['volume'] }, volume);
  tries('a name with an empty note', { ...light, confirm: ['volume'], note: ' \n' }, volume);
  tries('a note without the name', { ...light, note: 'bubble under the mark' }, volume);
  tries('the other name', { ...light, confirm: ['air-pressure'], note: 'bubble' }, volume);
  tries('the name with a note', { ...light, confirm: ['volume'], note: 'bubble under the mark' }, undefined);
  const low = { airPressureHpa: '745' };
  tries('mmHg for hPa', low, ['please-confirm', '#/airPressureHpa']);
  tries('mmHg for hPa, confirmed', { ...low, confirm: ['air-pressure'], note: 'high up' }, undefined);
  tries('both at once', { ...low, ...light }, ['please-confirm', '#/airPressureHpa', '#/filledG']);
  tries('both, one confirmed', { ...low, ...light, confirm: ['volume'], note: 'both seen' }, [
    'please-confirm',
    '#/airPressureHpa',
  ]);
  tries('both, both confirmed', { ...low, ...light, confirm: ['volume', 'air-pressure'], note: 'both' }, undefined);
  tries('nothing to ask, confirmed', { confirm: ['volume'], note: 'as always' }, undefined);

  it('keeps the note and comes back with it', async () => {
    const id = await server.calibration();
    await record(id, { ...light, confirm: ['volume'], note: 'bubble under the mark' });
    const page = await server.calibrationPage(id);
    expect(page.trials[0]).toMatchObject({ note: 'bubble under the mark', filledG: '158.8371' });
    expect(page.trials[0]?.findings.map((finding) => finding.code)).toContain('volume-unusual');
  });

  it('wider for ware that is read coarsely: 30 % of a beaker, 10 % of a pycnometer', async () => {
    const beaker = { kind: 'beaker', tolerance: { standard: 'ISO 3819', edition: 'unknown', class: '-' } };
    const rows: [facts: object, fits: string, asks: string][] = [
      [beaker, '190.0000', '192.0000'],
      [{ kind: 'pycnometer', tolerance: undefined }, '170.6000', '171.2000'],
    ];
    for (const [facts, fits, asks] of rows) {
      const id = await server.calibration({}, await server.vessel(facts));
      expect((await record(id, { filledG: fits })).status).toBe(201);
      expectProblem(await record(id, { filledG: asks }), ['please-confirm', '#/filledG']);
    }
  });

  it('does not ask again for the air that was confirmed at the start', async () => {
    const conditions = { ...CONDITIONS, airPressureHpa: '700', confirm: ['air-pressure'], note: 'high up' };
    expect((await record(await server.calibration({ conditions }), {})).status).toBe(201);
  });
});

describe('only noted', () => {
  it.each([
    ['no inspection', { conditions: { ...CONDITIONS, inspected: undefined } }],
    ['nothing known of the air', { conditions: {} }],
  ])('%s', async (_name, facts) => {
    expect((await record(await server.calibration(facts), {})).status).toBe(201);
  });

  it('trials beyond the plan, in the answer and on the page', async () => {
    const id = await server.calibration({ plannedTrials: 1 });
    const codes = async (facts: object) => {
      const { body } = await record(id, facts);
      return (body['findings'] as { code: string }[]).map((finding) => finding.code);
    };
    expect(await codes({})).not.toContain('beyond-plan');
    expect(await codes({ pointMl: '100.0' })).toContain('beyond-plan');
    const page = await server.calibrationPage(id);
    expect(page.trials.map((trial) => trial.findings.some(({ code }) => code === 'beyond-plan'))).toEqual([
      false,
      true,
    ]);
    expect(page.points).toMatchObject([{ n: 2, nRecorded: 2 }]);
  });
});

describe('when there is nothing to add to', () => {
  it('an unknown calibration', async () => {
    expectProblem(await record('aaaa', {}), ['not-found']);
  });

  it.each([
    ['measured', 'measured', { reason: 'the water ran out' }],
    ['abandoned', 'abandonment', { reason: 'the flask broke' }],
  ])('one that is %s takes no act that belongs to an open one', async (_state, act, body) => {
    const id = await server.calibration();
    await server.trial(id);
    const url = `/api/calibrations/${id}`;
    expect((await server.post(`${url}/${act}`, body)).status).toBe(201);
    const reason = 'seen too late';
    const acts: [address: string, body: object][] = [
      ['trials', TRIAL],
      ['trials/1/exclusion', { cause: 'spill', reason }],
      ['trials/1/inclusion', { reason }],
      ['trials/1/correction', { field: 'emptyG', value: '61.2035', reason }],
      ['conditions', CONDITIONS],
      ['measured', { reason }],
    ];
    for (const [address, acted] of acts)
      expectProblem(await server.post(`${url}/${address}`, acted), ['state-conflict']);
    expectProblem(await server.patch(url, 3, { plannedTrials: 2, reason }), ['state-conflict']);
  });

  it('a full one: 1000 trials and not one more', async () => {
    const id = await server.calibration({ plannedTrials: 2 });
    await server.trial(id);
    copyTrials(server.logbook.file, id, 999);
    expect((await record(id, {})).body).toMatchObject({ number: 1000 });
    expectProblem(await record(id, {}), ['too-many-trials']);
    const page = await server.calibrationPage(id);
    expect(page.trials.map((trial) => trial.number)).toEqual(Array.from({ length: 1000 }, (_, index) => index + 1));
    expect(page.points).toMatchObject([{ n: 1000, nRecorded: 1000 }]);
  });
});

/** Rows as if trial 1 had been recorded again and again, up to `last`. */
function copyTrials(file: string, calibration: string, last: number): void {
  const handle = new Database(file);
  const columns = (handle.pragma('table_info(trial)') as { name: string }[]).map(({ name }) => name);
  const chosen = columns.map((name) => (name === 'number' ? '?' : `"${name}"`)).join(', ');
  const copy = handle.prepare(`insert into trial select ${chosen} from trial where calibration_id = ? and number = 1`);
  handle.transaction(() => {
    for (let number = 2; number <= last; number += 1) copy.run(number, calibration);
    handle
      .prepare('update calibration_standing set trials_recorded = ? where calibration_id = ?')
      .run(last, calibration);
  })();
  handle.close();
}

it('judges a reading with the correction of the thermometer, unless the temperature is assumed', async () => {
  const thermometer = { kind: 'thermometer', tag: freshTag(), corrections: [{ at: '39', correction: '1.5' }] };
  const thermometerId = idOf(await server.post('/api/instruments', thermometer));
  const id = await server.calibration({ instruments: { thermometerId } });
  const hot = { waterTemperatureC: '39.0', confirm: ['volume'], note: 'a hot day' };
  expectProblem(await record(id, hot), ['validation-failed', '#/waterTemperatureC']);
  expect((await record(id, { ...hot, waterTemperatureHalfWidthC: '0.5' })).status).toBe(201);
});
