/** The real program: what it says of its doors at the start, and the listener for classes. */
import { afterEach, beforeEach, expect, it } from 'vitest';
import { removeFolder, temporaryFolder } from '../db/support.ts';
import { Child } from '../server/child.ts';

let folder: string;
let child: Child;
beforeEach(() => {
  folder = temporaryFolder();
});
afterEach(async () => {
  await child.stop('SIGKILL');
  removeFolder(folder);
});
const start = (environment: Record<string, string>): Child =>
  (child = new Child({ TAREBOOK_DATA: folder, ...environment }));

it('does not open to other machines by accident, and says what to do in one sentence', async () => {
  const { code, said, warned } = await start({ HOST: '0.0.0.0' }).ended;
  expect({ code, said }).toEqual({ code: 1, said: '' });
  expect(warned).toMatch(/^HOST is 0\.0\.0\.0, which other machines reach: .+ unencrypted\.\n$/);
});

it('prints a new code at each start until somebody is set up, and takes the fixed one', async () => {
  const server = start({ TAREBOOK_SETUP_CODE: 'for a script' });
  const address = await server.address();
  const headers = { 'content-type': 'application/json' };
  const body = JSON.stringify({ code: 'for a script', name: 'Ada', password: 'seven wet funnels' });
  expect((await fetch(`${address}/api/setup`, { method: 'POST', headers, body })).status).toBe(201);
  const { said } = await server.stop('SIGTERM');
  expect(said).toMatch(/To set up the first keeper: \S+\/set-up with the code for a script\n/);
  const again = start({});
  await again.address();
  expect((await again.stop('SIGTERM')).said).not.toContain('code');
});

it('has a listener for classes that reaches nothing of the record, and ends with the server', async () => {
  const server = start({ TAREBOOK_CLASS_HOST: '127.0.0.1', TAREBOOK_CLASS_PORT: '0' });
  const staff = await server.address();
  await new Promise((resolve) => setTimeout(resolve, 200));
  const ask = async (address: string, url: string, init: RequestInit = {}) => fetch(address + url, init);
  expect((await ask(staff, '/api/vessels')).status).toBe(200);
  const students = /For classes: (\S+)/.exec(server.said)?.[1] ?? '';
  expect((await ask(students, '/api/health')).status).toBe(200);
  for (const url of ['/', '/join', '/group', '/board']) {
    const page = await ask(students, url);
    // The pages come with a build of them; until then a sentence says so.
    expect(await page.text()).toMatch(page.status === 404 ? /The pages for classes are not here\./ : /<script/);
    expect(page.headers.get('content-security-policy')).toContain("default-src 'self'");
  }
  const join = { method: 'POST', headers: { 'content-type': 'application/json' }, body: '{"code":"abc234"}' };
  expect((await ask(students, '/api/class/join', join)).status).toBe(403);
  for (const url of [
    '/api/vessels',
    '/api/session',
    '/api/setup',
    '/api/people',
    '/glassware',
    '/assets/main.js',
    '/api',
  ])
    expect((await ask(students, url, { headers: { accept: 'text/html' } })).status).toBe(404);
  const body = JSON.stringify({ code: 'x', name: 'y', password: 'z' });
  const headers = { 'content-type': 'application/json' };
  expect((await ask(students, '/api/setup', { method: 'POST', headers, body })).status).toBe(404);
  const ending = await server.stop('SIGTERM');
  expect(ending.code).toBe(0);
  await expect(ask(students, '/api/health')).rejects.toThrow();
});
