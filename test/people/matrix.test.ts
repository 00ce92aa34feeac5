/** Who may call what: every route against nobody, each role, the permission to issue, and each scope of a key. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { everything, expectProblem } from '../server/attempts.ts';
import { CALIBRATION, FLASK, freshTag, idOf, TestServer, TRIAL } from '../server/support.ts';
import { helpAt, joinAt, openExperiment } from '../experiments/lesson.ts';
import { addKey, addPerson, Browser, setUp } from './people.ts';

/**
 * K keeper, T technician, E teacher, A auditor, I technician who may issue; c, r, w keys that compute, read, record;
 * g group, s assistant, b board of a class experiment, who come in by its codes.
 */
const OPEN = 'open';
/** Nobody whom the others know: a token in the address. */
const TOKEN = 'token';
const ALL_READ = 'K T E A I r w';
const BENCH = 'K T I w';
const KEEPER = 'K';
const OVERSIGHT = 'K A r';
const RECORDS = 'K T A I r w';
const TEACHING = 'K E';
const CLASS_ENTRY = 'K E g s';
const TABLE: Record<string, string> = {
  'GET /api/health': OPEN,
  'GET /api/openapi.json': OPEN,
  'GET /api/problems': OPEN,
  'GET /api/reference': OPEN,
  'GET /api/reference/tolerances': OPEN,
  'GET /api/setup': OPEN,
  'POST /api/setup': OPEN,
  'GET /api/session': OPEN,
  'POST /api/session': OPEN,
  'DELETE /api/session': OPEN,
  'POST /api/session/passphrase': 'K T E A I',
  'POST /api/session/second-factor': 'K A I',
  'POST /api/session/second-factor/confirmation': 'K T E A I',
  'POST /api/session/second-factor/removal': 'K T E A I',
  'GET /api/people': OVERSIGHT,
  'POST /api/people': KEEPER,
  'PATCH /api/people/{id}': KEEPER,
  'POST /api/people/{id}/code': KEEPER,
  'POST /api/people/{id}/sign-out': KEEPER,
  'GET /api/calendars': 'K T E A I',
  'POST /api/calendars': 'K T E A I',
  'POST /api/calendars/{id}/ending': 'K T E A I',
  'GET /api/due/{token}/calendar.ics': TOKEN,
  'GET /api/keys': OVERSIGHT,
  'POST /api/keys': KEEPER,
  'POST /api/keys/{id}/token': KEEPER,
  'POST /api/keys/{id}/revocation': KEEPER,
  'GET /api/laboratory': ALL_READ,
  'PATCH /api/laboratory': KEEPER,
  'GET /api/tolerances/confirmations': ALL_READ,
  'POST /api/tolerances/confirmations': KEEPER,
  'GET /api/today': ALL_READ,
  'GET /api/vessels': ALL_READ,
  'POST /api/vessels': BENCH,
  'GET /api/vessels/{id}': ALL_READ,
  'PATCH /api/vessels/{id}': BENCH,
  'POST /api/vessels/{id}/calibrations': BENCH,
  'POST /api/vessels/{id}/capability': 'K T E A I w',
  'POST /api/vessels/{id}/inspections': BENCH,
  'POST /api/vessels/{id}/decisions': BENCH,
  'GET /api/lots': ALL_READ,
  'POST /api/lots': BENCH,
  'GET /api/old-sheets/mappings': ALL_READ,
  'POST /api/old-sheets': BENCH,
  'GET /api/lots/{id}': ALL_READ,
  'PATCH /api/lots/{id}': BENCH,
  'POST /api/lots/{id}/decisions': BENCH,
  'POST /api/lots/{id}/vessel-decisions': BENCH,
  'POST /api/lots/{id}/rounds': BENCH,
  'GET /api/lots/{id}/rounds/{number}': ALL_READ,
  'POST /api/lots/{id}/rounds/{number}/conditions': BENCH,
  'POST /api/lots/{id}/rounds/{number}/measured': BENCH,
  'POST /api/lots/{id}/rounds/{number}/zero-checks': BENCH,
  'GET /api/vessels/{id}/over-time': ALL_READ,
  'GET /api/distribution': ALL_READ,
  'GET /api/makers': ALL_READ,
  'GET /api/instruments/{id}/over-time': ALL_READ,
  'GET /api/instruments/{id}/dependents': ALL_READ,
  'GET /api/instruments': ALL_READ,
  'POST /api/instruments': BENCH,
  'GET /api/instruments/{id}': ALL_READ,
  'PATCH /api/instruments/{id}': BENCH,
  'POST /api/instruments/{id}/checks': BENCH,
  'GET /api/calibrations': ALL_READ,
  'GET /api/calibrations/{id}': ALL_READ,
  'PATCH /api/calibrations/{id}': BENCH,
  'POST /api/calibrations/{id}/trials': BENCH,
  'POST /api/calibrations/{id}/trials/{number}/exclusion': BENCH,
  'POST /api/calibrations/{id}/trials/{number}/inclusion': BENCH,
  'POST /api/calibrations/{id}/trials/{number}/correction': BENCH,
  'POST /api/calibrations/{id}/conditions': BENCH,
  'POST /api/calibrations/{id}/measured': BENCH,
  'POST /api/calibrations/{id}/reopening': BENCH,
  'POST /api/calibrations/{id}/abandonment': BENCH,
  'POST /api/calibrations/{id}/referee': 'K T E A I w',
  'POST /api/calibrations/{id}/check': 'K T I',
  'POST /api/calibrations/{id}/issue': 'K I',
  'POST /api/calibrations/{id}/amendment': 'K I',
  'POST /api/calibrations/{id}/certificates/{number}/withdrawal': 'K I',
  'GET /api/vessels/{id}/history.pdf': ALL_READ,
  'GET /api/terms/summary.pdf': ALL_READ,
  'GET /api/labels': ALL_READ,
  'GET /api/labels.pdf': ALL_READ,
  'GET /api/recording-sheets.pdf': ALL_READ,
  'GET /api/certificates': ALL_READ,
  'GET /api/certificates/{number}': ALL_READ,
  'GET /api/certificates/{number}/{format}': ALL_READ,
  'POST /api/certificates/{number}/rendering': BENCH,
  'GET /api/journal': RECORDS,
  'GET /api/journal/head': RECORDS,
  'GET /api/journal/words': RECORDS,
  'GET /api/export': RECORDS,
  'GET /api/export/plan': RECORDS,
  'GET /api/export/progress/{token}': RECORDS,
  'GET /api/journal/check': RECORDS,
  'POST /api/journal/check': 'K T A I w',
  'GET /api/backups': KEEPER,
  'POST /api/backups': KEEPER,
  'POST /api/backups/restore': KEEPER,
  'POST /api/logbook/aside': KEEPER,
  'GET /api/audit': RECORDS,
  'GET /api/audit/sample': RECORDS,
  'POST /api/evaluate': 'K T E A I c r w',
  'GET /api/solutions/choice': 'K T E A I c r w',
  'POST /api/solutions/series': 'K T E A I c r w',
  'GET /api/solutions/formula': 'K T E A I c r w',
  'POST /api/solutions/bench-sheet.pdf': 'K T E A I c r w',
  'POST /api/solutions/evaluate': 'K T E A I c r w',
  'GET /api/vessels/{id}/preparations': ALL_READ,
  'GET /api/instruments/{id}/preparations': ALL_READ,
  'GET /api/preparations': ALL_READ,
  'POST /api/preparations': 'K T E I w',
  'GET /api/preparations/{id}': ALL_READ,
  'GET /api/preparations/{id}/label.pdf': ALL_READ,
  'GET /api/preparations/{id}/sheet.pdf': ALL_READ,
  'POST /api/preparations/{id}/end': 'K T E I w',
  'POST /api/preparations/{id}/decisions': 'K T E I w',
  'GET /api/experiments': ALL_READ,
  'POST /api/experiments': TEACHING,
  'GET /api/experiments/templates': ALL_READ,
  'POST /api/experiments/foresight': 'K T E A I w',
  'GET /api/experiments/{id}': ALL_READ,
  'PATCH /api/experiments/{id}': TEACHING,
  'POST /api/experiments/{id}/opening': TEACHING,
  'GET /api/experiments/{id}/joining': TEACHING,
  'POST /api/experiments/{id}/joining': TEACHING,
  'GET /api/experiments/{id}/groups': `${ALL_READ} s`,
  'POST /api/experiments/{id}/groups': 'K E s',
  'GET /api/experiments/{id}/groups/{group}': `${ALL_READ} g s`,
  'POST /api/experiments/{id}/groups/{group}': TEACHING,
  'POST /api/experiments/{id}/groups/{group}/word': TEACHING,
  'POST /api/experiments/{id}/groups/{group}/predictions': CLASS_ENTRY,
  'POST /api/experiments/{id}/groups/{group}/trials': CLASS_ENTRY,
  'POST /api/experiments/{id}/groups/{group}/trials/{row}/{number}/correction': CLASS_ENTRY,
  'POST /api/experiments/{id}/groups/{group}/trials/{row}/{number}/exclusion': CLASS_ENTRY,
  'POST /api/experiments/{id}/groups/{group}/trials/{row}/{number}/inclusion': CLASS_ENTRY,
  'GET /api/experiments/{id}/board': `${ALL_READ} s b`,
  'GET /api/experiments/{id}/board/stream': 'K T E A I s b',
  'GET /api/experiments/{id}/invitation': 'K T E A I s b',
  'GET /api/experiments/{id}/data': ALL_READ,
  'GET /api/experiments/{id}/data.csv': ALL_READ,
  'GET /api/experiments/{id}/questions': `${ALL_READ} g s`,
  'POST /api/experiments/{id}/answers': 'K T E A I g s w',
  'GET /api/experiments/{id}/earlier': ALL_READ,
  'GET /api/experiments/{id}/report.pdf': `${ALL_READ} g`,
  'GET /api/experiments/{id}/worksheet.pdf': ALL_READ,
  'GET /api/experiments/{id}/sheet.pdf': ALL_READ,
  'POST /api/experiments/{id}/closing': TEACHING,
  'POST /api/experiments/{id}/names-removal': TEACHING,
  'POST /api/experiments/{id}/erasure': TEACHING,
  'POST /api/experiments/{id}/rehearsal': TEACHING,
  'POST /api/class/join': OPEN,
  'POST /api/class/return': OPEN,
  'POST /api/class/board': OPEN,
  'POST /api/class/assistant': OPEN,
  'GET /api/class/session': OPEN,
  'DELETE /api/class/session': OPEN,
};

const server = await TestServer.start();
const { paths = {} } = server.app.swagger() as { paths?: Record<string, Record<string, object>> };
const ROUTES = Object.entries(paths).flatMap(([path, methods]) =>
  Object.keys(methods).map((method) => `${method.toUpperCase()} ${path}`),
);
const callers: Record<string, Browser> = {};
beforeAll(async () => {
  const keeper = await setUp(server);
  callers['K'] = keeper;
  callers['T'] = (await addPerson(keeper, 'Tom', 'technician')).browser;
  callers['E'] = (await addPerson(keeper, 'Eva', 'teacher')).browser;
  callers['A'] = (await addPerson(keeper, 'Aud', 'auditor')).browser;
  callers['I'] = (await addPerson(keeper, 'Ina', 'technician', true)).browser;
  callers['c'] = (await addKey(keeper, 'sheet', 'compute')).browser;
  callers['r'] = (await addKey(keeper, 'display', 'read')).browser;
  callers['w'] = (await addKey(keeper, 'balance', 'record')).browser;
  const lesson = await openExperiment(keeper);
  callers['g'] = (await joinAt(server, lesson.code)).browser;
  callers['s'] = await helpAt(server, 'assistant', lesson.assistantCode);
  callers['b'] = await helpAt(server, 'board', lesson.boardCode);
});
afterAll(async () => server.end());

it('has a row for every route, and no row too many', () => {
  expect(ROUTES.length).toBeGreaterThan(40);
  expect(Object.keys(TABLE).sort()).toEqual([...ROUTES].sort());
});

/** Whoever may is told that this is no day: nothing has to be packed to see who may. */
const EXPORT = '/api/export';

const call = (browser: Browser, route: string, body?: unknown) => {
  const [method = '', path = ''] = route.split(' ');
  const url = (path === EXPORT ? `${path}?from=never` : path)
    .replace('{id}', 'aaaa')
    .replace('{number}', '1')
    .replace('{token}', 'aaaaaaaa')
    .replace('{group}', 'aaaa')
    .replace('{row}', 'flask');
  return browser.send(method as 'GET', url, method === 'GET' ? undefined : (body ?? {}), { 'if-match': '"1"' });
};

describe.each(Object.entries(TABLE))('%s', (route, row) => {
  it(row === OPEN ? 'answers anybody' : 'asks nobody in', async () => {
    const stranger = new Browser(server);
    const reply = await call(stranger, route);
    if (row === OPEN) expect([401, 403, 404]).not.toContain(reply.status);
    else expectProblem(reply, ['not-signed-in']);
  });

  if (row !== OPEN)
    it.each(['K', 'T', 'E', 'A', 'I', 'c', 'r', 'w'])('is what it should be for %s', async (letter) => {
      const caller = callers[letter];
      if (!caller) throw new Error(`nobody is called ${letter}`);
      const reply = await call(caller, route);
      if (row.split(' ').includes(letter)) {
        // A signature's own want of a passphrase comes after the question who may sign.
        expect(['not-signed-in', 'not-allowed', 'internal'].map((code) => `/problems/${code}`)).not.toContain(
          reply.body['type'],
        );
      } else expectProblem(reply, [row === TOKEN ? 'not-signed-in' : 'not-allowed']);
    });

  // Somebody of a class is nobody anywhere else: not even refused by name.
  if (row !== OPEN)
    it.each(['g', 's', 'b'])('is what it should be for %s of a class', async (letter) => {
      const caller = callers[letter];
      if (!caller) throw new Error(`nobody is called ${letter}`);
      const reply = await call(caller, route);
      if (row.split(' ').includes(letter)) expect(reply.body['type']).toMatch(/not-found|validation-failed/);
      else expectProblem(reply, ['not-signed-in']);
    });
});

describe('without sign-in', () => {
  it.each([
    ['an unknown address', 'GET', '/api/nothing'],
    ['the same with letters in disguise', 'GET', '/%61pi/vessels'],
    ['an unknown id', 'GET', '/api/vessels/zzzz'],
    ['an id far too long', 'GET', `/api/vessels/${'z'.repeat(300)}`],
    ['an address that cannot be decoded', 'GET', '/api/vessels/%ff%fe'],
    ['a method no route has', 'PUT', '/api/vessels'],
    ['the bare folder', 'GET', '/api'],
  ] as const)('%s is not told from a known one', async (_name, method, url) => {
    expectProblem(await new Browser(server).send(method, url), ['not-signed-in']);
  });

  it('a wrong token opens nothing, a right one names its key in the journal', async () => {
    const stranger = new Browser(server);
    stranger.headers = { authorization: 'Bearer tarebook_wrong' };
    expectProblem(await stranger.get('/api/vessels'), ['not-signed-in']);
    const made = await callers['w']?.post('/api/vessels', { ...FLASK, tag: freshTag() });
    expect(made).toMatchObject({ status: 201, body: { recordedBy: 'key balance' } });
  });

  it('before anything of the body is read', async () => {
    const reply = await server.sendText('POST', '/api/vessels', '{', { 'content-type': 'application/json' });
    expectProblem(reply, ['not-signed-in']);
  });
});

it('an auditor who sends every write of a whole calibration again changes nothing', async () => {
  const sent: [method: 'POST' | 'PATCH', url: string, body: unknown, version: number][] = [];
  const keeper = callers['K'];
  const auditor = callers['A'];
  if (!keeper || !auditor) throw new Error('nobody is signed in');
  const act = async (method: 'POST' | 'PATCH', url: string, body: unknown, version = 1) => {
    sent.push([method, url, body, version]);
    const reply = await keeper.send(method, url, body, { 'if-match': `"${version}"` });
    expect([200, 201]).toContain(reply.status);
    return reply;
  };
  const vessel = idOf(await act('POST', '/api/vessels', { ...FLASK, tag: freshTag() }));
  await act('PATCH', `/api/vessels/${vessel}`, { serial: '9', reason: 'seen on the foot' });
  await act('POST', '/api/instruments', { kind: 'balance', tag: freshTag() });
  const url = `/api/calibrations/${idOf(await act('POST', `/api/vessels/${vessel}/calibrations`, CALIBRATION))}`;
  await act('POST', `${url}/trials`, TRIAL);
  await act('POST', `${url}/trials/1/exclusion`, { cause: 'spill', reason: 'it ran over' });
  await act('POST', `${url}/trials/1/inclusion`, { reason: 'it did not' });
  await act('POST', `${url}/abandonment`, { reason: 'for the test' });
  const laboratory = (await keeper.get('/api/laboratory')).body;
  await act('PATCH', '/api/laboratory', { name: 'Room 3' }, Number(laboratory['version']));
  const person = idOf(await act('POST', '/api/people', { name: 'New Hand', role: 'technician' }));
  await act('PATCH', `/api/people/${person}`, { mayIssue: true, reason: 'was trained' });
  const key = idOf(await act('POST', '/api/keys', { name: 'robot', scope: 'record' }));
  await act('POST', `/api/keys/${key}/revocation`, { reason: 'not needed' });

  const before = everything(server);
  for (const [method, address, body, version] of sent)
    expectProblem(await auditor.send(method, address, body, { 'if-match': `"${version}"` }), ['not-allowed']);
  for (const route of ROUTES.filter((one) => one.startsWith('GET'))) await call(auditor, route);
  expect(everything(server)).toEqual(before);
});
