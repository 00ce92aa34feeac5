/** A balance and vessels of the register in a class: its corrections in every volume, the vessel with each trial. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ClassData, ClassTrial } from '../../server/experiments/contract-class.ts';
import type { Experiment } from '../../server/experiments/contract.ts';
import { expectProblem } from '../server/attempts.ts';
import { freshTag, idOf, TestServer } from '../server/support.ts';
import { joinAt, ok, openExperiment, planned, READINGS } from './lesson.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(async () => server.end());

/** Invented: reads 1 mg too little at 60 g and 2 mg too much at 160 g. */
const CORRECTIONS = [
  { at: '60', correction: '0.0010' },
  { at: '160', correction: '-0.0020' },
];
const bodyOf = (facts: object = {}) => ({
  ...{ kind: 'balance', tag: freshTag(), resolutionG: '0.0001', corrections: CORRECTIONS, ...facts },
});
const balance = async (facts: object = {}): Promise<string> =>
  idOf(await server.post('/api/instruments', bodyOf(facts)));
const dataOf = async (id: string) => ok(await server.get(`/api/experiments/${id}/data`)) as unknown as ClassData;

/** One trial of a class that weighs on these balances. */
const weighedOn = async (balances: object[], readings: object = {}): Promise<{ id: string; trial: ClassTrial }> => {
  const { id, code } = await openExperiment(server, { balances });
  const { browser, url } = await joinAt(server, code);
  const trial = ok(await browser.post(`${url}/trials`, { ...READINGS, confirm: ['volume'], ...readings }));
  return { id, trial: trial as unknown as ClassTrial };
};

describe('a balance of the register', () => {
  it('corrects both readings as its certificate says, and keeps doing so once the class is closed', async () => {
    const instrumentId = await balance();
    const readings = { emptyG: '60.0000', filledG: '160.0000' };
    const { id, trial } = await weighedOn([{ label: 'Left', instrumentId }], readings);
    // By hand: 160.0000 − 0.0020 − (60.0000 + 0.0010) = 99.9970 g, and a gram for a millilitre the same in mL.
    expect(trial.massG).toBeCloseTo(99.997, 9);
    expect(trial.simpleVolumeMl).toBeCloseTo(99.997, 9);
    expect(trial.balanceCorrectionG).toBeCloseTo(-0.003, 9);
    expect(trial).toMatchObject({ emptyG: '60.0000', filledG: '160.0000' });
    ok(await server.post(`/api/experiments/${id}/closing`));
    const instrument = bodyOf({ corrections: [{ at: '100', correction: '0.5' }] });
    ok(await server.patch(`/api/instruments/${instrumentId}`, 1, { instrument, reason: 'a later certificate' }));
    const { balances, trials } = await dataOf(id);
    expect(balances).toEqual([{ label: 'Left', corrects: true }]);
    expect(trials[0]?.massG).toBe(trial.massG);
    expect((ok(await server.get(`/api/experiments/${id}`)) as unknown as Experiment).closing?.holds).toBe(true);
  });

  it('goes in a straight line between the points of its certificate', async () => {
    // By hand: at 110 g halfway between +1.0 mg and −2.0 mg, −0.5 mg; 110.0000 − 0.0005 − 60.0010 = 49.9985 g.
    const readings = { emptyG: '60.0000', filledG: '110.0000' };
    const { trial } = await weighedOn([{ label: 'Left', instrumentId: await balance() }], readings);
    expect(trial.massG).toBeCloseTo(49.9985, 9);
  });

  it('corrects nothing beside another, since nobody knows on which a trial was weighed', async () => {
    const { id, trial } = await weighedOn([{ label: 'Left', instrumentId: await balance() }, { label: 'Right' }]);
    expect(trial.balanceCorrectionG).toBe(0);
    expect((await dataOf(id)).balances.map(({ corrects }) => corrects)).toEqual([false, false]);
  });

  it('brings its last digit along, and is refused where it is out of use or no balance', async () => {
    const instrument = bodyOf({ resolutionG: '0.001' });
    const instrumentId = idOf(await server.post('/api/instruments', instrument));
    const id = await planned(server, { balances: [{ label: 'Left', instrumentId, resolutionG: '0.1' }] });
    expect(ok(await server.get(`/api/experiments/${id}`))).toMatchObject({
      balances: [{ label: 'Left', instrumentId, resolutionG: '0.001' }],
    });
    ok(await server.patch(`/api/instruments/${instrumentId}`, 1, { instrument, inUse: false, reason: 'sold' }));
    const thermometer = idOf(await server.post('/api/instruments', { kind: 'thermometer', tag: freshTag() }));
    for (const refused of [instrumentId, thermometer]) {
      const reply = await server.post('/api/experiments', {
        template: 'own',
        balances: [{ label: 'L', instrumentId: refused }],
      });
      expectProblem(reply, ['validation-failed', '#/balances/0/instrumentId']);
    }
  });
});

it('a row that names vessels tells their tags, and each trial which one it was', async () => {
  const tags = [freshTag(), freshTag()];
  const vesselIds: string[] = [];
  for (const tag of tags) vesselIds.push(await server.vessel({ tag }));
  const row = {
    ...{ key: 'flask', label: 'Flask', kind: 'volumetric-flask', nominalVolumeMl: '100', basis: 'contain' },
    ...{ vesselIds, trialsPerGroup: 2 },
  };
  const { id, code } = await openExperiment(server, { rows: [row] });
  const { browser, url } = await joinAt(server, code);
  const page = ok(await browser.get(url)) as { experiment: { rows: { vessels: { id: string; tag: string }[] }[] } };
  expect(page.experiment.rows[0]?.vessels).toEqual(vesselIds.map((vessel, at) => ({ id: vessel, tag: tags[at] })));
  for (const vesselId of vesselIds.toReversed()) ok(await browser.post(`${url}/trials`, { ...READINGS, vesselId }));
  const csv = await server.app.inject({ method: 'GET', url: `/api/experiments/${id}/data.csv` });
  const [head = '', ...lines] = csv.payload.trim().split('\r\n');
  const at = head.split(',').indexOf('vessel_tag');
  expect(lines.map((line) => line.split(',')[at])).toEqual(tags.toReversed());
});
