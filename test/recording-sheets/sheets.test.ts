/** Blank recording sheets: read back by other programs, every vessel and every row to write in is there. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cautionWords } from '../../server/recording-sheets/words.ts';
import { cautionsText } from '../../web/messages/en-cautions.ts';
import { checked, noPdfPrograms, pagesOf, structureOf } from '../certificates/pdf-programs.ts';
import { noCodeReaders, qrCodesOf } from '../labels/code-readers.ts';
import { delivery } from '../lots/delivery.ts';
import { expectProblem } from '../server/attempts.ts';
import { idOf, TestServer } from '../server/support.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(async () => server.end());

const sheetsOf = async (query: Record<string, string>): Promise<Buffer> => {
  const url = `/api/recording-sheets.pdf?${new URLSearchParams(query).toString()}`;
  const reply = await server.app.inject({ method: 'GET', url });
  expect([reply.statusCode, reply.headers['content-type']]).toEqual([200, 'application/pdf']);
  return reply.rawPayload;
};
const countOf = (text: string, word: string): number => text.split(word).length - 1;

/** Invented, its limits and its waiting time too. */
const BURETTE = {
  ...{ tag: 'B-12', kind: 'burette', nominalVolumeMl: '25', basis: 'deliver', divisionMl: '0.05' },
  ...{ tolerance: { markedMl: '0.03' }, waitingTimeS: '30' },
};

describe('a page for each vessel', () => {
  it('has what is known filled in, a row for each trial, and says which page of how many it is', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    await server.patch('/api/laboratory', 1, { name: 'Invented laboratory' });
    const flask = await server.vessel({ tag: 'F-0317' });
    const burette = await server.vessel(BURETTE);
    const pdf = await sheetsOf({ vessels: `${flask},${burette}`, trials: '4' });
    const [first = '', second = '', ...others] = pagesOf(pdf);
    expect(others).toEqual([]);
    for (const said of ['F-0317', 'Invented laboratory', 'volumetric flask', 'to contain (In)', 'A (ISO 1042:1998)'])
      expect(first).toContain(said);
    // ISO 1042:1998, class A, 100 mL: ±0.10 mL, from memory.
    expect(first).toMatch(/±0\.10+ mL/);
    for (const blank of ['Date', 'Weighed by', 'Balance', 'Thermometer', 'Air pressure', 'no cracks', 'Water °C'])
      expect(first).toContain(blank);
    expect(first).toMatch(/100 1 100 2 100 3 100 4 /);
    expect(first).not.toContain('Waiting s');
    expect([first, second].map((page) => /page \d of \d/.exec(page)?.[0])).toEqual(['page 1 of 2', 'page 2 of 2']);
    for (const said of ['B-12', 'to deliver (Ex)', 'at least 30 s', 'Delivery s', 'Waiting s', 'below eye level'])
      expect(second).toContain(said);
    // Common practice, no source: full, half and a tenth of a scale.
    for (const point of ['25', '12.5', '2.5'])
      expect(second).toContain([1, 2, 3, 4].map((trial) => `${point} ${trial}`).join(' '));
    expect(checked(pdf)).toContain('No syntax or stream encoding errors');
    expect(structureOf(pdf)).toContain('Figure');
  });

  it('holds the tag alone in its code, on both papers', async (context) => {
    const missing = noCodeReaders();
    if (missing !== null) return context.skip(missing);
    const id = await server.vessel({ tag: 'Bürette 7/b' });
    for (const paper of ['a4', 'letter'])
      expect(qrCodesOf(await sheetsOf({ vessels: id, paper }))).toEqual(['Bürette 7/b']);
  });
});

describe('one table for a delivery', () => {
  it('has every vessel in use once with its code, and the trials side by side', async (context) => {
    const missing = noPdfPrograms() ?? noCodeReaders();
    if (missing !== null) return context.skip(missing);
    const lot = idOf(
      await server.post('/api/lots', delivery({ name: 'Autumn', numbering: { pattern: 'A-##', count: 30 } })),
    );
    const { vessels } = (await server.get(`/api/lots/${lot}`)).body as { vessels: { id: string }[] };
    const broken = vessels[2]?.id ?? '';
    const retired = await server.patch(`/api/vessels/${broken}`, 1, { inUse: false, reason: 'broken in the box' });
    expect(retired.status).toBe(200);
    const pages = pagesOf(await sheetsOf({ lot, form: 'compact', trials: '3', paper: 'letter' }));
    const all = pages.join(' ');
    for (let number = 1; number <= 30; number += 1) {
      const tag = `A-${String(number).padStart(2, '0')}`;
      expect([tag, countOf(all, `${tag} `)]).toEqual([tag, number === 3 ? 0 : 1]);
    }
    expect(pages.map((page) => page.includes('Trial 3'))).toEqual(pages.map(() => true));
    expect(pages.at(-1)).toContain(`page ${pages.length} of ${pages.length}`);
    const codes = qrCodesOf(await sheetsOf({ lot, form: 'compact', trials: '3' }));
    expect(codes.length).toBeGreaterThan(15);
    expect(codes).toContain('A-01');
    expectProblem(await server.get(`/api/recording-sheets.pdf?vessels=${broken}`), ['validation-failed', '#/vessels']);
  });

  it('has a row for each trial where more is to be written', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const ids = [await server.vessel({ tag: 'M-1' }), await server.vessel({ tag: 'M-2' })];
    const all = pagesOf(await sheetsOf({ vessels: ids.join(','), form: 'compact', trials: '5' })).join(' ');
    for (const tag of ['M-1', 'M-2']) for (const trial of [1, 2, 3, 4, 5]) expect(all).toContain(`${tag} ${trial} `);
  });
});

it('is refused where nothing is chosen, or too many trials', async () => {
  const id = await server.vessel();
  expectProblem(await server.get('/api/recording-sheets.pdf'), ['validation-failed', '#/vessels']);
  expectProblem(await server.get(`/api/recording-sheets.pdf?vessels=${id}&trials=31`), [
    'validation-failed',
    '#/trials',
  ]);
  expectProblem(await server.get('/api/recording-sheets.pdf?vessels=aaaaaaaaaaaa'), ['not-found']);
});

it('cautions of what the screen cautions of', () => {
  for (const [name, { title, what }] of Object.entries(cautionWords))
    expect([title, what]).toEqual([
      cautionsText[name as keyof typeof cautionWords],
      cautionsText[`${name as keyof typeof cautionWords}What`],
    ]);
});
