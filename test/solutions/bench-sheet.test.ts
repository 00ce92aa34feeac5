/** Sheets for the bench of planned solutions, read back by other programs: target, ware, steps, room to write. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { cautionWords } from '../../server/solutions/papers/caution-words.ts';
import { cautionsOfSolutions } from '../../web/messages/en-solutions.ts';
import { checked, noPdfPrograms, pagesOf } from '../certificates/pdf-programs.ts';
import { expectProblem } from '../server/attempts.ts';
import { TestServer } from '../server/support.ts';
import { balance, BURETTE_25, COPPER_SULFATE, FLASK_100, FLASK_250, KHP, PIPETTE_10, ROOM, solidIn } from './shelf.ts';

/** The thread that sets papers starts with the first: some seconds on a machine that is doing other things. */
const PATIENT_MS = 120_000;

let server: TestServer;
let balanceId: string;
beforeAll(async () => {
  server = await TestServer.start();
  balanceId = await balance(server);
});
afterAll(async () => server.end());

const sheetOf = async (plan: object, paper = 'a4'): Promise<Buffer> => {
  const payload = { plan, paper };
  const reply = await server.app.inject({ method: 'POST', url: '/api/solutions/bench-sheet.pdf', payload });
  expect([reply.statusCode, reply.headers['content-type']]).toEqual([200, 'application/pdf']);
  return reply.rawPayload;
};
/** On one line, whatever its cells are broken into. */
const flat = (pages: readonly string[]): string => pages.join(' ').replaceAll(/\s+/g, ' ');

it(
  'says what to weigh and each step of a solid, on both papers',
  async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const flask = await server.vessel({ ...FLASK_250, tag: 'F-0250' });
    const target = { value: '0.0200', unit: 'mol/L' };
    const plan = solidIn(flask, { substance: COPPER_SULFATE, target, balanceId });
    const a4 = await sheetOf(plan);
    // 0.0200 mol/L · 0.250 L · 249.685 g/mol (handbook, from memory) / 0.99 = 1.2610 g, less 0.04 % for buoyancy.
    expect(flat(pagesOf(a4))).toMatch(/Weigh 1\.26\d\d g of copper\(II\) sulfate into a beaker/);
    for (const said of [
      'F-0250, 250 mL',
      '0.0200 mol/L',
      'Set the mark of F-0250',
      'Reading',
      'Hazards',
      'Made by',
      'Lots',
    ])
      expect(flat(pagesOf(a4))).toContain(said);
    expect(flat(pagesOf(a4))).toContain(cautionsOfSolutions['dissolve-in-beaker']);
    const letter = await sheetOf(plan, 'letter');
    // US Letter, 612 × 792 points.
    expect(letter.toString('latin1')).toMatch(/\[0 0 612 792\]/);
    for (const one of [a4, letter]) expect(checked(one)).toContain('No syntax or stream encoding errors');
  },
  PATIENT_MS,
);

it('weighs the solution where its target is a mass in a mass', async (context) => {
  const missing = noPdfPrograms();
  if (missing !== null) return context.skip(missing);
  const madeUp = { by: 'mass', solutionG: '500.0' };
  const plan = { target: { value: '0.05', unit: 'g/g' }, madeUp, weighing: { massG: '9.9999' }, balanceId };
  const said = flat(pagesOf(await sheetOf(solidIn('', plan))));
  // 5 % of 500 g, both weighed in air of 1.20 kg/m3, the salt with 1636 kg/m3 (handbook, from memory):
  // 25 g · (1 − 1.2/1636)/(1 − 1.2/1000) = 25.012 g.
  expect(said).toMatch(/Weigh 25\.01\d\d g of potassium hydrogen phthalate/);
  expect(said).toContain('until the solution weighs 500.0 g');
  expect(said).not.toContain('Set the mark');
  // What was weighed already does not belong to a plan.
  expect(said).not.toContain('9.9999');
});

it('leads through a dilution, a series and titrations with room for each reading', async (context) => {
  const missing = noPdfPrograms();
  if (missing !== null) return context.skip(missing);
  const vesselId = await server.vessel({ ...PIPETTE_10, tag: 'P-0010' });
  const flaskId = await server.vessel({ ...FLASK_100, tag: 'F-0100' });
  const stock = { name: 'Iron', value: '100', unit: 'mg/L', expandedUncertainty: '0.5' };
  const steps = [{ deliveries: [{ vesselId }], madeUpIn: { vesselId: flaskId } }];
  const dilution = flat(pagesOf(await sheetOf({ way: 'dilution', stock, steps: [...steps, ...steps], ...ROOM })));
  expect(dilution).toContain('Deliver P-0010 (10 mL) of Iron into F-0100 (100 mL)');
  expect(dilution).toContain('Deliver P-0010 (10 mL) of the solution of F-0100 before into F-0100');
  // 100 mg/L, twice 10 mL in 100 mL.
  expect(dilution).toMatch(/about 10\.0\d* mg\/L.*about 1\.00\d* mg\/L/);
  const series = { way: 'series', stock, targets: ['10', '1'], aim: 'fewest-transfers' };
  expect(flat(pagesOf(await sheetOf(series)))).toMatch(/10 mg\/L Step .* 1 mg\/L Step /);
  const buretteId = await server.vessel({ ...BURETTE_25, tag: 'B-0025' });
  const titrations = { way: 'standardisation', titrant: { name: 'Sodium hydroxide' }, buretteId, ...ROOM, balanceId };
  const plan = { ...titrations, standard: { substance: KHP }, replicates: 5 };
  const said = flat(pagesOf(await sheetOf(plan)));
  for (const one of ['Standard g', 'Burette before mL', 'B-0025, 25 mL', 'weigh so much potassium hydrogen phthalate'])
    expect(said).toContain(one);
  expect(said).toMatch(/Note 1 2 3 4 5 /);
});

it('refuses a plan at its field', async () => {
  const flask = await server.vessel(FLASK_100);
  const send = (plan: object) => server.send('POST', '/api/solutions/bench-sheet.pdf', { plan });
  const unknown = { ...COPPER_SULFATE, formula: 'CuXx' };
  expectProblem(await send(solidIn(flask, { substance: unknown })), ['validation-failed', '#/plan/substance/formula']);
  const titrations = { way: 'standardisation', titrant: { name: 'x' }, standard: { substance: KHP }, ...ROOM };
  expectProblem(await send({ ...titrations, buretteId: flask }), ['validation-failed', '#/plan/buretteId']);
  expectProblem(await send({ ...titrations, buretteId: flask, replicates: 0 }), [
    'validation-failed',
    '#/plan/replicates',
  ]);
});

it('speaks as the screens do', () => expect(cautionWords).toEqual(cautionsOfSolutions));
