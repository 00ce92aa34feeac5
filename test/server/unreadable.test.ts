/** Bodies, headers and addresses that are not what a route takes: one form of refusal, nothing recorded. */
import { request as httpRequest } from 'node:http';
import { connect } from 'node:net';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { attempt, everything, expectProblem, type Expected } from './attempts.ts';
import { CALIBRATION, FLASK, freshKey, freshTag, TestServer, TRIAL } from './support.ts';

const server = await TestServer.start();
const vessel = await server.vessel();
const calibration = await server.calibration({}, vessel);
await server.trial(calibration);
const instrument = String((await server.post('/api/instruments', { kind: 'balance', tag: freshTag() })).body['id']);
// No person and no key has this id; what is unreadable is refused before anybody looks.
const ids: Record<string, string> = {
  vessels: vessel,
  calibrations: calibration,
  instruments: instrument,
  people: 'p',
  keys: 'k',
  experiments: 'e',
  lots: 'l',
  preparations: 'p',
};
afterAll(async () => server.end());

/** Every address that takes a body, from the document that lists them. */
const { paths = {} } = server.app.swagger() as { paths?: Record<string, Record<string, { requestBody?: object }>> };
const ADDRESSES = Object.entries(paths).flatMap(([path, methods]) =>
  Object.entries(methods).flatMap(([method, { requestBody }]) => {
    const known = path.replace(/(\w+)\/\{id\}/, (_, kind: string) => `${kind}/${ids[kind] ?? ''}`);
    return requestBody
      ? [
          `${method.toUpperCase()} ${known.replace('certificates/{number}', 'certificates/2026-00001').replace('{number}', '1').replace('{group}', 'g').replace('{row}', 'flask')}`,
        ]
      : [];
  }),
);
const JSON_TYPE = { 'content-type': 'application/json' };

const sendTo = (address: string, payload: string | Buffer, headers: Record<string, string>) => {
  const [method, url = ''] = address.split(' ');
  const common = { 'idempotency-key': freshKey(), 'if-match': '"1"' };
  return server.sendText(method as 'POST' | 'PATCH', url, payload, { ...common, ...headers });
};

it('knows the addresses that take a body, each with what stands in its path', () => {
  expect(ADDRESSES.length).toBeGreaterThan(14);
  expect(ADDRESSES.filter((address) => /[{}]|\/\//.test(address))).toEqual([]);
});

describe.each(ADDRESSES)('%s', (address) => {
  const unreadable: [name: string, body: string | Buffer][] = [
    ['no JSON', 'tag=F-1'],
    ['half an object', '{"tag":'],
    ['an empty body', ''],
    ['null', 'null'],
    ['a key that reaches for the prototype', '{"__proto__":{"admin":"1"}}'],
    ['the same in disguise', '{"\\u005f_proto__":{"admin":"1"}}'],
    ['a constructor with a prototype', '{"constructor":{"prototype":{"admin":"1"}}}'],
    ['bytes that are not UTF-8', Buffer.from([0x7b, 0x22, 0xff, 0xfe, 0x22, 0x3a, 0x31, 0x7d])],
  ];
  for (const [name, body] of unreadable)
    attempt(
      name,
      ['unreadable-request'],
      () => server,
      () => sendTo(address, body, JSON_TYPE),
    );
  const notAnObject: [name: string, body: string][] = [
    ['a list', '[]'],
    ['a text', '"text"'],
    ['a number', '3'],
    ['true', 'true'],
    ['a list nested 100,000 deep', '['.repeat(100_000) + ']'.repeat(100_000)],
  ];
  for (const [name, body] of notAnObject)
    attempt(
      name,
      ['validation-failed', '#'],
      () => server,
      () => sendTo(address, body, JSON_TYPE),
    );
  it('refuses unknown keys by their names', async () => {
    // Where a word decides what else there may be, it is there.
    const body = '{"way":"solid","kind":"balance","constructor":"1","toString":"1","a/b~c":"1"}';
    const { errors } = (await sendTo(address, body, JSON_TYPE)).body as { errors: { pointer: string }[] };
    const pointers = errors.map((error) => error.pointer);
    expect(pointers).toEqual(expect.arrayContaining(['#/constructor', '#/toString', '#/a~1b~0c']));
  });
  const large = JSON.stringify({ note: 'x'.repeat(1_000_000) });
  attempt(
    'more than 1 MB',
    ['too-large'],
    () => server,
    () => sendTo(address, large, JSON_TYPE),
  );
  for (const type of [
    'text/plain',
    'application/x-www-form-urlencoded',
    'application/xml',
    'application/json-patch+json',
  ])
    attempt(
      type,
      ['wrong-media-type'],
      () => server,
      () => sendTo(address, '{}', { 'content-type': type }),
    );
});

describe('keys', () => {
  const create = (headers: Record<string, string>) =>
    server.send('POST', '/api/vessels', { ...FLASK, tag: freshTag() }, headers);
  const missing: Expected = ['idempotency-key-missing'];
  attempt(
    'none',
    missing,
    () => server,
    () => create({}),
  );
  attempt(
    'an empty one',
    missing,
    () => server,
    () => create({ 'idempotency-key': '' }),
  );
  attempt(
    'one with a blank',
    missing,
    () => server,
    () => create({ 'idempotency-key': 'two words' }),
  );
  attempt(
    'one of 201 characters',
    missing,
    () => server,
    () => create({ 'idempotency-key': 'k'.repeat(201) }),
  );
  attempt(
    'one letter',
    undefined,
    () => server,
    () => create({ 'idempotency-key': 'k' }),
  );
  attempt(
    'a quoted one',
    undefined,
    () => server,
    () => create({ 'idempotency-key': '"8e03978e-40d5-43dd"' }),
  );
});

describe('addresses', () => {
  const at = (name: string, url: string, expected: Expected) =>
    attempt(
      name,
      expected,
      () => server,
      () => server.get(url),
    );
  at('nothing at the address', '/api/nothing', ['not-found']);
  at('nothing at the root', '/nothing', ['not-found']);
  at('an unknown id', '/api/vessels/aaaaaaaaaaaaaaaa', ['not-found']);
  at('an id in capitals', '/api/vessels/AAAA', ['not-found']);
  at('an id with quotes', "/api/vessels/'%20or%201=1", ['not-found']);
  at('an id of 300 letters', `/api/vessels/${'a'.repeat(300)}`, ['not-found']);
  at('a path that climbs', '/api/vessels/..%2f..%2fetc%2fpasswd', ['not-found']);
  at('half an escape', '/api/vessels/%zz', ['unreadable-request']);
  for (const list of ['vessels', 'instruments', 'calibrations']) {
    at(`${list} with an unknown word`, `/api/${list}?order=tag`, ['validation-failed', '#/order']);
    at(`${list} with a doubled limit`, `/api/${list}?limit=1&limit=2`, ['validation-failed', '#/limit']);
    for (const limit of ['0', '201', '-1', '1.5', 'ten', ''])
      at(`${list} with limit "${limit}"`, `/api/${list}?limit=${limit}`, ['validation-failed', '#/limit']);
    for (const [name, cursor] of [
      ['text', 'x'],
      ['an empty list', 'W10'],
      ['a number', Buffer.from('[1,2]').toString('base64url')],
      ['an object', Buffer.from('{"length":1}').toString('base64url')],
      ['too much', Buffer.from('["a","b","c"]').toString('base64url')],
    ])
      at(`${list} with a cursor of ${name}`, `/api/${list}?cursor=${cursor}`, ['unreadable-request']);
  }
  at('a NUL to search by', '/api/vessels?search=%00', ['validation-failed', '#/search']);
  at('two searches', '/api/vessels?search=a&search=b', ['validation-failed', '#/search']);
  for (const number of ['0', '-1', '1.0', '1e0', '%201', '01', 'one', '10000'])
    attempt(
      `trial ${number}`,
      ['not-found'],
      () => server,
      () =>
        server.post(`/api/calibrations/${calibration}/trials/${number}/exclusion`, {
          cause: 'spill',
          reason: 'it ran over',
        }),
    );
  for (const method of ['PUT', 'DELETE'] as const)
    attempt(
      `${method} of a vessel`,
      ['not-found'],
      () => server,
      () => server.send(method, `/api/vessels/${vessel}`, {}),
    );
});

describe('over a socket', () => {
  let port: number;
  beforeAll(async () => {
    await server.app.listen({ host: '127.0.0.1', port: 0 });
    port = (server.app.server.address() as AddressInfo).port;
  });

  const speak = (bytes: string): Promise<string> =>
    new Promise((resolve, reject) => {
      let heard = '';
      const socket = connect(port, '127.0.0.1', () => socket.write(bytes));
      socket.on('data', (chunk: Buffer) => (heard += chunk.toString('utf8')));
      socket.on('close', () => resolve(heard));
      socket.on('error', reject);
    });

  it.each([
    ['no HTTP', 'HELLO\r\n\r\n'],
    ['a header of 100 kB', `GET /api/health HTTP/1.1\r\nhost: x\r\nlong: ${'x'.repeat(100_000)}\r\n\r\n`],
    ['two lengths', 'POST /api/vessels HTTP/1.1\r\nhost: x\r\ncontent-length: 3\r\ncontent-length: 4\r\n\r\nabc'],
  ])('answers %s in the same form', async (_name, bytes) => {
    const [head = '', text = ''] = (await speak(bytes)).split('\r\n\r\n');
    const [status, ...lines] = head.split('\r\n');
    expect(status).toBe('HTTP/1.1 400 Bad Request');
    const headers = Object.fromEntries(lines.map((line) => line.split(': ') as [string, string]));
    const reply = { status: 400, headers, body: JSON.parse(text) as Record<string, unknown> };
    expectProblem(reply, ['unreadable-request']);
  });

  it('takes nothing of a body that breaks off', async () => {
    const before = everything(server);
    await new Promise<void>((resolve) => {
      const headers = { ...JSON_TYPE, 'idempotency-key': freshKey(), 'content-length': '1000' };
      const sent = httpRequest({ port, host: '127.0.0.1', method: 'POST', path: '/api/vessels', headers });
      sent.on('error', () => resolve());
      sent.write('{"tag":"F-1"');
      setTimeout(() => sent.destroy(), 50);
    });
    expect(everything(server)).toEqual(before);
  });
});

it('counts the bytes of a body: 1 MB exactly is read', async () => {
  const text = JSON.stringify({ ...CALIBRATION, note: TRIAL.emptyG });
  const padded = text + ' '.repeat(1_000_000 - Buffer.byteLength(text));
  expect((await sendTo(`POST /api/vessels/${vessel}/calibrations`, padded, JSON_TYPE)).status).toBe(201);
});
