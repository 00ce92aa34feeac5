/** Which vessel to take, and a series with the ware of the register; limits of ISO 648:2008, ISO 1042:1998, ISO 4788:2005. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ChoiceReply, SeriesReply } from '../../server/solutions/contract-choice.ts';
import { expectProblem } from '../server/attempts.ts';
import { freshTag, TestServer } from '../server/support.ts';
import { calibrated, FLASK_100, PIPETTE_10 } from './shelf.ts';

let server: TestServer;
const tags = { p10: 'C-P10', p10b: 'C-P10B', p5: 'C-P5', p25: 'C-P25', f50: 'C-F50', f100: 'C-F100', cylinder: 'C-CY' };
beforeAll(async () => {
  server = await TestServer.start();
  const pipette = (nominalVolumeMl: string, tag: string) => server.vessel({ ...PIPETTE_10, nominalVolumeMl, tag });
  await pipette('10', tags.p10);
  await calibrated(server, await pipette('10', tags.p10b), '10', ['9.9720', '9.9722', '9.9718']);
  await pipette('5', tags.p5);
  await pipette('25', tags.p25);
  await server.vessel({ ...FLASK_100, nominalVolumeMl: '50', tag: tags.f50 });
  await server.vessel({ ...FLASK_100, tag: tags.f100 });
  await server.vessel({
    ...FLASK_100,
    kind: 'measuring-cylinder',
    nominalVolumeMl: '25',
    divisionMl: '0.5',
    basis: 'contain',
    tolerance: { standard: 'ISO 4788', edition: '2005', class: 'A' },
    tag: tags.cylinder,
  });
  const broken = await pipette('10', freshTag());
  await server.send('PATCH', `/api/vessels/${broken}`, { inUse: false, reason: 'chipped tip' }, { 'if-match': '"1"' });
});
afterAll(async () => server.end());

const choice = async (query: string): Promise<ChoiceReply> => {
  const reply = await server.get(`/api/solutions/choice?${query}`);
  expect(reply.status, JSON.stringify(reply.body)).toBe(200);
  return reply.body as unknown as ChoiceReply;
};

describe('choosing a vessel', () => {
  it('takes a class A pipette for 10 mL within 1 %, and does not offer what is out of use', async () => {
    const { vessels, wantedMl, pairs } = await choice('job=portion&volumeMl=10&accuracyPercent=1');
    expect(wantedMl).toBeCloseTo(0.1, 12);
    expect(
      vessels
        .filter(({ adequate }) => adequate)
        .map(({ tag }) => tag)
        .sort(),
    ).toEqual([tags.p10, tags.p10b]);
    expect(vessels.find(({ tag }) => tag === tags.p10b)?.measuredMl).toBeGreaterThan(9.9);
    expect(pairs).toEqual([]);
  });

  it('counts what was measured: within 0.3 % only the calibrated pipette will do', async () => {
    // Uncalibrated T = 0.02 mL against a fifth of 0.03 mL; calibrated 2u against a third of 0.03 mL.
    const { vessels } = await choice('job=portion&volumeMl=10&accuracyPercent=0.3');
    const by = new Map(vessels.map((vessel) => [vessel.tag, vessel]));
    expect(by.get(tags.p10)?.against).toEqual(['tolerance-too-wide']);
    expect(by.get(tags.p10b)).toMatchObject({ adequate: true, against: [] });
  });

  it('offers two deliveries where no vessel makes the volume', async () => {
    const { vessels, pairs } = await choice('job=portion&volumeMl=35');
    expect(vessels).toEqual([]);
    const named = pairs.map(({ first, second }) => [first.tag, second.tag].sort().join('+')).sort();
    expect(named).toEqual([`${tags.p10}+${tags.p25}`, `${tags.p10b}+${tags.p25}`]);
  });

  it('says why a flask does not deliver and a beaker does not measure, and what the standards allow', async () => {
    const { kinds } = await choice('job=portion&volumeMl=25&accuracyPercent=1');
    const by = new Map(kinds.map((kind) => [kind.kind, kind]));
    expect(by.get('volumetric-flask')?.against).toBe('holds-does-not-deliver');
    expect(by.get('beaker')?.against).toBe('scale-is-no-measure');
    // ISO 648:2008: 25 mL class A 0.03 mL, against a fifth of 0.25 mL.
    const classes = by.get('single-volume-pipette')?.classes ?? [];
    expect(classes.find((row) => row.standard === 'ISO 648' && row.class === 'A')).toMatchObject({
      toleranceMl: 0.03,
      adequate: true,
    });
  });

  it('ranks no kind that is not made for the volume, or errs by more than is wanted', async () => {
    const against = async (query: string) =>
      new Map((await choice(query)).kinds.map((kind) => [kind.kind, kind.against] as const));
    const huge = await against('job=any-portion&volumeMl=99999999');
    expect([huge.get('measuring-cylinder'), huge.get('burette')]).toEqual(['too-small', 'too-small']);
    // ISO 4788:2005: a cylinder of 25 mL errs by 0.25 mL at its best, more than the 0.05 mL wanted; ISO 648: 0.03 mL.
    const fine = await against('job=portion&volumeMl=25&accuracyPercent=0.2');
    expect([fine.get('measuring-cylinder'), fine.get('single-volume-pipette')]).toEqual(['too-uncertain', null]);
    const absurd = await against('job=portion&volumeMl=25&accuracyPercent=0.00001');
    expect(absurd.get('single-volume-pipette')).toBe('too-uncertain');
    const plain = await against('job=portion&volumeMl=25');
    expect([plain.get('measuring-cylinder'), plain.get('burette')]).toEqual([null, null]);
  });

  it('refuses a volume that is none at its field', async () => {
    const reply = await server.get('/api/solutions/choice?job=portion&volumeMl=0');
    expectProblem(reply, ['validation-failed', '#/volumeMl']);
  });
});

describe('a series with the ware of the register', () => {
  const stock = { name: 'iron', value: '1000', unit: 'mg/L', expandedUncertainty: '2' };
  const plan = async (more: object): Promise<SeriesReply> => {
    const body = { stock, targets: ['10', '100'], aim: 'fewest-transfers', ...more };
    const reply = await server.send('POST', '/api/solutions/series', body);
    expect(reply.status, JSON.stringify(reply.body)).toBe(200);
    return reply.body as unknown as SeriesReply;
  };

  it('names the vessels of each step, in the order asked for, the weaker from the stronger', async () => {
    const { solutions, pipettes, flasks } = await plan({});
    expect({ pipettes, flasks }).toEqual({ pipettes: 4, flasks: 2 });
    expect(solutions.map(({ target, transfers, from }) => ({ target, transfers, from }))).toEqual([
      { target: '10', transfers: 1, from: 1 },
      { target: '100', transfers: 1, from: null },
    ]);
    expect(solutions[0]?.value).toBeCloseTo(10, 0);
    // The stock alone: U = 2 mg/L, k = 2, so 0.1 % at least.
    expect(solutions[1]?.relativePercent).toBeGreaterThan(0.1);
  });

  it('refuses what is no dilution at its place', async () => {
    const body = { stock, targets: ['10', '1000'], aim: 'fewest-transfers' };
    expectProblem(await server.send('POST', '/api/solutions/series', body), ['validation-failed', '#/targets/1']);
  });
});
