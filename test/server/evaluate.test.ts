/** Evaluating without storing: the same result as the record gives, refusals at their fields, findings for questions. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Calibration } from '../../server/calibrations/contract.ts';
import { everything, expectProblem, type Expected } from './attempts.ts';
import { CALIBRATION, CONDITIONS, FLASK, freshTag, idOf, TestServer, TRIAL } from './support.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(async () => server.end());

const { tag: _tag, ...VESSEL } = FLASK;
const BODY = { vessel: VESSEL, conditions: CONDITIONS, instruments: {}, trials: [TRIAL] };
const evaluate = (body: object) => server.send('POST', '/api/evaluate', body);
const codesIn = (part: { findings: { code: string }[] } | undefined) => part?.findings.map((finding) => finding.code);
const evaluated = async (body: object) => {
  const reply = await evaluate(body);
  expect(reply.status).toBe(200);
  return reply.body as unknown as Calibration;
};

const BALANCE = {
  resolutionG: '0.0001',
  repeatabilityG: '0.0001',
  linearityG: '0.0002',
  expandedUncertaintyG: '0.0003',
  coverageFactor: '2',
  corrections: [
    { at: '0', correction: '0.0001' },
    { at: '200', correction: '-0.0003' },
  ],
};
const THERMOMETER = {
  resolutionC: '0.1',
  expandedUncertaintyC: '0.05',
  corrections: [{ at: '20', correction: '-0.04' }],
};
const BAROMETER = { expandedUncertaintyHpa: '0.3', degreesOfFreedom: 30 };
const HYGROMETER = { expandedUncertaintyPercent: '2' };
const BURETTE = {
  kind: 'burette',
  nominalVolumeMl: '50',
  basis: 'deliver',
  divisionMl: '0.1',
  tolerance: { standard: 'ISO 385', edition: '2005', class: 'B' },
  material: 'borosilicate-3.3',
  referenceTemperatureC: '20',
};
const READINGS = ['160.8371', '160.8412', '160.8330', '160.8402'].map((filledG, index) => ({
  ...TRIAL,
  filledG,
  waterTemperatureC: `21.${index}`,
}));
const AT = (pointMl: string, filledG: string) => ({
  ...TRIAL,
  pointMl,
  emptyG: '10.0000',
  filledG,
  emptySource: 'tared',
});

describe('is the same computation as the record', () => {
  const cases: Record<string, { vessel: object; plan: object; trials: object[]; instruments: Record<string, object> }> =
    {
      'a flask with defaults': { vessel: VESSEL, plan: {}, trials: READINGS, instruments: {} },
      'every instrument named': {
        vessel: { ...VESSEL, neckDiameterMm: '12', expansionPerK: '0.0000099' },
        plan: { decisionRule: 'simple', coverageProbability: '0.95' },
        trials: READINGS,
        instruments: {
          balance: BALANCE,
          thermometer: THERMOMETER,
          airThermometer: THERMOMETER,
          barometer: BAROMETER,
          hygrometer: HYGROMETER,
        },
      },
      'a burette at three points, pooled': {
        vessel: BURETTE,
        plan: {
          points: ['10', '25', '50'],
          repeatability: { use: 'pooled', sdMl: '0.012', degreesOfFreedom: 24 },
          coverageProbability: '0.99',
        },
        trials: [AT('10', '19.9600'), AT('25', '34.9120'), AT('50', '59.8400'), AT('50.0', '59.8310')],
        instruments: { balance: { resolutionG: '0.0001' } },
      },
      'another basis, other air per trial, assumed temperature, tap water': {
        vessel: VESSEL,
        plan: {
          basis: 'deliver',
          conditions: { ...CONDITIONS, waterGrade: 'tap', conductivityUsPerCm: '310', evaporationMgPerMin: '2' },
        },
        trials: READINGS.map((trial) => ({
          ...trial,
          waterTemperatureHalfWidthC: '0.5',
          airTemperatureC: '23.0',
          airPressureHpa: '991',
          relativeHumidityPercent: '55',
          openTimeS: '40',
          note: 'by the window',
        })),
        instruments: {},
      },
    };

  it.each(Object.entries(cases))('%s', async (_name, { vessel, plan, trials, instruments }) => {
    const ids: Record<string, string> = {};
    for (const [role, facts] of Object.entries(instruments)) {
      const kind = role === 'airThermometer' ? 'thermometer' : role;
      ids[`${role}Id`] = idOf(await server.post('/api/instruments', { tag: freshTag(), kind, ...facts }));
    }
    const { points, ...rest } = { ...CALIBRATION, plannedTrials: 1, ...plan };
    const calibration = await server.calibration({ ...rest, points, instruments: ids }, await server.vessel(vessel));
    for (const trial of trials) await server.trial(calibration, trial);
    const stored = await server.calibrationPage(calibration);
    const { plannedTrials: _planned, ...sent } = rest;
    const result = await evaluated({ vessel, ...sent, instruments, trials });

    expect(result.points.map(withoutPlan)).toEqual(stored.points.map(withoutPlan));
    expect(result.trials.map(computedOf)).toEqual(stored.trials.map(computedOf));
    const { basis, decisionRule, verdict, difference, versions } = stored;
    expect(result).toMatchObject({ basis, decisionRule, verdict, difference, versions, final: true });
  });

  /** What was planned is known to the record alone. */
  const withoutPlan = (point: Calibration['points'][number]) => ({
    ...point,
    findings: point.findings.filter((finding) => finding.code !== 'beyond-plan'),
  });
  const computedOf = (trial: Calibration['trials'][number]) => {
    const { recordedAt: _at, recordedBy: _by, findings, ...facts } = trial;
    const typed = Object.fromEntries(Object.entries(facts).filter(([, value]) => value !== null));
    return { emptySource: 'own', ...typed, findings: findings.filter((finding) => finding.code !== 'beyond-plan') };
  };
});

describe('refusals', () => {
  const rows: [name: string, body: object, ...pointers: string[]][] = [
    [
      'two rows left',
      { vessel: { ...BURETTE, nominalVolumeMl: '25', divisionMl: undefined }, trials: [AT('25', '34.9')] },
      '#/vessel/divisionMl',
    ],
    [
      'an unknown class',
      { vessel: { ...VESSEL, tolerance: { ...VESSEL.tolerance, class: 'X' } } },
      '#/vessel/tolerance/class',
    ],
    ['no tolerance', { vessel: { ...VESSEL, tolerance: undefined } }, '#/vessel/tolerance'],
    ['a material of its own', { vessel: { ...VESSEL, material: 'other' } }, '#/vessel/expansionPerK'],
    ['a number', { vessel: { ...VESSEL, nominalVolumeMl: 100 } }, '#/vessel/nominalVolumeMl'],
    ['a tag', { vessel: FLASK }, '#/vessel/tag'],
    ['no trials', { trials: [] }, '#/trials'],
    ['filled below empty', { trials: [TRIAL, { ...TRIAL, filledG: '60' }] }, '#/trials/1/filledG'],
    ['a point not on the vessel', { trials: [{ ...TRIAL, pointMl: '50' }] }, '#/trials/0/pointMl'],
    ['hot water', { trials: [{ ...TRIAL, waterTemperatureC: '41' }] }, '#/trials/0/waterTemperatureC'],
    ['a trial with a number', { trials: [{ ...TRIAL, emptyG: 61.2 }] }, '#/trials/0/emptyG'],
    ['an unknown key in a trial', { trials: [{ ...TRIAL, volumeMl: '100' }] }, '#/trials/0/volumeMl'],
    ['cold air', { conditions: { ...CONDITIONS, airTemperatureC: '4' } }, '#/conditions/airTemperatureC'],
    ['another kind of instrument', { instruments: { scale: {} } }, '#/instruments/scale'],
    ['a resolution of zero', { instruments: { balance: { resolutionG: '0' } } }, '#/instruments/balance/resolutionG'],
    ['a due date inline', { instruments: { balance: { dueOn: '2026-01-01' } } }, '#/instruments/balance/dueOn'],
    ['a pooled spread from the record', { repeatability: { use: 'pooled' } }, '#/repeatability/sdMl'],
    [
      'too few degrees of freedom',
      { repeatability: { use: 'pooled', sdMl: '0.01', degreesOfFreedom: 9 } },
      '#/repeatability/degreesOfFreedom',
    ],
    [
      'several at once',
      { conditions: { airTemperatureC: '50' }, trials: [{ ...TRIAL, filledG: '1' }] },
      '#/conditions/airTemperatureC',
    ],
  ];
  it.each(rows)('%s', async (_name, change, ...pointers) => {
    const expected: Expected = ['validation-failed', ...pointers];
    expectProblem(await evaluate({ ...BODY, ...change }), expected);
  });
});

describe('what a person would be asked is a finding here', () => {
  it('a volume far from the point', async () => {
    const { trials } = await evaluated({ ...BODY, trials: [{ ...TRIAL, filledG: '150' }] });
    expect(codesIn(trials[0])).toContain('volume-unusual');
  });
  it('a marked tolerance far from the table', async () => {
    const tolerance = { ...VESSEL.tolerance, markedMl: '1' };
    const result = await evaluated({ ...BODY, vessel: { ...VESSEL, tolerance } });
    expect(codesIn(result)).toContain('tolerance-unusual');
    expect(result.points[0]?.toleranceMl).toBe(1);
  });
  it('an air pressure in another unit', async () => {
    const result = await evaluated({ ...BODY, conditions: { ...CONDITIONS, airPressureHpa: '745' } });
    const codes = [result, ...result.points, ...result.trials].flatMap(codesIn);
    expect(codes).toContain('air-pressure-unusual');
  });
});

it('takes a vessel as it is registered, its identity included', async () => {
  const identity = { serial: '12', maker: 'Südglas', location: 'shelf', acquiredOn: '2020-02-29' };
  const { points } = await evaluated({ ...BODY, vessel: { ...VESSEL, ...identity } });
  expect(points[0]?.n).toBe(1);
});

it('stores nothing, needs no key and takes none', async () => {
  const before = everything(server);
  const key = { 'idempotency-key': 'once' };
  const first = await server.send('POST', '/api/evaluate', BODY, key);
  const second = await server.send('POST', '/api/evaluate', { ...BODY, trials: READINGS }, key);
  expect([first.status, second.status]).toEqual([200, 200]);
  expect(second.body['trials']).toHaveLength(4);
  expect(everything(server)).toEqual(before);
});
