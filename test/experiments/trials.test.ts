/** What groups foresee and weigh: in that order, with the care of the bench, and each volume three ways. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ClassTrial } from '../../server/experiments/contract-class.ts';
import { attempt, everything, expectProblem } from '../server/attempts.ts';
import { freshKey, TestServer } from '../server/support.ts';
import { setUp, type Browser } from '../people/people.ts';
import { joinAt, ok, openExperiment, READINGS, type Joined, type Lesson } from './lesson.ts';

let server: TestServer;
let teacher: Browser;
let lesson: Lesson;
let group: Joined;
beforeAll(async () => {
  server = await TestServer.start();
  teacher = await setUp(server);
  lesson = await openExperiment(teacher, {
    template: 'four-ways',
    conditions: { airTemperatureC: '20', airPressureHpa: '1013.25', relativeHumidityPercent: '50' },
  });
});
afterAll(async () => server.end());

/** A group of its own for each test that counts trials. */
const fresh = async (): Promise<Joined> => (group = await joinAt(server, lesson.code));
const weigh = (facts: object, headers?: Record<string, string>) =>
  group.browser.post(`${group.url}/trials`, { ...READINGS, ...facts }, headers);
const FLASK_25 = { row: 'flask', emptyG: '30.0000', filledG: '54.9200', waterTemperatureC: '20.0' };

describe('the volume of a trial', () => {
  it('is told three ways: 100 g at 20 °C are 100, 100.180 and 100.285 mL', async () => {
    const { code } = await openExperiment(teacher);
    group = await joinAt(server, code);
    const trial = ok(
      await weigh({ emptyG: '0', filledG: '100.0000', waterTemperatureC: '20' }),
    ) as unknown as ClassTrial;
    // Textbook example of the correction: water at 20 °C 0.998203 g/mL gives 100.180 mL; with buoyancy in air of
    // 1.2 kg/m3 and weights of 8000 kg/m3 100.285 mL. At 20 °C the glass is as it was calibrated.
    expect(trial.simpleVolumeMl).toBe(100);
    expect(Math.abs(trial.densityVolumeMl - 100.18)).toBeLessThanOrEqual(0.0005);
    expect(Math.abs(trial.volumeMl - 100.285)).toBeLessThanOrEqual(0.0005);
  });

  it('takes the one temperature of the class where the trial names none, and says so', async () => {
    const conditions = { waterTemperatureC: '20' };
    const { code } = await openExperiment(teacher, { conditions });
    group = await joinAt(server, code);
    const trial = ok(await weigh({ emptyG: '0', filledG: '100.0000', waterTemperatureC: undefined }));
    expect(trial).toMatchObject({ waterTemperatureC: null, usedWaterTemperatureC: 20 });
    expect(Math.abs(Number(trial['densityVolumeMl']) - 100.18)).toBeLessThanOrEqual(0.0005);
    const codes = (trial['findings'] as { code: string }[]).map(({ code: found }) => found);
    expect(codes).toEqual(expect.arrayContaining(['water-temperature-assumed', 'air-assumed']));
  });

  it('needs a temperature from somebody', async () => {
    await fresh();
    const reply = await weigh({ ...FLASK_25, waterTemperatureC: undefined });
    expectProblem(reply, ['validation-failed', '#/waterTemperatureC']);
  });

  it('keeps readings as typed, and remarks on digits that the balances do not show', async () => {
    await fresh();
    const typed = { emptyG: '030.0000', filledG: '+54.92' };
    const trial = ok(await weigh({ ...FLASK_25, ...typed }));
    expect(trial).toMatchObject(typed);
    expect(trial['findings']).toContainEqual(expect.objectContaining({ code: 'digits-not-as-displayed' }));
    const shown = ok(await weigh({ ...FLASK_25, emptyG: '30.0001' }));
    expect(shown['findings']).not.toContainEqual(expect.objectContaining({ code: 'digits-not-as-displayed' }));
  });
});

describe('a reading', () => {
  beforeAll(fresh);
  const at = () => server;
  attempt('filled lighter than empty', ['validation-failed', '#/filledG'], at, () =>
    weigh({ ...FLASK_25, emptyG: '54.9200', filledG: '30.0000' }),
  );
  attempt('water of 41 °C', ['validation-failed', '#/waterTemperatureC'], at, () =>
    weigh({ ...FLASK_25, waterTemperatureC: '41' }),
  );
  attempt('a number instead of text', ['validation-failed', '#/emptyG'], at, () => weigh({ ...FLASK_25, emptyG: 30 }));
  attempt('a row the experiment does not have', ['validation-failed', '#/row'], at, () =>
    weigh({ ...FLASK_25, row: 'bucket' }),
  );
  attempt('a vessel that is not of the row', ['validation-failed', '#/vesselId'], at, () =>
    weigh({ ...FLASK_25, vesselId: 'aaaa' }),
  );
  attempt('a field for a name', ['validation-failed', '#/student'], at, () => weigh({ ...FLASK_25, student: 'Anna' }));
  attempt('a volume far off, until it is confirmed', ['please-confirm', '#/filledG'], at, () =>
    weigh({ ...FLASK_25, filledG: '53.0000' }),
  );
  attempt('a volume far off, confirmed by a touch', undefined, at, () =>
    weigh({ ...FLASK_25, filledG: '53.0000', confirm: ['volume'] }),
  );
  attempt('a beaker a fifth off, without asking', undefined, at, () =>
    weigh({ ...FLASK_25, row: 'beaker', filledG: '60.0000' }),
  );
});

it('is saved once, however often it is sent; two phones with the same key are two', async () => {
  const one = await fresh();
  const headers = { 'idempotency-key': freshKey() };
  const [first, second] = await Promise.all([weigh(FLASK_25, headers), weigh(FLASK_25, headers)]);
  expect(first.body).toEqual(second.body);
  expect(first.body).toMatchObject({ number: 1 });
  expectProblem(await weigh({ ...FLASK_25, filledG: '54.9300' }, headers), ['key-reused']);
  expectProblem(await one.browser.send('POST', `${one.url}/trials`, FLASK_25, { 'idempotency-key': '' }), [
    'idempotency-key-missing',
  ]);
  await fresh();
  ok(await weigh(FLASK_25, headers));
  expect(ok(await one.browser.get(one.url))['trials']).toHaveLength(1);
  expect(ok(await group.browser.get(group.url))['trials']).toHaveLength(1);
});

it('is numbered within its row', async () => {
  await fresh();
  for (const row of ['flask', 'beaker', 'flask']) ok(await weigh({ ...FLASK_25, row }));
  const { trials } = ok(await group.browser.get(group.url)) as unknown as { trials: ClassTrial[] };
  expect(trials.map(({ row, number }) => `${row} ${number}`)).toEqual(['beaker 1', 'flask 1', 'flask 2']);
});

it('ends at sixty trials in a row', async () => {
  await fresh();
  for (let number = 1; number <= 60; number += 1) ok(await weigh(FLASK_25));
  expectProblem(await weigh(FLASK_25), ['too-many-trials']);
}, 60_000);

describe('a prediction', () => {
  const foresee = (facts: object) => group.browser.post(`${group.url}/predictions`, { row: 'flask', ...facts });

  it('comes before the first trial of its row, and may be changed until then', async () => {
    await fresh();
    ok(await foresee({ volumeMl: '25', withinMl: '0.5', sureness: 'guess' }));
    const kept = ok(await foresee({ volumeMl: '25.0', withinMl: '0.1', sureness: 'sure' }));
    ok(await weigh(FLASK_25));
    expectProblem(await foresee({ volumeMl: '24.97' }), ['state-conflict']);
    ok(await foresee({ row: 'beaker', volumeMl: '26' }));
    const { predictions } = ok(await group.browser.get(group.url)) as { predictions: object[] };
    expect(predictions).toContainEqual(kept);
    expect(predictions).toHaveLength(2);
  });

  it('is refused at the field', async () => {
    await fresh();
    expectProblem(await foresee({ volumeMl: '0' }), ['validation-failed', '#/volumeMl']);
    expectProblem(await foresee({ volumeMl: '25', sureness: 'certainly' }), ['validation-failed', '#/sureness']);
    expectProblem(await foresee({ volumeMl: '25', row: 'bucket' }), ['validation-failed', '#/row']);
  });
});

describe('a slip', () => {
  const act = (what: string, body?: object) => group.browser.post(`${group.url}/trials/flask/1/${what}`, body);
  const correct = (facts: object) => act('correction', { field: 'filledG', reason: 'digits swapped', ...facts });

  it('is put right beside what was typed', async () => {
    await fresh();
    const before = ok(await weigh({ ...FLASK_25, filledG: '54.2900', confirm: ['volume'] })) as unknown as ClassTrial;
    const after = ok(await correct({ value: '54.9200' })) as unknown as ClassTrial;
    // 0.63 g more of water of 0.9982 g/mL: 0.6318 mL.
    expect(after.volumeMl - before.volumeMl).toBeCloseTo((0.63 / 0.99821 / (1 - 0.0012)) * (1 - 0.0012 / 8), 3);
    expect(after.corrections).toEqual([
      { field: 'filledG', previousValue: '54.2900', value: '54.9200', reason: 'digits swapped' },
    ]);
    const [row] = everything(server)['class_trial']!.filter(
      (one) => (one as { group_id: string }).group_id === group.group,
    );
    expect(row).toMatchObject({ filled_g: '54.2900' });
  });

  it('is asked about and refused at the new value', async () => {
    await fresh();
    ok(await weigh(FLASK_25));
    expectProblem(await correct({ value: '54.9200' }), ['validation-failed', '#/value']);
    expectProblem(await correct({ value: '29.0000' }), ['validation-failed', '#/value']);
    expectProblem(await correct({ value: '53.0000' }), ['please-confirm', '#/value']);
    expectProblem(await correct({ value: '54.9300', reason: '' }), ['validation-failed', '#/reason']);
    expectProblem(await correct({ field: 'waterTemperatureC', value: '77' }), ['validation-failed', '#/value']);
    ok(await correct({ value: '53.0000', confirm: ['volume'] }));
  });
});

describe('a trial that does not count', () => {
  const act = (what: string, body?: object) => group.browser.post(`${group.url}/trials/flask/1/${what}`, body);

  it('is left out with its cause, stays, and can be taken back in', async () => {
    await fresh();
    ok(await weigh(FLASK_25));
    expectProblem(await act('inclusion'), ['state-conflict']);
    expect(ok(await act('exclusion', { cause: 'spill' }))).toMatchObject({
      excluded: { cause: 'spill', reason: null },
    });
    expectProblem(await act('exclusion', { cause: 'spill' }), ['state-conflict']);
    expect(ok(await act('inclusion'))).toMatchObject({ excluded: null });
    expect(ok(await act('exclusion', { cause: 'other', reason: 'the door was slammed' }))).toMatchObject({
      excluded: { cause: 'other', reason: 'the door was slammed' },
    });
  });

  it('needs a cause; another one than those of the list needs words', async () => {
    await fresh();
    ok(await weigh(FLASK_25));
    expectProblem(await act('exclusion', {}), ['validation-failed', '#/cause']);
    expectProblem(await act('exclusion', { cause: 'other' }), ['validation-failed', '#/reason']);
    expectProblem(await group.browser.post(`${group.url}/trials/flask/2/exclusion`, { cause: 'spill' }), ['not-found']);
  });
});

it('belongs to an open experiment', async () => {
  const { id, code } = await openExperiment(teacher);
  const { url } = await joinAt(server, code);
  ok(await teacher.post(`${url}/trials`, READINGS));
  ok(await teacher.post(`/api/experiments/${id}/closing`));
  for (const [what, body] of [
    ['trials', READINGS],
    ['predictions', { row: 'flask', volumeMl: '100' }],
    ['trials/flask/1/exclusion', { cause: 'spill' }],
    ['trials/flask/1/correction', { field: 'filledG', value: '160.8372', reason: 'digits swapped' }],
  ] as const)
    expectProblem(await teacher.post(`${url}/${what}`, body), ['state-conflict']);
});

it('of twenty drops is one trial; the row says how many were counted', async () => {
  const { id, code } = await openExperiment(teacher, { template: 'drops' });
  group = await joinAt(server, code);
  ok(await weigh({ row: 'drops', emptyG: '30.0000', filledG: '30.9900', waterTemperatureC: '20' }));
  expect(ok(await teacher.get(`/api/experiments/${id}/data`))).toMatchObject({
    rows: [{ key: 'drops', drops: 20, nominalVolumeMl: '1', toleranceMl: null }],
    trials: [{ row: 'drops', massG: 0.99, group: 1 }],
  });
});
