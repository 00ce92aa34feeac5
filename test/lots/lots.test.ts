/** A delivery registered at once: all of it or nothing, each problem shown by its row. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { LotPreview, LotWithVessels } from '../../server/lots/contract.ts';
import { faultIn } from '../db/support.ts';
import { attempt, everything } from '../server/attempts.ts';
import { freshTag, idOf, TestServer } from '../server/support.ts';
import { delivery, WARE, weighedLot } from './delivery.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
  await server.post('/api/lots', delivery({ name: 'Twice' }));
});
afterAll(async () => server.end());

const lotPage = async (id: string): Promise<LotWithVessels> =>
  (await server.get(`/api/lots/${id}`)).body as unknown as LotWithVessels;

describe('a numbered delivery', () => {
  it('is one write: the lot, every vessel, and an entry for each', async () => {
    const body = delivery({ maker: 'own works', numbering: { pattern: 'N-###', first: 7, count: 30 } });
    const id = idOf(await server.post('/api/lots', body));
    const lot = await lotPage(id);
    expect(lot.vessels.map(({ tag }) => tag)).toEqual(
      Array.from({ length: 30 }, (_, index) => `N-${String(index + 7).padStart(3, '0')}`),
    );
    expect(lot).toMatchObject({
      progress: { vessels: 30, notBegun: 30, open: 0, measured: 0, outOfUse: 0 },
      ware: { kind: 'volumetric-flask', nominalVolumeMl: '100', count: 30 },
    });
    const vessel = await server.vesselPage(lot.vessels[0]?.id ?? '');
    expect(vessel).toMatchObject({ lotId: id, maker: 'own works', acquiredOn: '2026-09-14', toleranceMl: 0.1 });
    expect(faultIn(server.logbook.file)).toBeNull();
  });

  it('sent twice under one key is registered once', async () => {
    const headers = { 'idempotency-key': 'one-delivery' };
    const body = delivery();
    const [first, second] = [
      await server.post('/api/lots', body, headers),
      await server.post('/api/lots', body, headers),
    ];
    expect(second.body).toEqual(first.body);
  });

  it('takes serial numbers in the order of the tags', async () => {
    const numbering = { pattern: 'S-##', first: 1 };
    const lot = await lotPage(idOf(await server.post('/api/lots', delivery({ numbering, list: '0071\n0072' }))));
    expect(lot.vessels.map(({ tag, serial }) => [tag, serial])).toEqual([
      ['S-01', '0071'],
      ['S-02', '0072'],
    ]);
  });
});

describe('a pasted delivery', () => {
  it('shows each problem by its row before anything is kept, and then registers nothing', async () => {
    const former = freshTag();
    const vessel = await server.vessel({ tag: former });
    await server.patch(`/api/vessels/${vessel}`, 1, { tag: freshTag(), reason: 'relabelled' });
    const list = ['tag\tserial', 'P-1\t1', 'p-1\t2', `${former}\t3`, '\t4', `${'x'.repeat(41)}\t5`, 'P-2\t6'].join(
      '\n',
    );
    const body = delivery({ numbering: undefined, list });
    const before = everything(server);
    const preview = (await server.post('/api/lots', { ...body, dryRun: true })).body as unknown as LotPreview;
    expect(preview.toleranceMl).toBe(0.1);
    expect(preview.rows.map(({ line, problems }) => [line, problems.map(({ detail }) => detail).join()])).toEqual([
      [2, ''],
      [3, 'The tag p-1 stands in line 2 already.'],
      [4, `The tag ${former} belongs, or once belonged, to another vessel.`],
      [5, 'The tag is empty.'],
      [6, 'The tag is longer than 40 characters.'],
      [7, ''],
    ]);
    const refused = await server.post('/api/lots', body);
    expect(refused.status).toBe(422);
    expect(refused.body['errors']).toHaveLength(4);
    expect(everything(server)).toEqual(before);
  });

  it('names a serial number that stands in it twice, and a line whose columns a tab parts, in plain words', async () => {
    const problemsOf = async (facts: object) => {
      const body = delivery({ ...facts, dryRun: true });
      const { rows } = (await server.post('/api/lots', body)).body as unknown as LotPreview;
      return rows.map(({ line, problems }) => [line, problems.map(({ detail }) => detail).join()]);
    };
    const twice = (serial: string, line: number) =>
      `The serial number ${serial} stands in line ${line} already. What several pieces share belongs in the note.`;
    const list = ['R-1,A71', 'R-2,', 'R-3,a71', 'R-4,'].join('\n');
    expect(await problemsOf({ numbering: undefined, list })).toEqual([
      [1, ''],
      [2, ''],
      [3, twice('a71', 1)],
      [4, ''],
    ]);
    const numbering = { pattern: 'R-##', first: 1 };
    expect(await problemsOf({ numbering, list: '0071\n0072\n0071' })).toEqual([
      [1, ''],
      [2, ''],
      [3, twice('0071', 1)],
    ]);
    expect(await problemsOf({ numbering: undefined, list: 'R-1,0071\nR-2\t0072' })).toEqual([
      [1, ''],
      [2, 'A tab parts its columns, but not those of the first line. Use one sign in every line.'],
    ]);
  });
});

describe('a delivery', () => {
  const to = (facts: object) => () => server.post('/api/lots', delivery(facts));
  const on = () => server;
  const numbering = (facts: object) => ({ numbering: { pattern: 'Q-##', first: 1, count: 2, ...facts } });
  attempt(
    'a pattern without a place',
    ['validation-failed', '#/numbering/pattern'],
    on,
    to(numbering({ pattern: 'Q' })),
  );
  attempt('more than the digits hold', ['validation-failed', '#/numbering/first'], on, to(numbering({ first: 99 })));
  attempt('no tags at all', ['validation-failed', '#/numbering'], on, to({ numbering: undefined }));
  attempt('more serials than vessels', ['validation-failed', '#/list'], on, to({ ...numbering({}), list: '1\n2\n3' }));
  attempt('a day to come', ['validation-failed', '#/receivedOn'], on, to({ receivedOn: '2026-09-15' }));
  attempt(
    'ware of a class nobody lists',
    ['validation-failed', '#/ware/tolerance/class'],
    on,
    to({ ware: { ...WARE, tolerance: { standard: 'ISO 1042', edition: '1998', class: 'Z' } } }),
  );
  attempt(
    'a marked tolerance far from the table without a word',
    ['please-confirm', '#/ware/tolerance/markedMl'],
    on,
    to({ ware: { ...WARE, tolerance: { ...WARE.tolerance, markedMl: '1' } } }),
  );
  attempt('the name of another lot', ['duplicate', '#/name'], on, to({ name: 'TWICE' }));
});

describe('a lot', () => {
  it('is corrected with a reason, and both versions stay', async () => {
    const id = idOf(await server.post('/api/lots', delivery()));
    const corrected = await server.patch(`/api/lots/${id}`, 1, { supplier: 'Glass & Co', reason: 'was on the slip' });
    expect(corrected).toMatchObject({ status: 200, body: { version: 2, supplier: 'Glass & Co' } });
    expect((await server.patch(`/api/lots/${id}`, 1, { supplier: null, reason: 'a late edit' })).status).toBe(412);
    expect(faultIn(server.logbook.file)).toBeNull();
  });

  it('stands in the list, the latest first, page by page', async () => {
    const first = (await server.get('/api/lots?limit=2')).body as { items: { id: string }[]; next: string };
    const second = (await server.get(`/api/lots?limit=2&cursor=${first.next}`)).body as typeof first;
    const ids = [...first.items, ...second.items].map(({ id }) => id);
    expect(new Set(ids).size).toBe(4);
  });

  it('tells how far it is, without reading a trial to count', async () => {
    const { lot, members } = await weighedLot(server, 3);
    await server.post(`/api/calibrations/${members[0]?.calibrationId ?? ''}/measured`, {});
    const page = await lotPage(lot);
    expect(page.progress).toEqual({ vessels: 3, notBegun: 0, open: 2, measured: 1, outOfUse: 0 });
    expect(page.vessels[0]?.latest).toMatchObject({ state: 'measured', final: true });
    expect(page.rounds).toMatchObject([{ number: 1, vessels: 3, open: 2 }]);
  });
});

describe('the day a vessel is due', () => {
  const due = async (vessel: string): Promise<unknown> =>
    server.logbook.read(
      async (db) =>
        (await db.selectFrom('vessel').select('due_on').where('id', '=', vessel).executeTakeFirst())?.due_on,
    );

  it('follows its latest finished calibration, its own interval, else that of the laboratory', async () => {
    const vessel = await server.vessel();
    const calibration = await server.calibration({ performedOn: '2026-08-31' }, vessel);
    expect(await due(vessel)).toBeNull();
    await server.post(`/api/calibrations/${calibration}/measured`, { reason: 'for the test' });
    expect(await due(vessel)).toBeNull();
    const { version } = (await server.get('/api/laboratory')).body;
    await server.patch('/api/laboratory', Number(version), { intervalMonths: 12 });
    expect(await due(vessel)).toBe('2027-08-31');
    // The last day of a month without a 31st.
    await server.patch(`/api/vessels/${vessel}`, 1, { intervalMonths: 6, reason: 'it drifts' });
    expect(await due(vessel)).toBe('2027-02-28');
    await server.patch(`/api/vessels/${vessel}`, 2, { inUse: false, reason: 'on the shelf' });
    expect(await due(vessel)).toBeNull();
    await server.patch(`/api/vessels/${vessel}`, 3, { inUse: true, reason: 'back again' });
    await server.post(`/api/calibrations/${calibration}/reopening`, { reason: 'one more trial' });
    expect(await due(vessel)).toBeNull();
    expect(faultIn(server.logbook.file)).toBeNull();
  });
});
