/** The long table of a class, read by another parser than the one that wrote it. */
import { parse } from 'papaparse';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expectProblem } from '../server/attempts.ts';
import { TestServer } from '../server/support.ts';
import { setUp, type Browser } from '../people/people.ts';
import { joinAt, ok, openExperiment, READINGS, type Joined, type Lesson } from './lesson.ts';

let server: TestServer;
let teacher: Browser;
let lesson: Lesson;
let first: Joined;
let second: Joined;

/** The label is free text; this one a spreadsheet would reckon with. */
const FORMULA = '=1+1, "as marked"';
const FLASK = {
  ...{ key: 'flask', label: FORMULA, kind: 'volumetric-flask', nominalVolumeMl: '100.0', basis: 'contain' },
  trialsPerGroup: 2,
};
const PIPETTE = { ...FLASK, key: 'pipette', label: 'Pipette', kind: 'single-volume-pipette', basis: 'deliver' };

beforeAll(async () => {
  server = await TestServer.start();
  teacher = await setUp(server);
  const conditions = { airTemperatureC: '20', airPressureHpa: '1013.25', waterTemperatureC: '20' };
  lesson = await openExperiment(teacher, { rows: [FLASK, PIPETTE], conditions });
  first = await joinAt(server, lesson.code);
  second = await joinAt(server, lesson.code);
  const foreseen = { row: 'flask', volumeMl: '100.10', withinMl: '0.5', sureness: 'guess' };
  ok(await first.browser.post(`${first.url}/predictions`, foreseen));
  ok(await second.browser.post(`${second.url}/predictions`, { row: 'pipette', volumeMl: '99' }));
  ok(await first.browser.post(`${first.url}/trials`, { ...READINGS, emptyG: '61.2030', filledG: '160.8300' }));
  ok(await first.browser.post(`${first.url}/trials`, { ...READINGS, waterTemperatureC: undefined }));
  ok(await second.browser.post(`${second.url}/trials`, READINGS));
  ok(await second.browser.post(`${second.url}/trials/flask/1/exclusion`, { cause: 'spill' }));
});
afterAll(async () => server.end());

const textAt = async (url: string): Promise<string> => {
  const cookie = [...teacher.cookies].map(([name, value]) => `${name}=${value}`).join('; ');
  const reply = await server.app.inject({ method: 'GET', url, headers: { cookie } });
  expect(reply.statusCode).toBe(200);
  expect(reply.headers['content-type']).toBe('text/csv; charset=utf-8; header=present');
  return reply.body;
};
const table = async (id = lesson.id) => {
  const { data, errors } = parse<Record<string, string>>(await textAt(`/api/experiments/${id}/data.csv`), {
    header: true,
    skipEmptyLines: true,
  });
  expect(errors).toEqual([]);
  return data;
};

describe('the table', () => {
  it('holds a line for each trial, in the order of rows, groups and weighings', async () => {
    const order = (await table()).map((line) => [line['row'], line['group_number'], line['trial_number']]);
    expect(order).toEqual([
      ['flask', '1', '1'],
      ['flask', '1', '2'],
      ['flask', '2', '1'],
      ['pipette', '2', ''],
    ]);
  });

  it('keeps every digit that was typed, and says which water was assumed', async () => {
    const [typed, assumed] = await table();
    expect(typed).toMatchObject({
      ...{ empty_g: '61.2030', filled_g: '160.8300', water_temperature_c: '21.3', water_temperature_assumed: 'false' },
      ...{ nominal_volume_ml: '100.0', basis: 'contain', entered: 'phone', group_name: first.name },
      ...{ predicted_volume_ml: '100.10', predicted_within_ml: '0.5', sureness: 'guess', made_up: 'false' },
    });
    expect(assumed).toMatchObject({ water_temperature_c: '20', water_temperature_assumed: 'true' });
  });

  it('holds mass and volumes as they were worked out, ready to reckon with', async () => {
    const [line] = await table();
    const { mass_g: mass, simple_volume_ml: simple } = line ?? {};
    // 160.8300 g − 61.2030 g
    expect(mass).toBe('99.627');
    expect(simple).toBe('99.627');
    const { trials } = ok(await teacher.get(`/api/experiments/${lesson.id}/data`)) as {
      trials: { densityVolumeMl: number; volumeMl: number }[];
    };
    expect(Number(line?.['density_volume_ml'])).toBe(trials[0]?.densityVolumeMl);
    expect(Number(line?.['volume_ml'])).toBe(trials[0]?.volumeMl);
  });

  it('tells what was left out and why, and leaves nothing of it away', async () => {
    const lines = await table();
    expect(lines[2]).toMatchObject({ excluded: 'true', exclusion_cause: 'spill', filled_g: READINGS.filledG });
    expect(lines[0]).toMatchObject({ excluded: 'false', exclusion_cause: '' });
  });

  it('keeps a prediction that nobody weighed after, in a line without a trial', async () => {
    expect((await table())[3]).toMatchObject({ predicted_volume_ml: '99', filled_g: '', volume_ml: '', excluded: '' });
  });

  it('hands no formula to a spreadsheet, and ends its lines as RFC 4180 says', async () => {
    const text = await textAt(`/api/experiments/${lesson.id}/data.csv`);
    expect(text.split('\r\n')).toHaveLength(6);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    expect((await table())[0]).toMatchObject({ label: `'${FORMULA}` });
  });

  it('marks a made-up class in every line', async () => {
    const { id } = ok(await teacher.post(`/api/experiments/${lesson.id}/rehearsal`, { groups: 2, seed: 5 }));
    const lines = await table(String(id));
    expect(lines).toHaveLength(8);
    expect(new Set(lines.map((line) => line['made_up']))).toEqual(new Set(['true']));
  });

  it('is refused for an experiment that is not there', async () => {
    expectProblem(await teacher.get('/api/experiments/aaaa/data.csv'), ['not-found']);
  });
});

it('names are in no line while they are hidden, all or one of them', async () => {
  ok(await teacher.post(`/api/experiments/${lesson.id}/groups/${second.group}`, { hidden: true }));
  const named = (await table()).map((line) => line['group_name']);
  expect(named).toEqual([first.name, first.name, '', '']);
  const { version } = ok(await teacher.get(`/api/experiments/${lesson.id}`));
  ok(await teacher.patch(`/api/experiments/${lesson.id}`, Number(version), { namesHidden: true }));
  const text = await textAt(`/api/experiments/${lesson.id}/data.csv`);
  for (const { name } of [first, second]) expect(text).not.toContain(name);
});
