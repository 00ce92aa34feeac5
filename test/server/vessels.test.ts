/** Registering a vessel: what each kind needs, whose tolerance judges, what is refused and what is asked. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { attempt, type Expected } from './attempts.ts';
import { FLASK, freshTag, TestServer } from './support.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(async () => server.end());

const { tolerance: _tolerance, ...UNMARKED } = FLASK;
const ISO_385_A = { standard: 'ISO 385', edition: '2005', class: 'A' };
const BURETTE = { kind: 'burette', nominalVolumeMl: '25', basis: 'deliver', tolerance: ISO_385_A };
const BEAKER = {
  kind: 'beaker',
  nominalVolumeMl: '250',
  marks: ['50', '100', '150', '200'],
  tolerance: { standard: 'ISO 3819', edition: 'unknown', class: '-' },
};
const KINDS: Record<string, object> = {
  'volumetric flask': {},
  'single-volume pipette': {
    kind: 'single-volume-pipette',
    nominalVolumeMl: '25',
    basis: 'deliver',
    tolerance: { standard: 'ISO 648', edition: '2008', class: 'AS' },
    waitingTimeS: '5',
  },
  'graduated pipette': {
    kind: 'graduated-pipette',
    nominalVolumeMl: '10',
    basis: 'deliver',
    divisionMl: '0.1',
    tolerance: { standard: 'ISO 835', edition: '2007', class: 'A' },
  },
  burette: { ...BURETTE, divisionMl: '0.05' },
  'measuring cylinder': {
    kind: 'measuring-cylinder',
    divisionMl: '1',
    tolerance: { standard: 'ISO 4788', edition: '2005', class: 'B' },
  },
  'cylinder of a standard for both bases': {
    kind: 'measuring-cylinder',
    basis: 'deliver',
    tolerance: { standard: 'ASTM E1272', edition: 'E1272-02', class: 'A' },
  },
  'beaker with its marks': BEAKER,
  'conical flask': {
    kind: 'conical-flask',
    nominalVolumeMl: '250',
    tolerance: { standard: 'ASTM E1404', edition: 'E1404-94', class: '-' },
  },
  'pycnometer without a tolerance': { kind: 'pycnometer', tolerance: undefined },
  'piston pipette': {
    kind: 'piston-pipette',
    nominalVolumeMl: '1',
    basis: 'deliver',
    material: 'polypropylene',
    tolerance: { standard: 'ISO 8655-2', edition: '2002', class: '-' },
  },
  'other ware without a tolerance': { kind: 'other', tolerance: undefined },
};

const MARKED_A = { from: 'marked', standard: 'ISO 1042', class: 'A', tableToleranceMl: 0.1 };

describe('each kind with what it needs', () => {
  for (const [name, facts] of Object.entries(KINDS)) takes(`a ${name}`, facts);
});

describe('tolerance', () => {
  refuses('a flask without one', { tolerance: undefined }, ['validation-failed', '#/tolerance']);
  refuses('an unknown standard', named('ISO 9999', '1998', 'A'), ['validation-failed', '#/tolerance/standard']);
  refuses('an unknown edition', named('ISO 1042', '1983', 'A'), ['validation-failed', '#/tolerance/edition']);
  refuses('an unknown class', named('ISO 1042', '1998', 'C'), ['validation-failed', '#/tolerance/class']);
  refuses('class in small letters', named('ISO 1042', '1998', 'a'), ['validation-failed', '#/tolerance/class']);
  refuses('a size the standard does not list', { nominalVolumeMl: '123' }, ['validation-failed', '#/nominalVolumeMl']);
  refuses('a standard of another kind', named('ISO 385', '2005', 'A'), ['validation-failed', '#/kind']);
  refuses('a standard of the other basis', { basis: 'deliver' }, ['validation-failed', '#/basis']);
  refuses('two rows left', BURETTE, ['validation-failed', '#/divisionMl']);
  refuses('a division not listed', { ...BURETTE, divisionMl: '0.3' }, ['validation-failed', '#/divisionMl']);
  refuses('half a name', { tolerance: { standard: 'ISO 1042', class: 'A' } }, ['validation-failed', '#/tolerance']);
  refuses('an empty object', { tolerance: {} }, ['validation-failed', '#/tolerance']);
  refuses('null', { tolerance: null }, ['validation-failed', '#/tolerance']);
  refuses('mL and per cent at once', { tolerance: { markedMl: '0.1', markedPercent: '1' } }, [
    'validation-failed',
    '#/tolerance/markedPercent',
  ]);
  refuses('a marked zero', { tolerance: { markedMl: '0' } }, ['validation-failed', '#/tolerance/markedMl']);
  takes('a marked one alone', { tolerance: { markedMl: '0.08' } });
  takes('a marked one beside a size not listed', {
    nominalVolumeMl: '123',
    tolerance: { ...FLASK.tolerance, markedMl: '0.1' },
  });
});

describe('a marked tolerance far from the table is asked, not guessed', () => {
  const marked = (markedMl: string, more: object = {}) => ({ tolerance: { ...FLASK.tolerance, markedMl }, ...more });
  const asks: Expected = ['please-confirm', '#/tolerance/markedMl'];
  // ISO 1042:1998 class A at 100 mL is 0.10 mL: the question begins above 0.20 and below 0.05.
  refuses('more than twice', marked('0.201'), asks);
  refuses('less than half', marked('0.0499'), asks);
  takes('twice', marked('0.20'));
  takes('half', marked('0.05'));
  refuses('a name without a note', marked('0.5', { confirm: ['tolerance'] }), asks);
  refuses('a name with an empty note', marked('0.5', { confirm: ['tolerance'], note: ' ' }), asks);
  refuses('a note without the name', marked('0.5', { note: 'read twice' }), asks);
  refuses('the name of another question', marked('0.5', { confirm: ['volume'], note: 'read twice' }), asks);
  takes('the name with a note', marked('0.5', { confirm: ['tolerance'], note: 'read twice' }));
  refuses('per cent too', { tolerance: { ...FLASK.tolerance, markedPercent: '0.5' } }, [
    'please-confirm',
    '#/tolerance/markedPercent',
  ]);
  it('says which name to send', async () => {
    const { body } = await server.post('/api/vessels', { ...FLASK, tag: freshTag(), ...marked('0.5') });
    expect(body['errors']).toEqual([expect.objectContaining({ confirm: 'tolerance' })]);
  });
});

/** Limits as printed: ISO 1042:1998, ISO 385:2005 and ISO 4788:2005, class limits; ISO 3819 from memory: 10 %. */
describe('the tolerance that judges', () => {
  const judged = async (facts: object) =>
    (await server.post('/api/vessels', { ...FLASK, tag: freshTag(), ...facts })).body;

  it.each([
    ['of a class', {}, 0.1, { from: 'table', class: 'A', tableToleranceMl: 0.1, readInStandard: false }],
    ['of class B, not twice A', named('ISO 1042', '1998', 'B'), 0.2, { from: 'table', class: 'B' }],
    ['of a division', { ...BURETTE, divisionMl: '0.10' }, 0.05, { from: 'table', standard: 'ISO 385' }],
    ['marked wins, the class is kept', { tolerance: { ...FLASK.tolerance, markedMl: '0.08' } }, 0.08, MARKED_A],
    [
      'marked alone',
      { tolerance: { markedMl: '0.08' } },
      0.08,
      { from: 'marked', class: null, tableToleranceMl: null },
    ],
    ['marked in per cent of the nominal volume', { tolerance: { markedPercent: '0.15' } }, 0.15, { from: 'marked' }],
    ['a row in per cent, at the nominal volume', BEAKER, 25, { from: 'table', standard: 'ISO 3819', class: '-' }],
    ['none', { kind: 'pycnometer', tolerance: undefined }, null, { from: 'none', verification: null }],
  ])('%s', async (_name, facts, toleranceMl, toleranceSource) => {
    expect(await judged(facts)).toMatchObject({ version: 1, toleranceMl, toleranceSource });
  });

  it('is of the point in per cent on a beaker', async () => {
    const id = await server.vessel(BEAKER);
    const calibration = await server.calibration({ points: ['50', '250'] }, id);
    const { points } = await server.calibrationPage(calibration);
    expect(points.map((point) => point.toleranceMl)).toEqual([5, 25]);
  });
});

describe('material and reference temperature', () => {
  refuses('other material without a coefficient', { material: 'other' }, ['validation-failed', '#/expansionPerK']);
  refuses('a coefficient below zero', { expansionPerK: '-0.000001' }, ['validation-failed', '#/expansionPerK']);
  refuses('a coefficient in millionths', { expansionPerK: '9.9' }, ['validation-failed', '#/expansionPerK']);
  takes('other material with one', { material: 'other', expansionPerK: '0.0000033' });
  takes('a coefficient of zero', { material: 'other', expansionPerK: '0' });
  refuses('an unknown material', { material: 'crystal' }, ['validation-failed', '#/material']);
  takes('27 °C', { referenceTemperatureC: '27.0' });
  refuses('25 °C', { referenceTemperatureC: '25' }, ['validation-failed', '#/referenceTemperatureC']);
  refuses('none', { referenceTemperatureC: undefined }, ['validation-failed', '#/referenceTemperatureC']);
});

describe('sizes', () => {
  refuses('a division larger than the vessel', { divisionMl: '101' }, ['validation-failed', '#/divisionMl']);
  refuses('a mark above the nominal volume', { ...BEAKER, marks: ['50', '300'] }, ['validation-failed', '#/marks/1']);
  refuses('no marks', { ...BEAKER, marks: [] }, ['validation-failed', '#/marks']);
  for (const field of ['nominalVolumeMl', 'divisionMl', 'neckDiameterMm'])
    for (const value of ['0', '-1', '-0.0', '0.000'])
      refuses(`${field} ${value}`, { [field]: value }, ['validation-failed', `#/${field}`]);
  for (const field of ['expectedSpreadMl', 'waitingTimeS']) {
    takes(`${field} 0`, { [field]: '0' });
    refuses(`${field} below zero`, { [field]: '-0.1' }, ['validation-failed', `#/${field}`]);
  }
});

describe('tags', () => {
  takes('one of the laboratory', { tag: 'Büro 7/ä' });
  refuses('the same again', { tag: 'Büro 7/ä' }, ['duplicate', '#/tag']);
  refuses('the same in other letter case', { tag: 'büro 7/Ä' }, ['duplicate', '#/tag']);
  // A letter with its dots as one character and as two look the same.
  refuses('the same in another encoding', { tag: 'Büro 7/ä'.normalize('NFD') }, ['duplicate', '#/tag']);
  refuses('the same in blanks', { tag: '  Büro 7/ä ' }, ['duplicate', '#/tag']);
  refuses('an empty one', { tag: '  ' }, ['validation-failed', '#/tag']);
  refuses('a long one', { tag: 'x'.repeat(41) }, ['validation-failed', '#/tag']);

  it('keep the former one of a vessel to itself', async () => {
    const id = await server.vessel({ tag: 'OLD-1' });
    expect((await server.patch(`/api/vessels/${id}`, 1, { tag: 'NEW-1', reason: 'relabelled' })).status).toBe(200);
    for (const tag of ['OLD-1', 'old-1', 'new-1']) {
      const reply = await server.post('/api/vessels', { ...FLASK, tag });
      expect(reply).toMatchObject({ status: 409, body: { type: '/problems/duplicate' } });
    }
  });
});

describe('what was typed', () => {
  it('comes back as that string', async () => {
    const typed = {
      ...UNMARKED,
      tag: freshTag(),
      nominalVolumeMl: '+100.0',
      expansionPerK: '.0000099',
      referenceTemperatureC: '20.',
      neckDiameterMm: '12.50',
      expectedSpreadMl: '0.0',
      waitingTimeS: '-0.0',
      tolerance: { markedMl: '0.10' },
      serial: '0042',
    };
    const id = await server.vessel(typed);
    expect(await server.vesselPage(id)).toMatchObject(typed);
  });
});

function named(standard: string, edition: string, name: string) {
  return { tolerance: { standard, edition, class: name } };
}

function takes(name: string, facts: object): void {
  refuses(name, facts, undefined);
}

function refuses(name: string, facts: object, expected: Expected): void {
  const act = () => server.post('/api/vessels', { ...FLASK, tag: freshTag(), ...facts });
  attempt(name, expected, () => server, act);
}
