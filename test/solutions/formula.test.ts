/** Formulas as they are typed, against molar masses of handbooks; what is no formula is refused in words. */
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { FormulaReply } from '../../server/solutions/contract.ts';
import { readFormula } from '../../server/solutions/formula.ts';
import { expectProblem } from '../server/attempts.ts';
import { TestServer } from '../server/support.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(async () => server.end());

const ask = (text: string) => server.get(`/api/solutions/formula?text=${encodeURIComponent(text)}`);
const read = async (text: string) => (await ask(text)).body as unknown as FormulaReply;

// Molar masses as printed in handbooks of chemistry, from memory: half a unit of the last digit, and what the published
// intervals leave open, since a handbook takes one weight of each element.
it.each([
  ['KHC8H4O4', 204.22],
  ['Na2CO3', 105.99],
  ['NaCl', 58.44],
  ['K2Cr2O7', 294.18],
  ['KIO3', 214.0],
  ['AgNO3', 169.87],
  ['H2C2O4·2H2O', 126.07],
  ['CuSO4·5H2O', 249.69],
  ['(NH4)2Fe(SO4)2·6H2O', 392.14],
  ['Na2S2O3·5H2O', 248.18],
  ['KMnO4', 158.03],
  ['C12H22O11', 342.3],
  ['K4[Fe(CN)6]·3H2O', 422.39],
])('%s is %d g/mol', async (text, molarMass) => {
  const { molarMassGPerMol, standardUncertaintyGPerMol } = await read(text);
  expect(Math.abs(molarMassGPerMol - molarMass)).toBeLessThan(0.005 + 2 * standardUncertaintyGPerMol);
});

it.each(['CuSO4.5H2O', 'CuSO4*5H2O', 'CuSO₄·5H₂O', ' CuSO4 · 5 H2O '])('reads %s like CuSO4·5H2O', async (text) => {
  const reply = await read(text);
  expect(reply.formula).toBe('CuSO4·5H2O');
  expect(Object.fromEntries(reply.atoms.map(({ symbol, count }) => [symbol, count]))).toEqual({
    Cu: 1,
    S: 1,
    O: 9,
    H: 10,
  });
  // CIAAW, standard atomic weights 2024.
  expect(reply.atoms.find(({ symbol }) => symbol === 'Cu')?.published).toBe('63.546(3)');
  expect(reply.known).toMatchObject({ name: 'copper(II) sulfate pentahydrate', primaryStandard: 'no' });
});

it('knows a substance by how it is written, not by its atoms: lactose is no sucrose', async () => {
  expect((await read('KHC8H4O4')).known?.primaryStandard).toBe('yes');
  expect((await read('C6H11O5OC6H11O5')).known).toBeNull();
});

describe('refuses at the field, in words', () => {
  it.each([
    ['', /empty/],
    ['cuso4', /capital letter/],
    ['Cu(SO4', /brackets .* do not close/],
    [')Cu(', /brackets .* do not close/],
    ['()', /missing in the brackets/],
    ['Na+', /\+ does not belong/],
    ['H2O$', /\$ does not belong/],
    ['CaSO4·0.5H2O', /Whole numbers/],
    ['NaCl·', /one side of the dot/],
    ['H0', /from 1 to 999/],
    ['D2O', /D is no element/],
    ['Me4N', /Me is no element/],
    ['Tc', /Tc is no element with a standard atomic weight/],
  ])('%s', async (text, words) => {
    const reply = await ask(text);
    expectProblem(reply, ['validation-failed', '#/text']);
    expect(reply.body['errors']).toEqual([{ pointer: '#/text', detail: expect.stringMatching(words) }]);
  });
});

it('counts what it reads, or refuses: never fails, never passes over a sign', async () => {
  const sign = fc.constantFrom(
    'C',
    'H',
    'Na',
    'Cl',
    '(',
    ')',
    '[',
    ']',
    '2',
    '0',
    '13',
    '·',
    '.',
    '+',
    'x',
    '{',
    '-',
    '$',
    '½',
  );
  await fc.assert(
    fc.asyncProperty(fc.array(sign, { maxLength: 8 }), async (signs) => {
      const reading = await readFormula(signs.join(''));
      if ('refused' in reading) expect(reading.refused.length).toBeGreaterThan(10);
      else {
        expect(signs.join('')).not.toMatch(/[+x{$½-]/);
        for (const { count } of reading.atoms) expect(Number.isInteger(count) && count > 0).toBe(true);
      }
    }),
  );
});
