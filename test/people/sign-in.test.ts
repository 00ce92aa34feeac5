/** The first keeper, signing in, sessions and their ends, guessing, signing. */
import Database from 'better-sqlite3';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { confirmSigner } from '../../server/people/signing.ts';
import { placeOf } from '../../server/people/guesses.ts';
import { everything, expectProblem } from '../server/attempts.ts';
import { FLASK, freshTag, idOf, SETUP_CODE, TestServer } from '../server/support.ts';
import { addKey, addPerson, Browser, PASSPHRASE, setUp } from './people.ts';

let server: TestServer;
beforeEach(async () => {
  server = await TestServer.start();
});
afterEach(async () => server.end());

const later = (minutes: number): void => {
  server.now = new Date(server.now.getTime() + minutes * 60_000);
};
const setupBody = (facts: object = {}) => ({ code: SETUP_CODE, name: 'Ada', password: PASSPHRASE, ...facts });
const people = async (keeper: Browser) =>
  (await keeper.get('/api/people')).body['items'] as { id: string; name: string; version: number }[];

describe('before the first keeper', () => {
  it('this machine works without a name, other machines wait', async () => {
    const here = new Browser(server);
    const made = await here.post('/api/vessels', { ...FLASK, tag: freshTag() });
    expect(made.body['recordedBy']).toBe('unnamed (before sign-in)');
    const there = new Browser(server);
    there.address = '192.0.2.44';
    expectProblem(await there.get('/api/vessels'), ['not-signed-in']);
    expect((await there.get('/api/setup')).body).toMatchObject({ needed: true });
    const throughProxy = await here.send('GET', '/api/vessels', undefined, { 'x-forwarded-for': '192.0.2.44' });
    expectProblem(throughProxy, ['not-signed-in']);
  });

  it('nobody adds people, makes keys or signs in', async () => {
    const here = new Browser(server);
    expectProblem(await here.post('/api/people', { name: 'Eve', role: 'keeper' }), ['not-signed-in']);
    expectProblem(await here.post('/api/keys', { name: 'k', scope: 'read' }), ['not-signed-in']);
    for (const [name, password] of [
      ['admin', 'admin'],
      ['Ada', PASSPHRASE],
    ])
      expectProblem(await here.signIn(String(name), password), ['sign-in-refused']);
  });

  it('takes the code once, however it is typed, and signs the keeper in', async () => {
    const browser = new Browser(server);
    expectProblem(await browser.post('/api/setup', setupBody({ code: 'abcd' })), ['wrong-code', '#/code']);
    const reply = await browser.post('/api/setup', setupBody({ code: ' ABCD efgh jkmnpqrs ' }));
    expect(reply).toMatchObject({ status: 201, body: { name: 'Ada', role: 'keeper' } });
    expect(await browser.whoAmI()).toBe('Ada');
    expectProblem(await new Browser(server).post('/api/setup', setupBody()), ['set-up-done']);
  });

  it('takes no code that is a day old, and one of the next start', async () => {
    later(24 * 60);
    expectProblem(await new Browser(server).post('/api/setup', setupBody()), ['wrong-code', '#/code']);
    await server.restart();
    expect((await new Browser(server).post('/api/setup', setupBody())).status).toBe(201);
  });

  it('makes one keeper when two come at once', async () => {
    const both = ['Ada', 'Bea'].map((name) => new Browser(server).post('/api/setup', setupBody({ name })));
    expect((await Promise.all(both)).map(({ status }) => status).sort()).toEqual([201, 409]);
  });

  it.each(['short', '       ', 'password', 'qwertyuiop', 'ADA LOVELACE', 'x'.repeat(257)])(
    'refuses the passphrase %j',
    async (password) => {
      const reply = await new Browser(server).post('/api/setup', setupBody({ name: 'Ada Lovelace', password }));
      expectProblem(reply, ['validation-failed', '#/password']);
    },
  );
  it.each(['eight ch', 'пароль кота', '水と硝子の重さを量る', `${'x'.repeat(200)}1`])(
    'takes the passphrase %j',
    async (password) => {
      const browser = new Browser(server);
      expect((await browser.post('/api/setup', setupBody({ password }))).status).toBe(201);
      expect((await new Browser(server).signIn('Ada', password)).status).toBe(200);
    },
  );
  it.each(['console', 'Key robot', 'unnamed (before sign-in)', 'SYSTEM', ' '])('refuses the name %j', async (name) => {
    expectProblem(await new Browser(server).post('/api/setup', setupBody({ name })), ['validation-failed', '#/name']);
  });
});

describe('signing in', () => {
  it('compares names without capitals, and letters however they are composed', async () => {
    await setUp(server, 'Zoë Ångström');
    for (const name of ['zoë ångström', 'ZOE\u0308 A\u030aNGSTRO\u0308M'])
      expect((await new Browser(server).signIn(name)).body).toMatchObject({ person: { name: 'Zoë Ångström' } });
  });

  it('answers an unknown name and a wrong passphrase alike, and about as slowly', async () => {
    await setUp(server);
    const time = async (name: string): Promise<[ms: number, body: object]> => {
      const browser = new Browser(server);
      browser.address = `198.51.100.${(tries += 1)}`;
      const since = performance.now();
      const { status, body } = await browser.signIn(name, 'not this one');
      const { instance: _instance, ...said } = body;
      return [performance.now() - since, { status, ...said }];
    };
    let tries = 0;
    await time('warm');
    const known: number[] = [];
    const unknown: number[] = [];
    for (let round = 0; round < 9; round += 1) {
      const [first, one] = await time('Ada Keeper');
      const [second, other] = await time('Nobody Here');
      known.push(first);
      unknown.push(second);
      expect(one).toEqual(other);
    }
    const median = (values: number[]) => values.sort((a, b) => a - b)[4] ?? 0;
    // A comparison takes tens of milliseconds; an answer without one takes under two.
    expect(median(unknown)).toBeGreaterThan(median(known) / 2);
  });

  it('keeps argon2id hashes with their parameters, and renews those kept with others', async () => {
    await setUp(server);
    const hashes = () => (everything(server)['person_secret'] as { passphrase_hash: string }[])[0]?.passphrase_hash;
    expect(hashes()).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
    const { hash } = await import('@node-rs/argon2');
    const old = await hash(PASSPHRASE, { memoryCost: 8192, timeCost: 1 });
    const handle = new Database(server.logbook.file);
    handle.prepare('update person_secret set passphrase_hash = ?').run(old);
    handle.close();
    expect((await new Browser(server).signIn('Ada Keeper')).status).toBe(200);
    expect(hashes()).toMatch(/m=19456,t=2,p=1/);
  });

  it('gives a cookie that scripts and other sites do not get, without Secure on plain http', async () => {
    const browser = await setUp(server);
    expect(browser.lastCookies).toHaveLength(2);
    for (const cookie of browser.lastCookies) {
      expect(cookie).toMatch(/^tarebook(-device)?=[\w-]{43}; /);
      expect(cookie).toMatch(/; Path=\/; HttpOnly; SameSite=Strict$/);
    }
  });

  it('with a one-time code chooses the passphrase; the code works once and for three days', async () => {
    const keeper = await setUp(server);
    const { id } = await addPerson(keeper, 'Tom', 'technician');
    const code = async () => (await keeper.post(`/api/people/${id}/code`)).body['code'];
    const first = await code();
    const second = await code();
    const tom = new Browser(server);
    expectProblem(await tom.signIn('Tom', 'another good one', { code: first }), ['sign-in-refused']);
    expectProblem(await tom.signIn('Tom', 'short', { code: second }), ['validation-failed', '#/password']);
    expect((await tom.signIn('Tom', 'another good one', { code: second })).status).toBe(200);
    expectProblem(await tom.signIn('Tom', 'another good one', { code: second }), ['sign-in-refused']);
    expectProblem(await tom.signIn('Tom', PASSPHRASE), ['sign-in-refused']);
    const third = await code();
    later(72 * 60);
    expectProblem(await tom.signIn('Tom', 'another good one', { code: third }), ['sign-in-refused']);
  });
});

describe('a session', () => {
  it('ends after half an hour without use and after eight hours in any case', async () => {
    const keeper = await setUp(server);
    later(29);
    expect((await keeper.get('/api/today')).status).toBe(200);
    later(29);
    expect((await keeper.get('/api/today')).status).toBe(200);
    later(30);
    expectProblem(await keeper.get('/api/today'), ['not-signed-in']);

    expect((await keeper.signIn('Ada Keeper')).status).toBe(200);
    for (let minutes = 20; minutes < 480; minutes += 20) {
      later(20);
      expect((await keeper.get('/api/today')).status).toBe(200);
    }
    later(20);
    expectProblem(await keeper.get('/api/today'), ['not-signed-in']);
  });

  it('outlives a restart, is kept as a hash only, and in no table of the logbook', async () => {
    const keeper = await setUp(server);
    const id = keeper.cookies.get('tarebook') ?? '';
    await server.restart();
    expect(await keeper.whoAmI()).toBe('Ada Keeper');
    const handle = new Database(path.join(server.folder, 'sessions.db'), { readonly: true });
    const kept = JSON.stringify(handle.prepare('select * from session').all());
    handle.close();
    expect(kept).toMatch(/[0-9a-f]{64}/);
    expect(kept + JSON.stringify(everything(server))).not.toContain(id);
  });

  it('gets a new id at each sign-in, and the old one is over', async () => {
    const keeper = await setUp(server);
    const old = keeper.cookies.get('tarebook') ?? '';
    await keeper.signIn('Ada Keeper');
    expect(keeper.cookies.get('tarebook')).not.toBe(old);
    const thief = new Browser(server);
    thief.cookies.set('tarebook', old);
    expectProblem(await thief.get('/api/today'), ['not-signed-in']);
  });

  it('is over after signing out', async () => {
    const keeper = await setUp(server);
    const old = keeper.cookies.get('tarebook') ?? '';
    expect((await keeper.send('DELETE', '/api/session')).status).toBe(204);
    keeper.cookies.set('tarebook', old);
    expectProblem(await keeper.get('/api/today'), ['not-signed-in']);
  });

  it('ends with a changed role, without activity, by the keeper’s act, and elsewhere with a new passphrase', async () => {
    const keeper = await setUp(server);
    const { id, browser: tom } = await addPerson(keeper, 'Tom', 'technician');
    const version = async () => (await people(keeper)).find((one) => one.id === id)?.version ?? 0;
    await keeper.patch(`/api/people/${id}`, await version(), { role: 'auditor', reason: 'left the bench' });
    expectProblem(await tom.get('/api/today'), ['not-signed-in']);

    await tom.signIn('Tom');
    expect((await keeper.post(`/api/people/${id}/sign-out`)).body).toEqual({ ended: 1 });
    expectProblem(await tom.get('/api/today'), ['not-signed-in']);

    await tom.signIn('Tom');
    const elsewhere = new Browser(server);
    await elsewhere.signIn('Tom');
    const change = { password: PASSPHRASE, newPassword: 'a fresh start here' };
    const wrong = await tom.post('/api/session/passphrase', { ...change, password: 'no' });
    expectProblem(wrong, ['wrong-passphrase', '#/password']);
    expect((await tom.post('/api/session/passphrase', change)).status).toBe(200);
    expect(await tom.whoAmI()).toBe('Tom');
    expectProblem(await elsewhere.get('/api/today'), ['not-signed-in']);

    await keeper.patch(`/api/people/${id}`, await version(), { active: false, reason: 'left' });
    expectProblem(await tom.get('/api/today'), ['not-signed-in']);
    expectProblem(await tom.signIn('Tom', 'a fresh start here'), ['sign-in-refused']);
  });
});

it('the last keeper who can sign in stays keeper and active', async () => {
  const keeper = await setUp(server);
  const [ada] = await people(keeper);
  for (const change of [{ role: 'teacher' }, { active: false }])
    expectProblem(await keeper.patch(`/api/people/${ada?.id}`, 1, { ...change, reason: 'for a try' }), ['last-keeper']);
  // Somebody without a passphrase cannot keep the logbook.
  idOf(await keeper.post('/api/people', { name: 'Bea', role: 'keeper' }));
  expectProblem(await keeper.patch(`/api/people/${ada?.id}`, 1, { role: 'teacher', reason: 'for a try' }), [
    'last-keeper',
  ]);
  await addPerson(keeper, 'Cyd', 'keeper');
  expect((await keeper.patch(`/api/people/${ada?.id}`, 1, { role: 'teacher', reason: 'hands over' })).status).toBe(200);
});

describe('guessing', () => {
  const from = (address: string): Browser => {
    const browser = new Browser(server);
    browser.address = address;
    return browser;
  };

  it('waits longer each time, up to five minutes, and shuts nobody else out', async () => {
    const keeper = await setUp(server);
    const attacker = from('203.0.113.9');
    const replies = [];
    for (let count = 0; count < 50; count += 1) replies.push(await attacker.signIn('Ada Keeper', 'wrong guess'));
    expect(replies.slice(0, 5).every(({ status }) => status === 401)).toBe(true);
    for (const reply of replies.slice(5)) expectProblem(reply, ['too-many-requests']);
    expect(replies[5]?.headers['retry-after']).toBe('2');
    // Not even the right one helps from there now, nor a second way in at once.
    expectProblem(await attacker.signIn('Ada Keeper'), ['too-many-requests']);
    expect((await from('203.0.113.10').signIn('Ada Keeper')).status).toBe(200);
    // The keeper's own browser behind the same address is counted by itself.
    keeper.address = '203.0.113.9';
    expect((await keeper.signIn('Ada Keeper')).status).toBe(200);
    const waits: number[] = [];
    for (let count = 0; count < 12; count += 1) {
      server.now = new Date(server.now.getTime() + 300_000);
      expect((await attacker.signIn('Ada Keeper', 'wrong guess')).status).toBe(401);
      waits.push(Number((await attacker.signIn('Ada Keeper', 'wrong guess')).headers['retry-after']));
    }
    expect(waits.slice(0, 3)).toEqual([4, 8, 16]);
    expect(waits.at(-1)).toBe(300);
  });

  it('is no faster at once than one after the other', async () => {
    await setUp(server);
    const attacker = from('203.0.113.9');
    const replies = await Promise.all(Array.from({ length: 30 }, () => attacker.signIn('Ada Keeper', 'wrong guess')));
    expect(replies.filter(({ status }) => status === 401)).toHaveLength(5);
  });

  it('is not what thirty people do who sign in rightly from one address', async () => {
    await setUp(server);
    const replies = await Promise.all(Array.from({ length: 30 }, () => from('203.0.113.9').signIn('Ada Keeper')));
    expect(replies.every(({ status }) => status === 200)).toBe(true);
  });

  it('is limited for the set-up code and for signatures too', async () => {
    const attacker = from('203.0.113.9');
    for (let count = 0; count < 5; count += 1) await attacker.post('/api/setup', setupBody({ code: 'guess' }));
    expectProblem(await attacker.post('/api/setup', setupBody()), ['too-many-requests']);
    const keeper = await setUp(server);
    const wrong = { password: 'wrong guess', newPassword: 'something else' };
    for (let count = 0; count < 5; count += 1) await keeper.post('/api/session/passphrase', wrong);
    const reply = await keeper.post('/api/session/passphrase', { ...wrong, password: PASSPHRASE });
    expectProblem(reply, ['too-many-requests']);
  });

  // Networks of IPv6 are given out by the first 64 bits (RFC 4291, section 2.5.4).
  it.each([
    ['192.0.2.7', '192.0.2.7'],
    ['::ffff:192.0.2.7', '192.0.2.7'],
    ['2001:db8:1:2:3:4:5:6', '2001:db8:1:2::/64'],
    ['2001:db8::1', '2001:db8:0:0::/64'],
    ['fe80::1%eth0', 'fe80:0:0:0::/64'],
  ])('from %s counts for %s', (address, place) => {
    expect(placeOf(address)).toBe(place);
  });
});

describe('signing', () => {
  it('asks for the passphrase of the person who is signed in', async () => {
    const keeper = await setUp(server);
    const session = keeper.cookies.get('tarebook') ?? '';
    const request = (person: boolean) =>
      ({
        server: server.app,
        person: person
          ? {
              id: server.app.desk?.personNamed('ada keeper')?.id ?? '',
              name: 'Ada Keeper',
              role: 'keeper',
              mayIssue: true,
            }
          : null,
        headers: { cookie: `tarebook=${session}` },
        ip: '127.0.0.1',
        id: 'request-1',
      }) as unknown as Parameters<typeof confirmSigner>[0];
    await expect(confirmSigner(request(true), PASSPHRASE)).resolves.toMatchObject({ name: 'Ada Keeper' });
    await expect(confirmSigner(request(false), PASSPHRASE)).rejects.toMatchObject({ code: 'not-signed-in' });
    await expect(confirmSigner(request(true), undefined)).rejects.toMatchObject({ code: 'passphrase-needed' });
    await expect(confirmSigner(request(true), 'wrong guess')).rejects.toMatchObject({ code: 'wrong-passphrase' });
  });
});

describe('keys for programs', () => {
  it('end when revoked, after their last day, and with a new token', async () => {
    const keeper = await setUp(server);
    const { id, browser } = await addKey(keeper, 'display', 'read', { expiresOn: '2026-09-14' });
    expect((await browser.get('/api/today')).status).toBe(200);
    await keeper.post(`/api/keys/${id}/token`);
    expectProblem(await browser.get('/api/today'), ['not-signed-in']);
    const next = await addKey(keeper, 'other', 'read', { expiresOn: '2026-09-14' });
    later(16 * 60);
    expectProblem(await next.browser.get('/api/today'), ['not-signed-in']);
    await keeper.signIn('Ada Keeper');
    const third = await addKey(keeper, 'third', 'read');
    expect((await keeper.post(`/api/keys/${third.id}/revocation`, { reason: 'lost it' })).status).toBe(200);
    expectProblem(await third.browser.get('/api/today'), ['not-signed-in']);
    expectProblem(await keeper.post(`/api/keys/${third.id}/token`), ['state-conflict']);
  });
});

it('nothing secret stands in the journal, the answers kept, or the security log; typed lines break no line', async () => {
  const keeper = await setUp(server);
  const { id } = await addPerson(keeper, 'Tom', 'technician');
  const { code } = (await keeper.post(`/api/people/${id}/code`)).body as { code: string };
  const { token } = await addKey(keeper, 'display', 'read');
  await new Browser(server).signIn('Tom', 'my wrong passphrase');
  await new Browser(server).signIn('x\u202ey', 'my wrong passphrase');
  const log = server.security.join('\n');
  const kept = JSON.stringify(everything(server)) + log;
  for (const secret of [
    PASSPHRASE,
    code,
    token,
    SETUP_CODE,
    'my wrong passphrase',
    keeper.cookies.get('tarebook') ?? '',
  ])
    expect(kept).not.toContain(secret);
  const events = server.security.map((line) => (JSON.parse(line) as { security: string }).security);
  expect(new Set(events)).toEqual(
    new Set(['set-up', 'people-changed', 'signed-in', 'keys-changed', 'sign-in-refused']),
  );
  expect(log).toContain('x\\u202ey');
});
