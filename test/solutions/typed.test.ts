/** Forms of solutions as typed: what is worked out while a part is missing or wrong, and which refusals still hold. */
import { expect, it } from 'vitest';
import type { VesselListItem } from '../../server/glassware/contract.ts';
import { EMPTY_DILUTION, EMPTY_STEP, readDilution } from '../../web/pages/solutions/dilution-draft.ts';
import { EMPTY_SOLID, readSolid } from '../../web/pages/solutions/solid-draft.ts';
import {
  atLive,
  EMPTY_STANDARDISATION,
  NO_TITRATION,
  readStandardisation,
} from '../../web/pages/solutions/standardisation-draft.ts';
import { stillRefused } from '../../web/pages/solutions/still-refused.ts';
import type { Tagged } from '../../web/pages/solutions/tagged.ts';

const ware = (id: string) => ({ id, kind: 'volumetric-flask', marks: null }) as unknown as VesselListItem;
const tagged: Tagged = new Map([
  ['b', ware('b')],
  ['p', ware('p')],
  ['f', ware('f')],
]);
const vessel = (tag: string) => ({ tag, pointMl: '' });

const titration = (massG: string, buretteFromMl: string, buretteToMl: string) => ({
  massG,
  buretteFromMl,
  buretteToMl,
});
const GOOD = titration('0.3888', '0.00', '18.64');
const standardisation = (...titrations: (typeof GOOD)[]) =>
  readStandardisation(
    {
      ...EMPTY_STANDARDISATION,
      titrantName: 'Sodium hydroxide',
      substance: { ...EMPTY_STANDARDISATION.substance, formula: 'KHC8H4O4' },
      burette: vessel('B'),
      titrations,
    },
    undefined,
    undefined,
    tagged,
  );

it('works a titrant out from the titrations that are whole, and keeps none without the others', () => {
  const begun = titration('0.3890', '0.00', '');
  const { reader, live, whole, body } = standardisation(NO_TITRATION, begun, GOOD, titration('0.39', '5o.0', '18.65'));
  expect(live?.titrations).toEqual([GOOD]);
  expect(whole).toEqual([1]);
  expect(body.titrations).toHaveLength(3);
  expect(Object.keys(reader.problems)).toEqual(['titrations/0/buretteToMl', 'titrations/2/buretteFromMl']);
  // What is merely missing is not called wrong while one types.
  expect(Object.keys(reader.typedWrong)).toEqual(['titrations/2/buretteFromMl']);
  expect([atLive('titrations/1/massG', whole), atLive('titrations/2/massG', whole)]).toEqual([
    'titrations/0/massG',
    null,
  ]);
  expect(standardisation(begun).live).toBeNull();
});

it('tells a reading below the one before from two that are the same', () => {
  const { reader, live } = standardisation(GOOD, titration('0.39', '18.64', '0.00'), titration('0.39', '5', '5.00'));
  expect(reader.typedWrong).toEqual({
    'titrations/1/buretteToMl': expect.stringContaining('must be above') as string,
    'titrations/2/buretteToMl': expect.stringContaining('the same') as string,
  });
  expect(live?.titrations).toEqual([GOOD]);
});

it('works a dilution out as far as its steps are whole', () => {
  const step = { deliveries: [vessel('P')], madeUpIn: vessel('F') };
  const stock = { ...EMPTY_DILUTION.stock, from: 'certificate' as const, name: 'Iron', value: '100' };
  const read = (steps: (typeof step)[], value = '100') =>
    readDilution({ ...EMPTY_DILUTION, stock: { ...stock, value, expandedUncertainty: '1' }, steps }, undefined, tagged);
  const { live, ready, body } = read([step, EMPTY_STEP]);
  expect({ steps: live?.steps, ready }).toEqual({ steps: read([step]).body.steps, ready: 1 });
  expect(body.steps).toHaveLength(2);
  expect(read([EMPTY_STEP, step]).live).toBeNull();
  expect(read([step], 'abc').live).toBeNull();
});

it('still says what to weigh while the mass weighed cannot be read', () => {
  const solid = { ...EMPTY_SOLID, targetValue: '0.02', flask: vessel('F') };
  const draft = { ...solid, substance: { ...solid.substance, formula: 'NaCl' } };
  const { reader, isPlanReadable, isReadable } = readSolid({ ...draft, massG: '1,2,5' }, undefined, tagged);
  expect([isPlanReadable, isReadable, Object.keys(reader.typedWrong)]).toEqual([true, false, ['weighing/massG']]);
  const wanted = readSolid({ ...draft, targetValue: '0,0,2' }, undefined, tagged);
  expect(Object.keys(wanted.reader.typedWrong)).toEqual(['target/value']);
});

it('lets a refusal go where its field was put right, changed or left the form, and says what is wrong there now', () => {
  const field = (name: string, detail: string) => ({ field: name, detail });
  const refusal = {
    title: 'Look again',
    detail: '',
    fields: [
      field('title', 'Give it a title.'),
      field('standard/substance/formula', 'Type the formula.'),
      field('target/value', 'Nothing is typed.'),
      field('expiresOn', 'It lies before the day it was made.'),
      field('steps/0/madeUpIn/vesselId', 'It is out of use.'),
    ],
  };
  const then = {
    body: { title: '', expiresOn: '2020-01-01', steps: [{ madeUpIn: { vesselId: 'a' } }] },
    problems: {
      title: 'Give it a title.',
      'standard/substance/formula': 'Type the formula.',
      'target/value': 'Nothing is typed.',
    },
  };
  expect(stillRefused(refusal, then, then)).toEqual(refusal);
  const now = {
    body: { title: 'Salt', expiresOn: '2020-01-01', steps: [{ madeUpIn: { vesselId: 'b' } }] },
    problems: { 'target/value': '“abc” is no number.' },
  };
  expect(stillRefused(refusal, then, now)?.fields).toEqual([
    field('target/value', '“abc” is no number.'),
    field('expiresOn', 'It lies before the day it was made.'),
  ]);
  const right = { body: { ...now.body, expiresOn: '2099-01-01' }, problems: {} };
  expect(stillRefused(refusal, then, right)).toBeNull();
});
