/** What may stand in a field: quantities as decimal text, words without control characters, nothing half. */
import Database from 'better-sqlite3';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { attempt, everything } from './attempts.ts';
import { CALIBRATION, CONDITIONS, FLASK, freshTag, TestServer, TRIAL } from './support.ts';

let server: TestServer;
let calibration: string;
beforeAll(async () => {
  server = await TestServer.start();
  calibration = await server.calibration();
});
afterAll(async () => server.end());

const NOT_DECIMAL: [name: string, value: unknown][] = [
  ['a JSON number', 61.2],
  ['zero as a JSON number', 0],
  ['true', true],
  ['null', null],
  ['a list', ['61.2']],
  ['an object', { value: '61.2' }],
  ['an empty text', ''],
  ['a blank', ' '],
  ['a blank before', ' 61.2'],
  ['a blank behind', '61.2 '],
  ['a line end behind', '61.2\n'],
  ['an exponent', '6.12e1'],
  ['a capital exponent', '612E-1'],
  ['a decimal comma', '61,2'],
  ['grouping by comma', '1,061.2'],
  ['grouping by blank', '1 061.2'],
  ['grouping by a narrow blank', '1\u202f061.2'],
  ['grouping by underscore', '1_061.2'],
  ['grouping by apostrophe', "1'061.2"],
  ['two points', '61.2.3'],
  ['a point alone', '.'],
  ['a sign alone', '+'],
  ['a sign and a point', '-.'],
  ['two signs', '--61.2'],
  ['a sign behind', '61.2-'],
  ['a typographic minus', '\u221261.2'],
  ['a unit', '61.2 g'],
  ['hexadecimal', '0x3d'],
  ['infinity', 'Infinity'],
  ['no number', 'NaN'],
  ['Arabic digits', '\u0666\u0661.\u0662'],
  ['full-width digits', '６１.２'],
  ['a NUL', '61.2\u0000'],
  ['half a surrogate pair', '61.2\ud800'],
  ['a thousand tonnes and more', '1000000000'],
  ['32 digits', '9'.repeat(32)],
  ['33 digits', '9'.repeat(33)],
  ['a million digits', '9'.repeat(900_000)],
];

describe('a quantity is not', () => {
  for (const [name, value] of NOT_DECIMAL)
    attempt(
      name,
      ['validation-failed', '#/emptyG'],
      () => server,
      () => server.post(`/api/calibrations/${calibration}/trials`, { ...TRIAL, emptyG: value }),
    );
});

describe('a quantity that must be above zero says one thing at a time', () => {
  for (const value of ['0', '-0.0', '-1', 'abc', '1e2', '', '9'.repeat(33)])
    attempt(
      JSON.stringify(value).slice(0, 12),
      ['validation-failed', '#/pointMl'],
      () => server,
      () => server.post(`/api/calibrations/${calibration}/trials`, { ...TRIAL, pointMl: value }),
    );
});

describe('every field of a quantity refuses a JSON number', () => {
  const rows: [address: () => string, body: object, pointer: string, value: unknown][] = [
    ...['nominalVolumeMl', 'expansionPerK', 'referenceTemperatureC', 'divisionMl', 'neckDiameterMm'].map(vesselField),
    ...['expectedSpreadMl', 'waitingTimeS'].map(vesselField),
    [vessels, { marks: ['50', 100] }, '#/marks/1', 0],
    [vessels, { tolerance: { markedMl: 0.1 } }, '#/tolerance/markedMl', 0],
    [vessels, { tolerance: { markedPercent: 1 } }, '#/tolerance/markedPercent', 0],
    ...['emptyG', 'filledG', 'pointMl', 'waterTemperatureC', 'waterTemperatureHalfWidthC'].map(trialField),
    ...['airTemperatureC', 'airPressureHpa', 'relativeHumidityPercent'].map(trialField),
    ...['deliveryTimeS', 'waitingTimeS', 'openTimeS'].map(trialField),
    ...['airTemperatureC', 'airPressureHpa', 'relativeHumidityPercent', 'airTemperatureHalfWidthC'].map(airField),
    ...['airPressureHalfWidthHpa', 'relativeHumidityHalfWidthPercent', 'conductivityUsPerCm'].map(airField),
    ...['evaporationMgPerMin', 'acclimatisedH'].map(airField),
  ];
  for (const [address, body, pointer] of rows)
    attempt(
      `at ${pointer}`,
      ['validation-failed', pointer],
      () => server,
      () => server.post(address(), filled(address, body)),
    );
});

function vessels(): string {
  return '/api/vessels';
}
function trials(): string {
  return `/api/calibrations/${calibration}/trials`;
}
function conditions(): string {
  return `/api/calibrations/${calibration}/conditions`;
}
function filled(address: () => string, body: object): object {
  if (address === vessels) return { ...FLASK, tag: freshTag(), ...body };
  return { ...(address === trials ? TRIAL : CONDITIONS), ...body };
}
type Row = [address: () => string, body: object, pointer: string, value: unknown];
function vesselField(field: string): Row {
  return [vessels, { [field]: 20 }, `#/${field}`, 20];
}
function trialField(field: string): Row {
  return [trials, { [field]: 20 }, `#/${field}`, 20];
}
function airField(field: string): Row {
  return [conditions, { [field]: 20 }, `#/${field}`, 20];
}

describe('readings keep every digit and sign', () => {
  // Zero, a minus sign, leading and trailing points, digits that a number would drop.
  const READINGS = ['50.0000', '12.500', '-0.0', '0.10', '+0.5', '.5', '5.', '-12.50', '007', '0'];
  it.each(READINGS)('%s from the request to the page and the database, as text', async (emptyG) => {
    const id = await server.calibration();
    const filledG = '150.0000';
    const volume = { confirm: ['volume'], note: 'dry and wet once more' };
    await server.trial(id, { emptyG, filledG, waterTemperatureC: '21.30', ...volume });
    const { trials: shown } = await server.calibrationPage(id);
    expect(shown[0]).toMatchObject({ emptyG, filledG, waterTemperatureC: '21.30', used: { emptyG, filledG } });
    const handle = new Database(server.logbook.file, { readonly: true });
    const stored = handle
      .prepare('select empty_g, typeof(empty_g) as kind, water_temperature_c from trial where calibration_id = ?')
      .get(id);
    const entry = handle.prepare('select after from journal_entry order by number desc limit 1').pluck().get();
    handle.close();
    expect(stored).toEqual({ empty_g: emptyG, kind: 'text', water_temperature_c: '21.30' });
    expect(JSON.parse(String(entry))).toMatchObject({ emptyG, filledG });
  });
});

describe('words', () => {
  const words: [name: string, value: unknown][] = [
    ['a number', 7],
    ['null', null],
    ['a NUL', 'F\u0000'],
    ['a line end', 'F\n1'],
    ['an escape character', 'F\u001b[31m'],
    ['a C1 control', 'F\u0085'],
    ['the first half of a surrogate pair', 'F\ud800'],
    ['the second half of a surrogate pair', '\udc00F'],
    ['100,000 letters', 'F'.repeat(100_000)],
  ];
  for (const field of ['tag', 'serial', 'maker', 'location'])
    for (const [name, value] of words)
      attempt(
        `${name} as ${field}`,
        ['validation-failed', `#/${field}`],
        () => server,
        () => server.post('/api/vessels', { ...FLASK, tag: freshTag(), [field]: value }),
      );
  for (const note of ['\u0000', 'a\u0007', '\ud83d', 'x'.repeat(2001), 7])
    attempt(
      `a note of ${JSON.stringify(note).slice(0, 12)}`,
      ['validation-failed', '#/note'],
      () => server,
      () => server.post(trials(), { ...TRIAL, note }),
    );

  it('of every script, and notes of several lines, come back as they were', async () => {
    const id = await server.vessel({ maker: 'Стекло 玻璃 زجاج', location: '😀 <b>&amp;</b>', note: 'one\n\ttwo' });
    expect(await server.vesselPage(id)).toMatchObject({
      maker: 'Стекло 玻璃 زجاج',
      location: '😀 <b>&amp;</b>',
      note: 'one\n\ttwo',
    });
  });
});

describe('days', () => {
  for (const day of [
    '2026-02-30',
    '2026-13-01',
    '2026-9-1',
    '01.09.2026',
    '20260901',
    '2026-09-14T08:30:00Z',
    20260901,
  ])
    attempt(
      `acquired on ${day}`,
      ['validation-failed', '#/acquiredOn'],
      () => server,
      () => server.post('/api/vessels', { ...FLASK, tag: freshTag(), acquiredOn: day }),
    );
});

describe('anything at all, anywhere', () => {
  /** A good body with one field, at some depth, replaced by whatever JSON can hold. */
  const spoil = (body: object, place: number, value: unknown): object => {
    const keys = Object.keys(body);
    const key = keys[place % (keys.length + 1)] ?? 'unknown';
    const inner = (body as Record<string, unknown>)[key];
    if (typeof inner === 'object' && inner !== null && !Array.isArray(inner) && place % 2 === 0)
      return { ...body, [key]: spoil(inner, Math.floor(place / 2), value) };
    return { ...body, [key]: value };
  };

  it('is answered, never by an error of the server, and a refusal changes nothing', async () => {
    const id = await server.calibration();
    const { tag: _tag, ...inline } = FLASK;
    const bodies: [url: string, body: object][] = [
      ['/api/vessels', FLASK],
      [
        '/api/instruments',
        { kind: 'balance', tag: 'B', resolutionG: '0.0001', corrections: [{ at: '0', correction: '0' }] },
      ],
      [`/api/calibrations/${id}/trials`, TRIAL],
      [`/api/calibrations/${id}/conditions`, CONDITIONS],
      ['/api/evaluate', { vessel: inline, conditions: CONDITIONS, instruments: {}, trials: [TRIAL] }],
      [`/api/vessels/${await server.vessel()}/calibrations`, CALIBRATION],
    ];
    const attempts = fc.tuple(fc.constantFrom(...bodies), fc.nat(40), fc.jsonValue({ maxDepth: 3 }));
    await fc.assert(
      fc.asyncProperty(attempts, async ([[url, body], place, value]) => {
        const before = everything(server);
        const { status } = await server.post(url, spoil(body, place, value));
        expect([200, 201, 409, 422, 400]).toContain(status);
        if (status >= 400) expect(everything(server)).toEqual(before);
      }),
      { seed: 2026, numRuns: 200 },
    );
  });
});
