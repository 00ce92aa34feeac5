/** What happens to a calibration after its readings: excluded, taken back, corrected, finished, reopened, abandoned. */
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { attempt, everything, expectProblem, type Expected } from './attempts.ts';
import { CONDITIONS, TestServer } from './support.ts';

let server: TestServer;
let id: string;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(async () => server.end());
/** Three trials that agree; invented readings. */
beforeEach(async () => {
  id = await server.calibration();
  for (const filledG of ['160.8371', '160.8412', '160.8330']) await server.trial(id, { filledG });
});

const act = (what: string, body: object) => server.post(`/api/calibrations/${id}/${what}`, body);
const page = () => server.calibrationPage(id);
const REASON = { reason: 'seen on the bench' };
const SPILL = { cause: 'spill', ...REASON };
const refuses = (name: string, what: string, body: object, expected: Expected) =>
  attempt(
    name,
    expected,
    () => server,
    () => act(what, body),
  );

describe('exclusion', () => {
  for (const reason of [undefined, null, '', ' a ', 'no', 5])
    refuses(`the reason ${JSON.stringify(reason)}`, 'trials/1/exclusion', { ...SPILL, reason }, [
      'validation-failed',
      '#/reason',
    ]);
  for (const cause of [undefined, 'outlier', 'Spill', ''])
    refuses(`the cause ${JSON.stringify(cause)}`, 'trials/1/exclusion', { ...SPILL, cause }, [
      'validation-failed',
      '#/cause',
    ]);
  refuses('a trial that is not there', 'trials/4/exclusion', SPILL, ['not-found']);
  refuses('taking back what counts', 'trials/1/inclusion', REASON, ['state-conflict']);
  refuses('taking back without a reason', 'trials/1/inclusion', {}, ['validation-failed', '#/reason']);

  it('leaves the trial to be seen: 2 of 3', async () => {
    expect(await act('trials/2/exclusion', SPILL)).toMatchObject({ status: 201, body: { number: 2 } });
    const { points, trials, final } = await page();
    expect(points).toMatchObject([{ n: 2, nRecorded: 3 }]);
    expect(final).toBe(false);
    expect(trials[1]).toMatchObject({ filledG: '160.8412', exclusion: SPILL });
    expect(trials[1]?.exclusion).toMatchObject({ recordedAt: server.now.toISOString() });
    expectProblem(await act('trials/2/exclusion', SPILL), ['state-conflict']);
  });

  it('can be taken back by a second entry, and made again', async () => {
    await act('trials/2/exclusion', SPILL);
    expect((await act('trials/2/inclusion', { reason: 'it was trial 3' })).status).toBe(201);
    expect((await page()).points).toMatchObject([{ n: 3, nRecorded: 3 }]);
    expect((await page()).trials[1]?.exclusion).toBeNull();
    await act('trials/2/exclusion', { cause: 'other', reason: 'after all' });
    expect((await page()).trials[1]?.exclusion).toMatchObject({ cause: 'other', reason: 'after all' });
    const rows = everything(server)['trial_exclusion'] as {
      calibration_id: string;
      number: number;
      excluded: number;
    }[];
    expect(rows.filter((row) => row.calibration_id === id)).toMatchObject([
      { number: 1, excluded: 1 },
      { number: 2, excluded: 0 },
      { number: 3, excluded: 1 },
    ]);
  });

  it('that changes the verdict shows both', async () => {
    // A fourth trial 0.4 mL too high takes the mean out of the tolerance of 0.1 mL; without it the mean is inside.
    id = await server.calibration();
    for (const filledG of ['160.8960', '160.8980', '160.8940']) await server.trial(id, { filledG });
    const { points: before } = await page();
    await server.trial(id, { filledG: '161.9000' });
    expect((await page()).points[0]?.verdictWithExcluded).toBeNull();
    await act('trials/4/exclusion', SPILL);
    const [point] = (await page()).points;
    expect(point?.verdict).toBe(before[0]?.verdict);
    expect(point?.verdictWithExcluded).not.toBeNull();
    expect(point?.verdictWithExcluded).not.toBe(point?.verdict);
    await act('trials/4/inclusion', REASON);
    expect((await page()).points[0]?.verdict).toBe(point?.verdictWithExcluded);
  });

  it('of every trial leaves nothing to judge', async () => {
    for (const number of [1, 2, 3]) await act(`trials/${number}/exclusion`, SPILL);
    const { points, verdict } = await page();
    expect(points).toMatchObject([{ n: 0, nRecorded: 3, meanMl: null, sdMl: null, verdict: null }]);
    expect(verdict).toBeNull();
  });
});

describe('correction', () => {
  const slip = { field: 'filledG', value: '160.8317', reason: 'digits swapped' };
  const corrects = (name: string, body: object, expected: Expected) =>
    refuses(name, 'trials/1/correction', { ...slip, ...body }, expected);
  corrects('a field that is no reading', { field: 'pointMl' }, ['validation-failed', '#/field']);
  corrects('no field', { field: undefined }, ['validation-failed', '#/field']);
  corrects('a number', { value: 160.8317 }, ['validation-failed', '#/value']);
  corrects('no reason', { reason: 'x' }, ['validation-failed', '#/reason']);
  corrects('the value that stands there', { value: '160.8371' }, ['validation-failed', '#/value']);
  corrects('filled below empty', { value: '61.2' }, ['validation-failed', '#/value']);
  corrects('empty above filled', { field: 'emptyG', value: '160.9' }, ['validation-failed', '#/value']);
  corrects('water too hot', { field: 'waterTemperatureC', value: '40.1' }, ['validation-failed', '#/value']);
  corrects('air too cold', { field: 'airTemperatureC', value: '4' }, ['validation-failed', '#/value']);
  corrects('a humidity above all', { field: 'relativeHumidityPercent', value: '101' }, [
    'validation-failed',
    '#/value',
  ]);
  for (const field of ['deliveryTimeS', 'waitingTimeS', 'openTimeS', 'waterTemperatureHalfWidthC'])
    corrects(`${field} below zero`, { field, value: '-1' }, ['validation-failed', '#/value']);
  corrects('a volume far off', { value: '150' }, ['please-confirm', '#/value']);
  corrects('a volume far off, a name alone', { value: '150', confirm: ['volume'] }, ['please-confirm', '#/value']);
  corrects('a volume far off, confirmed', { value: '150', confirm: ['volume'], note: 'half full' }, undefined);
  corrects('a pressure in another unit', { field: 'airPressureHpa', value: '745' }, ['please-confirm', '#/value']);
  refuses('a trial that is not there', 'trials/4/correction', slip, ['not-found']);

  it('leaves the old value beside the new one, and counts on', async () => {
    await act('trials/1/correction', slip);
    await act('trials/1/correction', { ...slip, value: '160.8370', reason: 'read again' });
    const { points, trials } = await page();
    expect(points).toMatchObject([{ n: 3, nRecorded: 3 }]);
    expect(trials[0]).toMatchObject({ filledG: '160.8371', used: { filledG: '160.8370', emptyG: '61.2034' } });
    expect(trials[0]?.corrections).toMatchObject([
      { field: 'filledG', value: '160.8317', reason: 'digits swapped' },
      { field: 'filledG', value: '160.8370', reason: 'read again' },
    ]);
    // Exact decimal difference of the readings that count: 160.8370 − 61.2034.
    expect(trials[0]?.massG).toBe(99.6336);
    const entries = everything(server)['journal_entry'] as { act: string; before: string; after: string }[];
    const told = entries
      .filter((entry) => entry.act === 'trial-corrected')
      .map((entry) => JSON.parse(entry.before) as unknown);
    expect(told.slice(-2)).toEqual([
      { number: 1, field: 'filledG', value: '160.8371' },
      { number: 1, field: 'filledG', value: '160.8317' },
    ]);
  });

  it('can bring a value that was not read at first', async () => {
    await act('trials/1/correction', { field: 'deliveryTimeS', value: '0', reason: 'forgotten' });
    expect((await page()).trials[0]?.corrections).toMatchObject([{ field: 'deliveryTimeS', value: '0' }]);
  });

  it('does not ask again what was confirmed with the trial', async () => {
    const odd = { filledG: '158.0000', confirm: ['volume'], note: 'another mark' };
    const number = await server.trial(id, odd);
    const time = { field: 'deliveryTimeS', value: '12', reason: 'forgotten' };
    expect((await act(`trials/${number}/correction`, time)).status).toBe(201);
    const odder = { field: 'filledG', value: '157.0000', reason: 'misread' };
    expectProblem(await act(`trials/${number}/correction`, odder), ['please-confirm', '#/value']);
  });
});

describe('the end', () => {
  refuses('finishing with a reason too short', 'measured', { reason: 'ok' }, ['validation-failed', '#/reason']);
  refuses('reopening what is open', 'reopening', REASON, ['state-conflict']);
  refuses('abandoning without a reason', 'abandonment', {}, ['validation-failed', '#/reason']);

  it('comes without a reason once the planned number counts', async () => {
    expect(await act('measured', {})).toMatchObject({ status: 201, body: { id, state: 'measured' } });
    expect(await page()).toMatchObject({ state: 'measured', final: true });
    expectProblem(await act('measured', {}), ['state-conflict']);
  });

  it('comes earlier only with one, which stays readable', async () => {
    await act('trials/2/exclusion', SPILL);
    expectProblem(await act('measured', {}), ['validation-failed', '#/reason']);
    expect((await act('measured', REASON)).status).toBe(201);
    expect((await page()).acts).toMatchObject([{ act: 'calibration-measured', reason: REASON.reason }]);
  });

  it('is taken back with a reason, and the calibration takes trials again', async () => {
    await act('measured', {});
    expectProblem(await act('reopening', {}), ['validation-failed', '#/reason']);
    expect(await act('reopening', REASON)).toMatchObject({ status: 201, body: { state: 'open' } });
    expect(await server.trial(id)).toBe(4);
    expect((await page()).acts.map((one) => one.act)).toEqual(['calibration-measured', 'calibration-reopened']);
  });

  it('can be giving up, from open and from measured, and then nothing follows', async () => {
    await act('measured', {});
    expect(await act('abandonment', REASON)).toMatchObject({ body: { state: 'abandoned' } });
    for (const what of ['abandonment', 'reopening']) expectProblem(await act(what, REASON), ['state-conflict']);
    expect(await page()).toMatchObject({ state: 'abandoned', points: [{ n: 3 }] });
  });

  it('keeps the vessel as it was when measuring ended', async () => {
    const { vessel } = await page();
    await act('measured', {});
    const change = { tolerance: { standard: 'ISO 1042', edition: '1998', class: 'B' }, reason: 'mark misread' };
    expect((await server.patch(`/api/vessels/${vessel.id}`, 1, change)).status).toBe(200);
    expect((await page()).points).toMatchObject([{ toleranceMl: 0.1 }]);
    await act('reopening', REASON);
    expect((await page()).points).toMatchObject([{ toleranceMl: 0.2 }]);
  });

  it('given up, is not the latest of its vessel any more', async () => {
    const { vessel } = await page();
    server.now = new Date(server.now.getTime() + 60_000);
    const later = await server.calibration({}, vessel.id);
    const latest = async () => {
      const { body } = await server.get(`/api/vessels?search=${vessel.tag}`);
      const { items } = body as { items: { tag: string; latest: { id: string } | null }[] };
      return items.find((item) => item.tag === vessel.tag)?.latest?.id;
    };
    expect(await latest()).toBe(later);
    await server.post(`/api/calibrations/${later}/abandonment`, REASON);
    expect(await latest()).toBe(id);
    await act('abandonment', REASON);
    expect(await latest()).toBeUndefined();
    expect((await server.vesselPage(vessel.id)).calibrations.map((one) => one.state)).toEqual([
      'abandoned',
      'abandoned',
    ]);
  });
});

describe('the plan', () => {
  const change = (body: object) => server.patch(`/api/calibrations/${id}`, 4, body);
  const plans = (name: string, body: object, expected: Expected) =>
    attempt(
      name,
      expected,
      () => server,
      () => change(body),
    );
  plans('a change without a reason', { plannedTrials: 4 }, ['validation-failed', '#/reason']);
  plans('no trials', { plannedTrials: 0, ...REASON }, ['validation-failed', '#/plannedTrials']);
  plans('another rule', { decisionRule: 'lenient', ...REASON }, ['validation-failed', '#/decisionRule']);
  plans('other points', { points: ['50'], ...REASON }, ['validation-failed', '#/points']);
  plans('a change with a reason', { plannedTrials: 4, ...REASON }, undefined);

  it('is changed by its version, and both verdicts are kept', async () => {
    const before = await page();
    expect(before).toMatchObject({ version: 4, final: true });
    const reply = await change({ plannedTrials: 5, decisionRule: 'simple', coverageProbability: '0.95', ...REASON });
    expect(reply).toMatchObject({ status: 200, body: { version: 5 } });
    const after = await page();
    expect(after).toMatchObject({ version: 5, plannedTrials: 5, decisionRule: 'simple', final: false });
    expect(after.points).toMatchObject([{ coverageProbability: '0.95' }]);
    const acts = everything(server)['calibration_act'] as { calibration_id: string; facts: string }[];
    const facts: unknown = JSON.parse(acts.find((one) => one.calibration_id === id)?.facts ?? '');
    expect(facts).toMatchObject({
      before: { plannedTrials: 3, decisionRule: 'guarded', coverageProbability: '0.9545' },
      after: { plannedTrials: 5, decisionRule: 'simple', coverageProbability: '0.95' },
      verdictBefore: before.verdict,
    });
    expect(after.acts.at(-1)).toMatchObject({
      act: 'plan-changed',
      before: { plannedTrials: 3, decisionRule: 'guarded', coverageProbability: '0.9545', verdict: before.verdict },
    });
  });
});

describe('air read again', () => {
  refuses('air too warm', 'conditions', { airTemperatureC: '41' }, ['validation-failed', '#/airTemperatureC']);
  refuses('a pressure in another unit', 'conditions', { airPressureHpa: '745' }, [
    'please-confirm',
    '#/airPressureHpa',
  ]);
  refuses(
    'a pressure confirmed',
    'conditions',
    { airPressureHpa: '745', confirm: ['air-pressure'], note: 'high' },
    undefined,
  );

  it('holds for the trials that follow, not for those before', async () => {
    expect((await act('conditions', { airTemperatureC: '25.0', note: 'sun on the bench' })).status).toBe(201);
    await server.trial(id);
    await act('conditions', { airTemperatureC: '24.0', airPressureHpa: '990.0' });
    await server.trial(id);
    await server.trial(id, { airTemperatureC: '23.0' });
    const { trials, conditionReadings, conditions } = await page();
    expect(trials.map(({ air }) => [air.temperatureC, air.pressureHpa])).toEqual([
      ...Array.from({ length: 3 }, () => [21.8, 992.5]),
      [25, 992.5],
      [24, 990],
      [23, 990],
    ]);
    expect(conditionReadings).toMatchObject([
      { afterTrial: 3, airTemperatureC: '25.0', note: 'sun on the bench', recordedAt: server.now.toISOString() },
      { afterTrial: 4, airTemperatureC: '24.0', airPressureHpa: '990.0' },
    ]);
    expect(conditions).toEqual(CONDITIONS);
  });
});
