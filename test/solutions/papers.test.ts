/** Label and sheet of a solution, read back by other programs. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { checked, noPdfPrograms, pagesOf } from '../certificates/pdf-programs.ts';
import { noCodeReaders, qrCodesOf } from '../labels/code-readers.ts';
import { TestServer } from '../server/support.ts';
import { preparedSolution } from './shelf.ts';

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
