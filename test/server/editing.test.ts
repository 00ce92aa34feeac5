/** Changing a record: only by its version, with a reason, old values kept; and finding it again. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { attempt, everything, expectProblem, type Expected } from './attempts.ts';
import { FLASK, freshTag, idOf, TestServer, type Reply } from './support.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(async () => server.end());

const BALANCE = { kind: 'balance', tag: 'BAL-1', resolutionG: '0.0001' };
const DEFAULT_REASON = { reason: 'misread the mark' };

describe('a record that is edited', () => {
  const records: Record<string, { make: () => Promise<string>; change: object }> = {
    vessel: { make: async () => `/api/vessels/${await server.vessel()}`, change: { maker: 'Nord', ...DEFAULT_REASON } },
    instrument: {
      make: async () =>
        `/api/instruments/${idOf(await server.post('/api/instruments', { ...BALANCE, tag: freshTag() }))}`,
      change: { instrument: { ...BALANCE, tag: freshTag(), maker: 'Nord' }, ...DEFAULT_REASON },
    },
    laboratory: { make: () => Promise.resolve('/api/laboratory'), change: { name: 'Nord' } },
    calibration: {
      make: async () => `/api/calibrations/${await server.calibration()}`,
      change: { plannedTrials: 5, ...DEFAULT_REASON },
    },
  };
  describe.each(Object.entries(records))('%s', (_kind, { make, change }) => {
    let url: string;
    let present: Reply['body'];
    beforeAll(async () => {
      url = await make();
      present = (await server.get(url)).body;
    });

    const withMatch = (match: string | undefined) => () =>
      server.send('PATCH', url, change, match === undefined ? {} : { 'if-match': match });
    attempt('no version', ['version-missing'], () => server, withMatch(undefined));
    attempt('any version', ['version-missing'], () => server, withMatch('*'));
    attempt('a word', ['version-missing'], () => server, withMatch('"one"'));
    attempt('two versions', ['version-missing'], () => server, withMatch('"1", "2"'));

    it.each([['"0"'], ['"99"'], ['W/"99"']])('refuses the version %s and shows the present record', async (match) => {
      const before = everything(server);
      const reply = await withMatch(match)();
      expectProblem(reply, ['stale-edit']);
      expect(reply.body['currentVersion']).toBe(present['version']);
      const { current } = reply.body as { current: Record<string, unknown> };
      expect(present).toMatchObject(current);
      expect(current).toMatchObject({ version: present['version'] });
      expect(everything(server)).toEqual(before);
    });

    it('is changed once by two who read the same version', async () => {
      const version = Number(present['version']);
      const replies = await Promise.all([server.patch(url, version, change), server.patch(url, version, change)]);
      expect(replies.map((reply) => reply.status).sort()).toEqual([200, 412]);
      expect((await server.get(url)).body['version']).toBe(version + 1);
    });

    it('is not changed without a body', async () => {
      const reply = await server.sendText('PATCH', url, undefined, { 'if-match': '"1"' });
      expect(reply.status).toBe(400);
    });
  });

  it.each(['/api/vessels/aaaa', '/api/instruments/aaaa', '/api/calibrations/aaaa'])(
    'is not found at %s',
    async (url) => {
      const body = url.includes('instruments') ? { instrument: BALANCE, ...DEFAULT_REASON } : DEFAULT_REASON;
      expectProblem(await server.patch(url, 1, body), ['not-found']);
    },
  );
});

describe('a changed vessel', () => {
  let id: string;
  let version: number;
  beforeAll(async () => {
    id = await server.vessel({ tag: 'ALT-7', note: 'chip at the rim' });
    version = 1;
  });
  const change = async (body: object) => {
    const reply = await server.patch(`/api/vessels/${id}`, version, { ...DEFAULT_REASON, ...body });
    if (reply.status === 200) version += 1;
    return reply;
  };
  const refuses = (name: string, body: object, expected: Expected) =>
    attempt(
      name,
      expected,
      () => server,
      () => change(body),
    );

  for (const reason of [undefined, '', '  ', 'no', 7, null])
    refuses(`the reason ${JSON.stringify(reason)}`, { maker: 'Südglas', reason }, ['validation-failed', '#/reason']);
  refuses('a class its standard does not have', { tolerance: { ...FLASK.tolerance, class: 'Z' } }, [
    'validation-failed',
    '#/tolerance/class',
  ]);
  refuses('a flask left without a tolerance', { tolerance: null }, ['validation-failed', '#/tolerance']);
  refuses('a kind its standard does not list', { kind: 'beaker' }, ['validation-failed', '#/kind']);
  refuses('a nominal volume of zero', { nominalVolumeMl: '0' }, ['validation-failed', '#/nominalVolumeMl']);
  refuses('an unknown field', { colour: 'amber' }, ['validation-failed', '#/colour']);
  refuses('a marked tolerance far from the table', { tolerance: { ...FLASK.tolerance, markedMl: '1' } }, [
    'please-confirm',
    '#/tolerance/markedMl',
  ]);

  it('keeps its former tag findable, and every value it had', async () => {
    expect((await change({ tag: 'NEU-7', maker: 'Südglas', serial: '12' })).status).toBe(200);
    expect((await change({ serial: null, note: 'rim ground', inUse: false })).status).toBe(200);
    for (const word of ['ALT-7', 'alt-7', 'neu-7', 'südglas', 'NEU-7 SÜDGLAS'])
      expect(await tagsFound(`search=${encodeURIComponent(word)}`)).toEqual(['NEU-7']);
    for (const word of ['NEU_7', 'NEU%7', 'alt-7 nord', '\\'])
      expect(await tagsFound(`search=${encodeURIComponent(word)}`)).toEqual([]);
    const page = await server.vesselPage(id);
    expect(page).toMatchObject({ tag: 'NEU-7', formerTags: ['ALT-7'], serial: null, note: 'rim ground', inUse: false });
    expect(page.revisions.map(({ version: number, reason, changed }) => ({ number, reason, changed }))).toEqual([
      { number: 1, reason: null, changed: [] },
      {
        number: 2,
        reason: DEFAULT_REASON.reason,
        changed: [
          { field: 'tag', before: 'ALT-7', after: 'NEU-7' },
          { field: 'serial', before: null, after: '12' },
          { field: 'maker', before: null, after: 'Südglas' },
        ],
      },
      {
        number: 3,
        reason: DEFAULT_REASON.reason,
        changed: [
          { field: 'serial', before: '12', after: null },
          { field: 'inUse', before: 'true', after: 'false' },
          { field: 'note', before: 'chip at the rim', after: 'rim ground' },
        ],
      },
    ]);
  });

  it('tells the journal what was before and after, the note included', () => {
    const last = everything(server)['journal_entry']?.at(-1) as { act: string; before: string; after: string };
    expect(last.act).toBe('vessel-corrected');
    expect(JSON.parse(last.before)).toEqual({ serial: '12', inUse: 'true', note: 'chip at the rim' });
    expect(JSON.parse(last.after)).toMatchObject({ serial: null, inUse: 'false', note: 'rim ground', version: 3 });
  });

  it('takes its own former tag back, but not that of another', async () => {
    expect((await change({ tag: 'alt-7' })).status).toBe(200);
    await server.vessel({ tag: 'OTHER-7' });
    expectProblem(await change({ tag: 'other-7' }), ['duplicate', '#/tag']);
  });

  it('is asked about its marked tolerance again when another size makes it unusual', async () => {
    // ISO 1042:1998 class A: 0.10 mL at 100 mL, 0.40 mL at 1000 mL.
    const vessel = await server.vessel({ tolerance: { ...FLASK.tolerance, markedMl: '0.10' } });
    const url = `/api/vessels/${vessel}`;
    const larger = { nominalVolumeMl: '1000', ...DEFAULT_REASON };
    expectProblem(await server.patch(url, 1, larger), ['please-confirm', '#/tolerance/markedMl']);
    const said = { confirm: ['tolerance'], note: 'marked so' };
    expect(await server.patch(url, 1, { ...larger, ...said })).toMatchObject({
      status: 200,
      body: { toleranceMl: 0.1 },
    });
    expect((await server.patch(url, 2, { location: 'cupboard', ...DEFAULT_REASON })).status).toBe(200);
  });

  it('out of use begins no calibration', async () => {
    const vessel = await server.vessel();
    await server.patch(`/api/vessels/${vessel}`, 1, { inUse: false, ...DEFAULT_REASON });
    const reply = await server.post(`/api/vessels/${vessel}/calibrations`, { points: ['100'], plannedTrials: 3 });
    expectProblem(reply, ['state-conflict']);
  });
});

describe('lists', () => {
  it('page through all vessels once each, in the order of their tags, while others are registered', async () => {
    for (const tag of ['L-b', 'L-A', 'L-c', 'L-D', 'L-e']) await server.vessel({ tag, location: 'shelf' });
    const seen: string[] = [];
    let next: string | null = '';
    while (next !== null) {
      const query: string = next === '' ? '' : `&cursor=${next}`;
      const { body } = await server.get(`/api/vessels?search=shelf&limit=2${query}`);
      const page = body as { items: { tag: string }[]; next: string | null };
      seen.push(...page.items.map((item) => item.tag));
      if (seen.length === 2) await server.vessel({ tag: 'L-0', location: 'shelf' });
      next = page.next;
    }
    expect(seen).toEqual(['L-A', 'L-b', 'L-c', 'L-D', 'L-e']);
  });

  it('are narrowed by kind and use', async () => {
    const shelf = (query: string) => tagsFound(`search=room-9&${query}`);
    const broken = await server.vessel({ tag: 'R-1', location: 'room-9' });
    await server.vessel({ tag: 'R-2', location: 'room-9', kind: 'pycnometer', tolerance: undefined });
    await server.patch(`/api/vessels/${broken}`, 1, { inUse: false, ...DEFAULT_REASON });
    expect(await shelf('inUse=true')).toEqual(['R-2']);
    expect(await shelf('inUse=false')).toEqual(['R-1']);
    expect(await shelf('kind=volumetric-flask')).toEqual(['R-1']);
    expect(await shelf('kind=burette')).toEqual([]);
  });
});

async function tagsFound(query: string): Promise<string[]> {
  const { body } = await server.get(`/api/vessels?${query}`);
  return (body as { items: { tag: string }[] }).items.map((item) => item.tag);
}
