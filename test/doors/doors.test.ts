/** By which name, from which page: what is refused before anybody asks who it is. And what every answer says of itself. */
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildApp, type App } from '../../server/app.ts';
import { readConfig } from '../../server/config.ts';
import { HostNames } from '../../server/doors/host.ts';
import { checkDoors } from '../../server/doors/listeners.ts';
import { expectProblem } from '../server/attempts.ts';
import { makeCertificate } from './certificate.ts';
import { FLASK, freshTag, TestServer } from '../server/support.ts';

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(async () => server.end());

describe('the name a browser asks by', () => {
  const ask = (host: string, url = '/api/health') => server.send('GET', url, undefined, { host });
  it.each(['localhost', 'LOCALHOST:4180', '127.0.0.1:4180', '[::1]:4180', 'localhost.'])('takes %s', async (host) => {
    expect((await ask(host)).status).toBe(200);
  });
  it.each(['evil.example', 'localhost.evil.example', '127.0.0.1.evil.example', '127.0.0.1:80@evil.example', '[::1'])(
    'refuses %j, pages too',
    async (host) => {
      for (const url of ['/api/health', '/api/vessels', '/', '/nothing'])
        expectProblem(await ask(host, url), ['wrong-host']);
    },
  );
  it('takes the names that stand in Settings, at once and after a restart', async () => {
    const name = 'balance-room.school.example';
    expect((await ask(name)).status).toBe(421);
    const version = async () => Number((await server.get('/api/laboratory')).body['version']);
    const set = async (hostNames: unknown) => server.patch('/api/laboratory', await version(), { hostNames });
    expect((await set([' Balance-Room.school.example '])).body).toMatchObject({ hostNames: [name] });
    expect((await ask(`${name}:4180`)).status).toBe(200);
    await server.restart();
    expect((await ask(name)).status).toBe(200);
    expectProblem(await set(['http://room']), ['validation-failed', '#/hostNames/0']);
    await set([]);
    expect((await ask(name)).status).toBe(421);
  });
  it('takes the address of HOST', () => {
    expect(new HostNames('198.51.100.7').allows('198.51.100.7:4180')).toBe(true);
    expect(new HostNames(null).allows('198.51.100.7:4180')).toBe(false);
  });
});

describe('a page of another site', () => {
  const post = (headers: Record<string, string>) => server.post('/api/vessels', { ...FLASK, tag: freshTag() }, headers);
  it.each<[name: string, headers: Record<string, string>]>([
    ['cross-site', { 'sec-fetch-site': 'cross-site' }],
    ['same-site, another host', { 'sec-fetch-site': 'same-site', origin: 'http://localhost:80' }],
    ['an origin elsewhere', { origin: 'http://evil.example' }],
    ['another port', { origin: 'http://localhost:9999' }],
    ['no origin to speak of', { origin: 'null' }],
  ])('may not write: %s', async (_name, headers) => {
    expectProblem(await post(headers), ['cross-site']);
    for (const method of ['PATCH', 'PUT', 'DELETE'] as const)
      expectProblem(await server.send(method, '/api/session', undefined, headers), ['cross-site']);
  });
  it.each<[name: string, headers: Record<string, string>]>([
    ['our own page', { 'sec-fetch-site': 'same-origin', origin: 'http://localhost' }],
    ['our own page over plain http', { origin: 'http://localhost:80' }],
    ['no browser', {}],
  ])('is told from %s', async (_name, headers) => {
    expect((await post({ host: 'localhost:80', ...headers })).status).toBe(201);
  });
});

describe.each([
  ['plain http', null],
  ['TLS', 'tls'],
])('every kind of answer over %s', (mode, tls) => {
  let app: App;
  beforeAll(async () => {
    const pagesFolder = path.join(server.folder, 'pages');
    mkdirSync(path.join(pagesFolder, 'assets'), { recursive: true });
    writeFileSync(path.join(pagesFolder, 'index.html'), '<!doctype html><title>Tarebook</title>');
    writeFileSync(path.join(pagesFolder, 'assets', 'main-1a2b.js'), 'export {};');
    const options = { logbook: server.logbook, pagesFolder, clock: () => server.now };
    const { certFile, keyFile } = makeCertificate(server.folder, '127.0.0.1');
    const files = { TAREBOOK_CERT: certFile, TAREBOOK_KEY: keyFile };
    app = await buildApp({ ...options, tls: checkDoors(readConfig(tls === null ? {} : files)) });
  });
  afterAll(async () => app.close());

  const answers: [name: string, method: 'GET' | 'POST' | 'PATCH', url: string, host?: string][] = [
    ['a page', 'GET', '/glassware'],
    ['an asset', 'GET', '/assets/main-1a2b.js'],
    ['data', 'GET', '/api/today'],
    ['an open answer', 'GET', '/api/health'],
    ['a refusal of fields', 'POST', '/api/vessels'],
    ['a refusal for want of a version', 'PATCH', '/api/laboratory'],
    ['nothing there', 'GET', '/api/nothing'],
    ['a wrong host', 'GET', '/', 'evil.example'],
  ];
  it.each(answers)('%s', async (name, method, url, host) => {
    const headers = { accept: 'text/html', ...(host ? { host } : {}) };
    const reply = await app.inject({ method, url, headers, ...(method === 'GET' ? {} : { payload: {} }) });
    const policy =
      "default-src 'self';img-src 'self' data:;object-src 'none';base-uri 'none';form-action 'self';frame-ancestors 'none'";
    expect(reply.headers).toMatchObject({
      'content-security-policy': policy,
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'no-referrer',
      'x-frame-options': 'DENY',
      'cross-origin-resource-policy': 'same-origin',
      'cache-control': { 'a page': 'no-cache', 'an asset': 'public, max-age=31536000, immutable' }[name] ?? 'no-store',
    });
    const sentOverTls = ['strict-transport-security', 'cross-origin-opener-policy', 'origin-agent-cluster'];
    expect(sentOverTls.filter((header) => header in reply.headers)).toEqual(mode === 'TLS' ? sentOverTls : []);
    expect(JSON.stringify(reply.headers)).not.toMatch(/unsafe|upgrade-insecure|x-powered-by/);
  });

  it('an address that cannot be decoded', async () => {
    const reply = await app.inject({ method: 'GET', url: '/api/%ff' });
    expect(reply.headers).toMatchObject({ 'cache-control': 'no-store', 'x-content-type-options': 'nosniff' });
  });
});

describe('settings of the doors', () => {
  const check = (environment: Record<string, string>) => () => checkDoors(readConfig(environment));
  it('let other machines in only with TLS, or with a word that says plain http is wanted', () => {
    expect(check({})()).toBeNull();
    expect(check({ HOST: 'localhost' })()).toBeNull();
    for (const HOST of ['0.0.0.0', '192.0.2.7', '::', 'tarebook.example'])
      expect(check({ HOST })).toThrow(/^HOST is .+, which other machines reach: .+\.$/);
    expect(check({ HOST: '0.0.0.0', TAREBOOK_PLAIN_HTTP: '1' })()).toBeNull();
    expect(check({ TAREBOOK_PLAIN_HTTP: 'yes' })).toThrow(/^TAREBOOK_PLAIN_HTTP is "yes"; .+\.$/);
  });
  it('say plainly what is wrong with certificate and key', () => {
    const file = path.join(server.folder, 'letter.pem');
    writeFileSync(file, 'a letter');
    expect(check({ TAREBOOK_CERT: file })).toThrow(/^TAREBOOK_CERT and TAREBOOK_KEY belong together/);
    const missing = path.join(server.folder, 'none.pem');
    expect(check({ TAREBOOK_CERT: missing, TAREBOOK_KEY: file })).toThrow(/^TAREBOOK_CERT names .+ cannot be read\.$/);
    expect(check({ TAREBOOK_CERT: file, TAREBOOK_KEY: file })).toThrow(/are not a PEM certificate and its key\.$/);
  });
});
