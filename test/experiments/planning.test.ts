/** Planning an experiment: templates, how long it takes, whether the balances are fine enough, what is refused. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { TEMPLATES, type Experiment, type Foresight } from '../../server/experiments/contract.ts';
import { foresightOf, resolutionUncertaintyMl } from '../../server/experiments/foresight.ts';
import { planOf } from '../../server/experiments/templates.ts';
import { expectProblem } from '../server/attempts.ts';
import { freshTag, idOf, TestServer } from '../server/support.ts';
import { measuredExperiment, ok, openExperiment, PLAN, planned } from './lesson.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(async () => server.end());

const pageOf = async (id: string) => ok(await server.get(`/api/experiments/${id}`)) as unknown as Experiment;

describe('a template', () => {
  it.each(TEMPLATES)('%s can be taken as it is, and fits its tables', async (template) => {
    const id = idOf(await server.post('/api/experiments', { template }));
    const page = await pageOf(id);
    expect(page).toMatchObject({ state: 'planned', template, madeUp: false, counts: { groups: 0, trials: 0 } });
    for (const row of page.rows)
      expect({ row: row.key, found: row.tolerance === undefined || row.toleranceMl !== null }).toEqual({
        row: row.key,
        found: true,
      });
  });

  it('of four ways has the limits that the standards name', async () => {
    const { rows } = await pageOf(idOf(await server.post('/api/experiments', { template: 'four-ways' })));
    const limits = Object.fromEntries(rows.map((row) => [row.key, row.toleranceMl]));
    // ISO 1042:1998 class A 25 mL, ISO 648:2008 class A 25 mL, ISO 4788:2005 class B 25 mL; the beaker: 10 % of 25 mL.
    expect(limits).toEqual({ flask: 0.04, pipette: 0.03, cylinder: 0.5, beaker: 2.5 });
  });

  it('tells how each kind of ware is read: all certain digits and one estimated', async () => {
    const { rows } = await pageOf(idOf(await server.post('/api/experiments', { template: 'four-ways' })));
    const rules = Object.fromEntries(rows.map((row) => [row.key, row.readingRule]));
    expect(rules).toMatchObject({
      flask: { mark: 'ring', estimatedToMl: null },
      pipette: { mark: 'ring', estimatedToMl: null },
      // A division of 0.5 mL, a tenth of it estimated (general chemistry practice).
      cylinder: { mark: 'scale', divisionMl: 0.5, estimatedToMl: 0.05 },
      beaker: { mark: 'broad', estimatedToMl: null },
    });
  });
});

describe('the time it takes', () => {
  const plan = { ...planOf('one-flask-many-hands'), expectedGroups: 12, lessonMinutes: 45 };
  const row = plan.rows[0]!;

  it('is weighings × 30 s ÷ balances', () => {
    // By hand: 12 groups × 5 trials × 2 readings = 120 weighings × 30 s = 60 min at one balance, 15 at four.
    const rows = [{ ...row, trialsPerGroup: 5 }];
    const one = { label: 'B', resolutionG: '0.01' };
    expect(foresightOf({ ...plan, rows, balances: [one] })).toMatchObject({ weighings: 120, minutes: 60, fits: false });
    expect(foresightOf({ ...plan, rows, balances: [one, one, one, one] })).toMatchObject({ minutes: 15, fits: true });
  });

  it('is cut to the lesson by fewer trials, or by more balances', () => {
    const rows = [
      { ...row, key: 'a', trialsPerGroup: 5 },
      { ...row, key: 'b', trialsPerGroup: 2 },
    ];
    // By hand: 7 trials × 12 × 2 = 168 weighings, 84 min. At most 1 of each: 48 weighings, 24 min; 2 of each: 48 min.
    const { proposal, balancesNeeded } = foresightOf({ ...plan, rows, balances: [{ label: 'B' }] });
    const trialsPerGroup = [
      { key: 'a', trials: 1 },
      { key: 'b', trials: 1 },
    ];
    expect(proposal).toEqual({ trialsPerGroup, minutes: 24, fits: true });
    // 84 min in 45: two balances.
    expect(balancesNeeded).toBe(2);
  });

  it('says when even one trial of each row is too long', () => {
    const rows = [{ ...row, trialsPerGroup: 3 }];
    const { proposal } = foresightOf({ ...plan, rows, expectedGroups: 60, balances: [{ label: 'B' }] });
    // 60 × 1 × 2 × 30 s = 60 min.
    expect(proposal).toMatchObject({ minutes: 60, fits: false });
  });

  it('is told before anything is kept', async () => {
    const { rows, balances, expectedGroups, lessonMinutes } = plan;
    const body = { rows, balances, expectedGroups, lessonMinutes };
    const told = ok(await server.post('/api/experiments/foresight', body)) as unknown as Foresight;
    expect(told).toEqual(foresightOf(plan));
  });
});

describe('a balance', () => {
  it('gives each of two readings a rectangular half step', () => {
    // JCGM 100:2008 F.2.2.1: a display of step d has u = 0.29 d. Two of them, k = 2: 2·√2·0.2887·d = 0.8165·d.
    expect(resolutionUncertaintyMl(0.01)).toBeCloseTo(2 * Math.SQRT2 * 0.288675 * 0.01, 8);
  });

  it('is too coarse where that is more than a third of the tolerance', () => {
    const plan = planOf('four-ways');
    const coarse = (resolutionG: string) =>
      foresightOf({ ...plan, balances: [{ label: 'B', resolutionG }] }).tooCoarse.map(({ row }) => row);
    // Limits 2.5, 0.5, 0.03, 0.04 mL; a third 0.83, 0.17, 0.01, 0.013 mL; 0.1 g gives 0.082 mL, 0.01 g gives 0.0082 mL.
    expect(coarse('0.1')).toEqual(['pipette', 'flask']);
    expect(coarse('0.01')).toEqual([]);
    expect(coarse('1')).toEqual(['cylinder', 'pipette', 'flask']);
  });

  it('of the register brings its last digit along', async () => {
    const instrumentId = idOf(
      await server.post('/api/instruments', { kind: 'balance', tag: freshTag(), resolutionG: '0.001' }),
    );
    const id = await planned(server, { balances: [{ label: 'By the window', instrumentId }] });
    expect((await pageOf(id)).balances).toEqual([{ label: 'By the window', instrumentId, resolutionG: '0.001' }]);
  });
});

describe('what cannot be planned', () => {
  const row = planOf('one-flask-many-hands').rows[0]!;
  const cases: [name: string, facts: object, pointer: string][] = [
    ['no row', { rows: [] }, '#/rows'],
    ['two rows of one key', { rows: [row, row] }, '#/rows/1/key'],
    ['a row that says neither contain nor deliver', { rows: [{ ...row, basis: 'hold' }] }, '#/rows/0/basis'],
    ['a size the standard does not list', { rows: [{ ...row, nominalVolumeMl: '33' }] }, '#/rows/0/nominalVolumeMl'],
    ['a volume of zero', { rows: [{ ...row, nominalVolumeMl: '0' }] }, '#/rows/0/nominalVolumeMl'],
    ['a vessel nobody knows', { rows: [{ ...row, vesselIds: ['aaaa'] }] }, '#/rows/0/vesselIds/0'],
    ['a balance nobody knows', { balances: [{ label: 'B', instrumentId: 'aaaa' }] }, '#/balances/0/instrumentId'],
    ['no balance', { balances: [] }, '#/balances'],
    ['water of 41 °C', { conditions: { waterTemperatureC: '41' } }, '#/conditions/waterTemperatureC'],
    ['a number for a quantity', { conditions: { airTemperatureC: 20 } }, '#/conditions/airTemperatureC'],
  ];
  it.each(cases)('%s', async (_name, facts, pointer) => {
    expectProblem(await server.post('/api/experiments', { ...PLAN, ...facts }), ['validation-failed', pointer]);
  });

  it('asks about an air pressure of another unit, and takes it with a note', async () => {
    const body = { ...PLAN, conditions: { airPressureHpa: '755' } };
    expectProblem(await server.post('/api/experiments', body), ['please-confirm', '#/conditions/airPressureHpa']);
    ok(
      await server.post('/api/experiments', { ...body, confirm: ['air-pressure'], note: 'a school in the mountains' }),
    );
  });
});

describe('changing a plan', () => {
  const patch = async (id: string, body: object) => {
    const { version } = await pageOf(id);
    return server.patch(`/api/experiments/${id}`, version, body);
  };

  it('needs the version it changes', async () => {
    const id = await planned(server);
    expectProblem(await server.patch(`/api/experiments/${id}`, 7, { title: 'Late' }), ['stale-edit']);
    expectProblem(await server.send('PATCH', `/api/experiments/${id}`, { title: 'Late' }), ['version-missing']);
    expect(ok(await patch(id, { title: 'Flasks', lessonMinutes: 90 }))).toMatchObject({ title: 'Flasks', version: 2 });
  });

  it('leaves rows as they are once something was weighed; air, title and board may change', async () => {
    const { id } = await measuredExperiment(server);
    const { rows } = planOf('meniscus');
    expectProblem(await patch(id, { rows }), ['state-conflict']);
    expectProblem(await patch(id, { design: 'crossed' }), ['state-conflict']);
    ok(await patch(id, { conditions: { airTemperatureC: '22' }, namesHidden: true, predictionsShown: true }));
    ok(await patch(id, { cautionNote: 'The bin for broken glass stands at the door.' }));
  });

  it('keeps the one temperature of the water that trials rest on', async () => {
    const conditions = { waterTemperatureC: '21' };
    const { id } = await openExperiment(server, { conditions });
    const { items } = ok(await server.post(`/api/experiments/${id}/groups`, { count: 1 })) as {
      items: { id: string }[];
    };
    const trial = { row: 'flask', emptyG: '61.2034', filledG: '160.8371' };
    ok(await server.post(`/api/experiments/${id}/groups/${items[0]?.id}/trials`, trial));
    const without = await patch(id, { conditions: { airTemperatureC: '20' } });
    expectProblem(without, ['validation-failed', '#/conditions/waterTemperatureC']);
    ok(await patch(id, { conditions: { waterTemperatureC: '21.5' } }));
  });
});

it('lists experiments newest first, page by page', async () => {
  for (let made = 0; made < 3; made += 1) {
    server.now = new Date(server.now.getTime() + 60_000);
    await planned(server, { title: `Listed ${made}` });
  }
  type Page = { items: { title: string }[]; next: string | null };
  const first = ok(await server.get('/api/experiments?limit=2&state=planned')) as unknown as Page;
  expect(first.items.map(({ title }) => title)).toEqual(['Listed 2', 'Listed 1']);
  const second = ok(await server.get(`/api/experiments?limit=2&state=planned&cursor=${first.next}`)) as unknown as Page;
  expect(second.items[0]?.title).toBe('Listed 0');
});
