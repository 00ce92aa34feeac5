/** Coming in: codes that end with the lesson, guessing that leads nowhere, and a class that is never locked out by it. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { GROUP_NAMES } from '../../server/experiments/contract-names.ts';
import { newJoinCode } from '../../server/experiments/join-codes.ts';
import { RandomStream } from '../../server/metrology/random-stream.ts';
import { expectProblem } from '../server/attempts.ts';
import { TestServer } from '../server/support.ts';
import { Browser, setUp } from '../people/people.ts';
import { codesAt, helpAt, joinAt, ok, openExperiment, READINGS } from './lesson.ts';

let server: TestServer;
let teacher: Browser;
beforeEach(async () => {
  server = await TestServer.start();
  teacher = await setUp(server);
});
afterEach(async () => server.end());

const later = (minutes: number): void => {
  server.now = new Date(server.now.getTime() + minutes * 60_000);
};
const tryCode = (code: string, address = '192.0.2.9') => {
  const browser = new Browser(server);
  browser.address = address;
  return browser.post('/api/class/join', { code });
};

it('takes thirty phones behind one address within a minute, each with a name of the list and a word', async () => {
  const { code } = await openExperiment(teacher);
  const joined = [];
  for (let phone = 0; phone < 30; phone += 1) {
    joined.push(await joinAt(server, code, '192.0.2.7'));
    server.now = new Date(server.now.getTime() + 2000);
  }
  expect(new Set(joined.map(({ name }) => name)).size).toBe(30);
  expect(joined.filter(({ name }) => !(GROUP_NAMES as readonly string[]).includes(name))).toEqual([]);
  expect(new Set(joined.map(({ word }) => word)).size).toBe(30);
  for (const { word } of joined) expect(word).toMatch(/^[a-z]{5}$/);
});

it('takes a code in capitals, with blanks and dashes', async () => {
  const { code } = await openExperiment(teacher);
  const typed = ` ${code.slice(0, 3).toUpperCase()}-${code.slice(3)} `;
  expect((await tryCode(typed)).status).toBe(201);
});

describe('guessing', () => {
  it('leads nowhere: of 10 000 random codes at the full rate none joins', async () => {
    await openExperiment(teacher);
    const draw = new RandomStream(20260914);
    const SIGNS = 'abcdefghjkmnpqrstuvwxyz23456789';
    const guess = () => Array.from({ length: 6 }, () => SIGNS[Math.floor(draw.uniform() * SIGNS.length)]).join('');
    const answers = new Map<number, number>();
    for (let tried = 0; tried < 10_000; tried += 1) {
      // One a second and place: as fast as the limit lets anybody.
      if (tried % 10 === 0) server.now = new Date(server.now.getTime() + 1000);
      const { status } = await tryCode(guess(), `192.0.2.${tried % 200}`);
      answers.set(status, (answers.get(status) ?? 0) + 1);
    }
    expect(answers.get(201)).toBeUndefined();
    expect((answers.get(403) ?? 0) + (answers.get(429) ?? 0)).toBe(10_000);
  }, 120_000);

  it('has 60 tries at a place at once and then one a second; other places go on', async () => {
    const { code } = await openExperiment(teacher);
    for (let tried = 0; tried < 60; tried += 1) expectProblem(await tryCode('zzzzzz'), ['wrong-code', '#/code']);
    const refused = await tryCode('zzzzzz');
    expectProblem(refused, ['too-many-requests']);
    expect(refused.headers['retry-after']).toBe('1');
    expect((await tryCode(code, '198.51.100.7')).status).toBe(201);
    server.now = new Date(server.now.getTime() + 1000);
    expect((await tryCode(code)).status).toBe(201);
  });

  it('is limited over all places together', async () => {
    await openExperiment(teacher);
    for (let tried = 0; tried < 600; tried += 1) await tryCode('zzzzzz', `10.0.${tried % 20}.1`);
    expectProblem(await tryCode('zzzzzz', '198.51.100.8'), ['too-many-requests']);
  });

  it('has about 30 bits to guess: six signs of 31 that are not mistaken for others', () => {
    for (let drawn = 0; drawn < 200; drawn += 1) expect(newJoinCode()).toMatch(/^[a-hjkmnp-z2-9]{6}$/);
    expect(6 * Math.log2(31)).toBeGreaterThan(29);
  });

  it('is told in the log without the code, and without the last part of the address', async () => {
    await tryCode('qqqqqq', '192.0.2.55');
    const line = server.security.find((one) => one.includes('class-code-refused')) ?? '';
    expect(line).toContain('192.0.2.0/24');
    expect(line).not.toMatch(/qqqqqq|192\.0\.2\.55/);
  });
});

describe('a code that has ended', () => {
  const said = async (code: string) => {
    const { status, body } = await tryCode(code);
    return { status, type: body['type'], detail: body['detail'], errors: body['errors'] };
  };

  it('is answered like a wrong one: after the lesson, after closing, while joining is closed, after rotation', async () => {
    const wrong = await said('zzzzzz');
    expect(wrong.status).toBe(403);
    const lesson = await openExperiment(teacher);
    const url = `/api/experiments/${lesson.id}`;
    ok(await teacher.post(`${url}/joining`, { act: 'close' }));
    expect(await said(lesson.code)).toEqual(wrong);
    ok(await teacher.post(`${url}/joining`, { act: 'open' }));
    ok(await teacher.post(`${url}/joining`, { act: 'rotate' }));
    expect(await said(lesson.code)).toEqual(wrong);
    const { code } = await codesAt(teacher, lesson.id);
    expect((await tryCode(code)).status).toBe(201);
    ok(await teacher.post(`${url}/closing`));
    expect(await said(code)).toEqual(wrong);
    const { code: another } = await openExperiment(teacher);
    later(61);
    expect(await said(another)).toEqual(wrong);
  });

  it('ends the sessions of its groups with it; the lesson can be made longer', async () => {
    const { id, code } = await openExperiment(teacher);
    const { browser, url } = await joinAt(server, code);
    ok(await teacher.post(`/api/experiments/${id}/joining`, { act: 'extend', minutes: 90 }));
    later(80);
    expect((await browser.get(url)).status).toBe(200);
    await server.restart();
    expect((await browser.get(url)).status).toBe(200);
    later(11);
    expectProblem(await browser.get(url), ['not-signed-in']);
  });

  it('ends the sessions when the experiment is closed', async () => {
    const { id, code } = await openExperiment(teacher);
    const { browser, url } = await joinAt(server, code);
    ok(await teacher.post(`/api/experiments/${id}/closing`));
    expectProblem(await browser.get(url), ['not-signed-in']);
  });
});

describe('a group that loses its phone', () => {
  it('comes back with the code and its own word, also while joining is closed', async () => {
    const { id, code } = await openExperiment(teacher);
    const { group, name, word, browser, url } = await joinAt(server, code);
    ok(await browser.post(`${url}/trials`, READINGS));
    ok(await teacher.post(`/api/experiments/${id}/joining`, { act: 'close' }));
    const other = new Browser(server);
    const back = await other.post('/api/class/return', { code, word: word.toUpperCase() });
    expect(ok(back)).toEqual({ experimentId: id, groupId: group, name });
    expect(ok(await other.get(url))).toMatchObject({ trials: [{ number: 1 }] });
  });

  it('does not come back with a word of nobody, or under another code', async () => {
    const { code } = await openExperiment(teacher);
    const { word } = await joinAt(server, code);
    const other = await openExperiment(teacher);
    for (const body of [
      { code, word: word === 'zzzzz' ? 'yyyyy' : 'zzzzz' },
      { code: other.code, word },
      { code: 'zzzzzz', word },
    ])
      expectProblem(await new Browser(server).post('/api/class/return', body), ['wrong-code', '#/word']);
  });

  it('gets a new word from the teacher; then the lost phone is out', async () => {
    const { id, code } = await openExperiment(teacher);
    const { browser, group, url, word } = await joinAt(server, code);
    const { word: fresh } = ok(await teacher.post(`${url}/word`)) as { word: string };
    expectProblem(await browser.get(url), ['not-signed-in']);
    expectProblem(await browser.post('/api/class/return', { code, word }), ['wrong-code', '#/word']);
    expect(ok(await browser.post('/api/class/return', { code, word: fresh }))).toMatchObject({ groupId: group });
    const { words } = ok(await teacher.get(`/api/experiments/${id}/joining`)) as { words: object[] };
    expect(words).toEqual([{ groupId: group, number: 1, word: fresh }]);
  });
});

describe('what the teacher shows', () => {
  it('is the code, an address with it behind the sign #, and a square code of that', async () => {
    const { id, code } = await openExperiment(teacher);
    const shown = ok(await teacher.get(`/api/experiments/${id}/joining`));
    expect(shown['address']).toMatch(new RegExp(`^http://[^/]+/join#${code.toUpperCase()}$`));
    expect(shown['svg']).toMatch(/^<svg /);
  });

  it('has codes only while the experiment is open', async () => {
    const { id } = await openExperiment(teacher);
    ok(await teacher.post(`/api/experiments/${id}/closing`));
    const none = { code: null, boardCode: null, assistantCode: null, svg: null };
    expect(ok(await teacher.get(`/api/experiments/${id}/joining`))).toMatchObject(none);
  });
});

describe('groups', () => {
  it('are renamed from the list only, and no two alike', async () => {
    const { id } = await openExperiment(teacher);
    const { items } = ok(await teacher.post(`/api/experiments/${id}/groups`, { count: 2 })) as {
      items: { id: string; name: string }[];
    };
    const url = `/api/experiments/${id}/groups/${items[0]?.id}`;
    expectProblem(await teacher.post(url, { name: 'Anna and Ben' }), ['validation-failed', '#/name']);
    expectProblem(await teacher.post(url, { name: items[1]?.name }), ['duplicate', '#/name']);
    const free = GROUP_NAMES.find((name) => items.every((item) => item.name !== name));
    expect(ok(await teacher.post(url, { name: free, hidden: true }))).toMatchObject({ name: free, hidden: true });
  });

  it('are at most as many as there are names', async () => {
    const { id, code } = await openExperiment(teacher);
    ok(await teacher.post(`/api/experiments/${id}/groups`, { count: GROUP_NAMES.length }));
    expectProblem(await teacher.post(`/api/experiments/${id}/groups`, { count: 1 }), ['too-many-groups']);
    expectProblem(await tryCode(code), ['too-many-groups']);
  });

  it('leave at their phone, and are nobody there afterwards', async () => {
    const { code } = await openExperiment(teacher);
    const { browser, url } = await joinAt(server, code);
    expect(ok(await browser.get('/api/class/session'))).toMatchObject({ kind: 'group' });
    expect(browser.lastCookies).toEqual([]);
    expect((await browser.send('DELETE', '/api/class/session')).status).toBe(204);
    expect(ok(await browser.get('/api/class/session'))).toMatchObject({ kind: null });
    expectProblem(await browser.get(url), ['not-signed-in']);
  });

  it('hold a cookie that scripts cannot read and other sites do not send', async () => {
    const { code } = await openExperiment(teacher);
    const { browser } = await joinAt(server, code);
    expect(browser.lastCookies.join()).toMatch(/^tarebook-class=[\w-]{43}; Path=\/; HttpOnly; SameSite=Strict$/);
  });
});

it('lets a projector and an assistant in by codes of their own, and out when those are changed', async () => {
  const lesson = await openExperiment(teacher);
  const board = await helpAt(server, 'board', lesson.boardCode);
  const assistant = await helpAt(server, 'assistant', lesson.assistantCode);
  const url = `/api/experiments/${lesson.id}/board`;
  for (const one of [board, assistant]) expect((await one.get(url)).status).toBe(200);
  for (const kind of ['board', 'assistant'] as const)
    expectProblem(await new Browser(server).post(`/api/class/${kind}`, { code: lesson.code }), [
      'wrong-code',
      '#/code',
    ]);
  ok(await teacher.post(`/api/experiments/${lesson.id}/joining`, { act: 'rotate' }));
  for (const one of [board, assistant]) expectProblem(await one.get(url), ['not-signed-in']);
});
