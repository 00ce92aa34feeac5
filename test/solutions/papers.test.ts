/** Label and sheet of a solution, read back by other programs. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { checked, noPdfPrograms, pagesOf } from '../certificates/pdf-programs.ts';
import { noCodeReaders, qrCodesOf } from '../labels/code-readers.ts';
import { idOf, TestServer } from '../server/support.ts';
import { balance, BURETTE_25, calibrated, FLASK_100, KHP, PIPETTE_10, preparedSolution, ROOM } from './shelf.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(async () => server.end());

const paper = async (id: string, name: 'label' | 'sheet'): Promise<Buffer> => {
  const reply = await server.app.inject({ method: 'GET', url: `/api/preparations/${id}/${name}.pdf` });
  expect([reply.statusCode, reply.headers['content-type']]).toEqual([200, 'application/pdf']);
  return reply.rawPayload;
};

it('say what it is, how sure, until when, and leave the hazards to the laboratory', async (context) => {
  const missing = noPdfPrograms();
  if (missing !== null) return context.skip(missing);
  const id = await preparedSolution(server, { expiresOn: '2026-12-31' });
  // A point is part of these signs; on the paper after theirs it must still read as one.
  await paper(await preparedSolution(server, { title: 'Rinse 1 : 2 … ; ! i' }), 'label');
  const label = await paper(id, 'label');
  const sheet = await paper(id, 'sheet');
  const [onLabel = '', ...more] = pagesOf(label);
  expect(more).toEqual([]);
  // 2.0422 g of phthalate, 204.22 g/mol (handbook), in 100 mL: 0.1000 mol/L.
  for (const said of ['Phthalate 0.1 mol/L', '0.1000', 'mol/L', 'expires 2026-12-31', 'S-0001', 'by local rules'])
    expect(onLabel).toContain(said);
  const [onSheet = ''] = pagesOf(sheet);
  for (const said of [
    'Phthalate 0.1 mol/L',
    'S-0001',
    'made up in it',
    'its tolerance',
    'Acid into water',
    'page 1 of',
  ])
    expect(onSheet).toContain(said);
  for (const one of [label, sheet]) expect(checked(one)).toContain('No syntax or stream encoding errors');
});

it('hold the number alone in their code', async (context) => {
  const missing = noCodeReaders();
  if (missing !== null) return context.skip(missing);
  const id = await preparedSolution(server, { hazardLine: 'Irritant' });
  for (const name of ['label', 'sheet'] as const) expect(qrCodesOf(await paper(id, name))).toEqual(['S-0003']);
});

const said = (paper: Buffer): string => pagesOf(paper).join(' ').replace(/\s+/g, ' ');

it('list each step of a dilution in its order, with what was delivered into what', async (context) => {
  const missing = noPdfPrograms();
  if (missing !== null) return context.skip(missing);
  const pipette = await server.vessel({ ...PIPETTE_10, tag: 'W-P10' });
  const smaller = await server.vessel({ ...PIPETTE_10, nominalVolumeMl: '5', tag: 'W-P05' });
  const flask = await server.vessel({ ...FLASK_100, tag: 'W-F100' });
  const steps = [
    { deliveries: [{ vesselId: pipette }, { vesselId: smaller }], madeUpIn: { vesselId: flask } },
    { deliveries: [{ vesselId: pipette }], madeUpIn: { vesselId: flask } },
  ];
  const stock = { name: 'Iron', value: '1000', unit: 'mg/L', expandedUncertainty: '2' };
  const solution = { way: 'dilution', stock, steps, ...ROOM };
  const id = idOf(await server.post('/api/preparations', { title: 'Iron, twice', solution }));
  const sheet = said(await paper(id, 'sheet'));
  // 1000 mg/L · 15/100 = 150 mg/L, · 10/100 = 15 mg/L.
  expect(sheet).toMatch(/Stock Iron/);
  expect(sheet).toMatch(/1 the stock 10 mL with W-P10, 5 mL with W-P05 100 mL in W-F100 150\.\d+ ± .* mg\/L/);
  expect(sheet).toMatch(/2 step 1 10 mL with W-P10 100 mL in W-F100 15\.\d+ ±/);
});

it('list each titration with what was weighed and its result, and what it was set against', async (context) => {
  const missing = noPdfPrograms();
  if (missing !== null) return context.skip(missing);
  const burette = await server.vessel({ ...BURETTE_25, tag: 'W-B25' });
  await calibrated(server, burette, '25', ['24.9210', '24.9214', '24.9206']);
  const titration = (massG: string, buretteToMl: string) => ({ massG, buretteFromMl: '0.00', buretteToMl });
  const solution = {
    way: 'standardisation',
    titrant: { name: 'Sodium hydroxide', formula: 'NaOH' },
    standard: { from: 'solid', substance: KHP },
    titrations: [titration('0.3888', '18.64'), titration('0.3890', '18.65'), titration('0.3886', '18.63')],
    buretteId: burette,
    balanceId: await balance(server),
    ...ROOM,
  };
  const sheet = said(await paper(idOf(await server.post('/api/preparations', { title: 'NaOH', solution })), 'sheet'));
  for (const part of ['Sodium hydroxide, NaOH', 'KHC8H4O4', '100.00 % ± 0.05 %', 'By its marks mL', '<1%'])
    expect(sheet).toContain(part);
  // Eurachem CG 4, A2: 0.3888 g by 18.64 mL, 0.1021 mol/L.
  expect(sheet).toMatch(/1 0\.3888 0\.00 18\.64 18\.64 0\.102/);
  expect(sheet).toMatch(/3 0\.3886 0\.00 18\.63 18\.63 0\.102/);
  expect(sheet).not.toMatch(/ 0 ?%/);
});
