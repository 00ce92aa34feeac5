/** A group reaches its own trials and nothing else: not other groups, not other classes, nothing of the record. */
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openClassDoor } from '../../server/doors/class-door.ts';
import { everything, expectProblem } from '../server/attempts.ts';
import { TestServer } from '../server/support.ts';
import { addPerson, PASSPHRASE, setUp, type Browser } from '../people/people.ts';
import { helpAt, joinAt, ok, openExperiment, READINGS, type Joined, type Lesson } from './lesson.ts';

let server: TestServer;
let keeper: Browser;
let lesson: Lesson;
let other: Lesson;
let mine: Joined;
let theirs: Joined;
let elsewhere: Joined;
beforeAll(async () => {
  server = await TestServer.start();
  keeper = await setUp(server);
  lesson = await openExperiment(keeper);
  other = await openExperiment(keeper);
  mine = await joinAt(server, lesson.code);
  theirs = await joinAt(server, lesson.code);
  elsewhere = await joinAt(server, other.code);
  for (const group of [mine, theirs, elsewhere]) ok(await group.browser.post(`${group.url}/trials`, READINGS));
});
afterAll(async () => server.end());

const writes = (url: string): [address: string, body: object][] => [
  [`${url}/trials`, READINGS],
  [`${url}/predictions`, { row: 'flask', volumeMl: '100' }],
  [`${url}/trials/flask/1/correction`, { field: 'filledG', value: '160.8372', reason: 'digits swapped' }],
  [`${url}/trials/flask/1/exclusion`, { cause: 'spill' }],
];

describe('a group', () => {
  it('finds no other group, by whatever id', async () => {
    const before = everything(server);
    const addresses = [
      theirs.url,
      elsewhere.url,
      // Its own id in another class, and the other way round.
      `/api/experiments/${other.id}/groups/${mine.group}`,
      `/api/experiments/${lesson.id}/groups/${elsewhere.group}`,
      ...['a', '1', 'aaaaaaaaaaaaaaaa'].map((id) => `/api/experiments/${lesson.id}/groups/${id}`),
    ];
    for (const url of addresses) {
      expectProblem(await mine.browser.get(url), ['not-found']);
      for (const [address, body] of writes(url)) expectProblem(await mine.browser.post(address, body), ['not-found']);
    }
    expect(everything(server)).toEqual(before);
  });

  it('sees of others neither name nor number on its own page', async () => {
    const page = JSON.stringify(ok(await mine.browser.get(mine.url)));
    expect(page).toContain(mine.name);
    // Two classes may well have a group of the same name.
    for (const said of [theirs.name, theirs.group, elsewhere.group]) expect(page).not.toContain(said);
  });

  it('is nobody in the rest of the house', async () => {
    for (const url of [
      '/api/vessels',
      '/api/certificates',
      '/api/people',
      '/api/export',
      '/api/experiments',
      `/api/experiments/${lesson.id}`,
      `/api/experiments/${lesson.id}/data`,
      `/api/experiments/${lesson.id}/board`,
      `/api/experiments/${lesson.id}/groups`,
      `/api/experiments/${lesson.id}/joining`,
    ])
      expectProblem(await mine.browser.get(url), ['not-signed-in']);
  });

  it('does not copy a sheet in the name of the teacher', async () => {
    const reply = await mine.browser.post(`${mine.url}/trials`, { ...READINGS, fromPaper: true });
    expectProblem(reply, ['validation-failed', '#/fromPaper']);
  });
});

it('a board reads its own class and writes nothing', async () => {
  const board = await helpAt(server, 'board', lesson.boardCode);
  const invitation = (id: string) => `/api/experiments/${id}/invitation`;
  expect(ok(await board.get(invitation(lesson.id)))).toMatchObject({ code: lesson.code });
  const change = (act: string) => keeper.post(`/api/experiments/${lesson.id}/joining`, { act });
  ok(await change('close'));
  expect(ok(await board.get(invitation(lesson.id)))).toMatchObject({ code: null, svg: null });
  ok(await change('open'));
  expectProblem(await board.get(invitation(other.id)), ['not-found']);
  expect(ok(await board.get(`/api/experiments/${lesson.id}/board`))).toMatchObject({ board: { id: lesson.id } });
  expectProblem(await board.get(`/api/experiments/${other.id}/board`), ['not-found']);
  expectProblem(await board.get(`/api/experiments/${other.id}/board/stream`), ['not-found']);
  expectProblem(await board.get(mine.url), ['not-signed-in']);
  for (const [address, body] of writes(mine.url)) expectProblem(await board.post(address, body), ['not-signed-in']);
});

it('an assistant enters for every group of the class, from sheets too, and for no other class', async () => {
  const assistant = await helpAt(server, 'assistant', lesson.assistantCode);
  const { items } = ok(await assistant.get(`/api/experiments/${lesson.id}/groups`)) as { items: object[] };
  expect(items).toHaveLength(2);
  const body = { ...READINGS, fromPaper: true };
  expect(ok(await assistant.post(`${theirs.url}/trials`, body))).toMatchObject({ number: 2, entered: 'paper' });
  expect(ok(await assistant.post(`${mine.url}/trials`, READINGS))).toMatchObject({ entered: 'staff' });
  expectProblem(await assistant.post(`${elsewhere.url}/trials`, body), ['not-found']);
  expectProblem(await assistant.get(`/api/experiments/${other.id}/groups`), ['not-found']);
  expectProblem(await assistant.post(`/api/experiments/${lesson.id}/closing`), ['not-signed-in']);
});

it('an assistant sees how far each group is, and makes groups that have no phone, of its own class', async () => {
  const assistant = await helpAt(server, 'assistant', lesson.assistantCode);
  const url = `/api/experiments/${lesson.id}/groups`;
  expect(ok(await assistant.post(url, { count: 1 }))).toMatchObject({ items: [{ number: 3, madeBy: 'staff' }] });
  const { experiment, items } = ok(await assistant.get(url));
  expect(experiment).toMatchObject({ id: lesson.id, rows: [{ key: 'flask' }] });
  const read = (await Promise.all([mine, theirs].map(({ browser, url: page }) => browser.get(page)))).map(
    (reply) => (ok(reply) as { trials: object[] }).trials.length,
  );
  expect((items as { trials: number }[]).map(({ trials }) => trials)).toEqual([...read, 0]);
  expectProblem(await assistant.post(`/api/experiments/${other.id}/groups`, { count: 1 }), ['not-found']);
  for (const { browser } of [mine, theirs]) expectProblem(await browser.post(url, { count: 1 }), ['not-signed-in']);
});

it('a technician and an auditor read a class and change nothing of it', async () => {
  for (const [name, role] of [
    ['Tom Weigher', 'technician'],
    ['Aud Reader', 'auditor'],
  ] as const) {
    const { browser } = await addPerson(keeper, name, role);
    expect(ok(await browser.get(`/api/experiments/${lesson.id}/data`))).toMatchObject({ id: lesson.id });
    for (const [address, body] of writes(mine.url)) expectProblem(await browser.post(address, body), ['not-allowed']);
  }
});

it('the journal names nobody of a class, and nobody of the staff is called so', async () => {
  const entries = everything(server)['journal_entry'] as { act: string; actor: string }[];
  const acts = entries.filter(({ act }) => act === 'class-group-joined' || act === 'class-trial-recorded');
  expect(new Set(acts.map(({ actor }) => actor))).toEqual(new Set(['class group', 'class assistant']));
  const refused = await keeper.post('/api/people', { name: 'Class group', role: 'teacher' });
  expectProblem(refused, ['validation-failed', '#/name']);
});

describe('at the listener for classes', () => {
  let address: string;
  beforeAll(async () => {
    const door = await openClassDoor(server.app, '127.0.0.1', 0);
    server.app.beforeClosing.push(() => {
      door.close();
      door.closeAllConnections();
    });
    address = `http://127.0.0.1:${(door.address() as AddressInfo).port}`;
  });
  const cookieOf = (browser: Browser) => [...browser.cookies].map(([name, value]) => `${name}=${value}`).join('; ');
  const ask = (url: string, browser: Browser, init: RequestInit = {}) =>
    fetch(address + url, { ...init, headers: { cookie: cookieOf(browser), 'content-type': 'application/json' } });

  it('a group reads and writes its own trials', async () => {
    expect((await ask(mine.url, mine.browser)).status).toBe(200);
    expect((await ask(theirs.url, mine.browser)).status).toBe(404);
  });

  it('nobody of the staff is known, whatever cookie their browser sends along', async () => {
    for (const url of [mine.url, `/api/experiments/${lesson.id}/board`, `/api/experiments/${lesson.id}/groups`])
      expect((await ask(url, keeper)).status).toBe(401);
    for (const url of ['/api/vessels', `/api/experiments/${lesson.id}/data`, `/api/experiments/${lesson.id}/joining`])
      expect((await ask(url, keeper)).status).toBe(404);
    const body = JSON.stringify({ name: 'Ada Keeper', password: PASSPHRASE });
    expect((await ask('/api/session', keeper, { method: 'POST', body })).status).toBe(404);
  });

  it('each route that answers admits somebody of a class, or is open', async () => {
    const routes = ['/api/health', '/api/class/session'];
    for (const url of routes) expect((await ask(url, mine.browser)).status).toBe(200);
  });
});
