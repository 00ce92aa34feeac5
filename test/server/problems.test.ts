/** Refusals: a closed list of names, one form for all of them, and nothing of the inside when something breaks. */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildApp } from '../../server/app.ts';
import type { Logbook } from '../../server/db/logbook.ts';
import { OutsideValidity } from '../../server/metrology/outside-validity.ts';
import { PROBLEMS, type ProblemCode } from '../../server/problem-codes.ts';
import { attempt, everything, expectProblem, type Expected } from './attempts.ts';
import { CALIBRATION, FLASK, freshTag, TestServer, TRIAL } from './support.ts';

const folder = fileURLToPath(new URL('../../server', import.meta.url));
const sources = readdirSync(folder, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.ts'))
  .map((name) => readFileSync(path.join(folder, name), 'utf8'))
  .join('\n');
const thrown = new Set([...sources.matchAll(/new Problem\(\s*'([^']+)'/g)].map((match) => match[1]));

describe('the list of names', () => {
  it('holds exactly those that the server throws', () => {
    expect(Object.keys(PROBLEMS).sort()).toEqual([...thrown].sort());
  });

  it.each(Object.entries(PROBLEMS))('%s has a plain title and meaning', (code, { status, title, meaning }) => {
    expect(code).toMatch(/^[a-z]+(-[a-z]+)*$/);
    expect(status).toBeGreaterThanOrEqual(400);
    expect(title).toMatch(/^[A-Z].+[^.]$/);
    expect(meaning).toMatch(/^[A-Z].+\.$/);
  });

  it('has a status of the wire for each', () => {
    const statuses = new Set(Object.values(PROBLEMS).map((problem) => problem.status));
    const ofTheWire = new Set([400, 401, 403, 404, 409, 412, 413, 415, 421, 422, 428, 429, 500, 507]);
    expect([...statuses].filter((status) => !ofTheWire.has(status))).toEqual([]);
  });
});

let server: TestServer;
beforeAll(async () => {
  server = await TestServer.start();
});
afterAll(async () => server.end());

/** A server whose logbook does something else; what it logs is kept. */
const broken = async (changed: Partial<Logbook>) => {
  const logged: string[] = [];
  const logger = { level: 'error', stream: { write: (line: string) => logged.push(line) } };
  const logbook: Logbook = { ...server.logbook };
  const app = await buildApp({ logbook, pagesFolder: null, logger });
  // It breaks once it is open.
  Object.assign(logbook, changed);
  const send = async (method: 'GET' | 'POST', url: string, body?: object) => {
    const headers = { 'idempotency-key': 'k-1', 'content-type': 'application/json' };
    const reply = await app.inject({ method, url, ...(body ? { headers, payload: JSON.stringify(body) } : {}) });
    return { status: reply.statusCode, body: reply.json<Record<string, unknown>>(), headers: reply.headers };
  };
  return { send, logged, close: () => app.close() };
};

const SECRET = 'select secret from vessel: /srv/tarebook/server/db/store.ts:12:34';
const failing = (error: Error) => ({ read: () => Promise.reject(error), write: () => Promise.reject(error) });

describe('what breaks inside', () => {
  const cases: [name: string, error: Error, code: ProblemCode][] = [
    ['a bug', new Error(SECRET), 'internal'],
    ['an error of the database', Object.assign(new Error(SECRET), { code: 'SQLITE_CORRUPT' }), 'internal'],
    ['a full disk, as the database says it', Object.assign(new Error(SECRET), { code: 'SQLITE_FULL' }), 'storage-full'],
    ['a full disk, as the system says it', Object.assign(new Error(SECRET), { code: 'ENOSPC' }), 'storage-full'],
    [
      'a value no formula covers',
      new OutsideValidity({
        quantity: 'Water temperature',
        value: 41,
        range: [0, 40],
        unit: '°C',
        source: 'tanaka-2001',
      }),
      'outside-validity',
    ],
  ];
  it.each(cases)('%s', async (_name, error, code) => {
    const { send, logged, close } = await broken(failing(error));
    for (const reply of [await send('GET', '/api/vessels'), await send('POST', '/api/vessels', FLASK)]) {
      expectProblem(reply, [code]);
      expect(JSON.stringify(reply.body)).not.toContain('secret');
      if (code === 'internal') {
        const line = logged.find((one) => one.includes(String(reply.body['instance'])));
        expect(line).toContain(SECRET);
      }
    }
    await close();
  });

  it('between a row and its entry in the journal leaves neither', async () => {
    const calibration = await server.calibration();
    const vessel = await server.vessel();
    const { send, close } = await broken({
      write: (request, work) =>
        server.logbook.write(request, (writing) =>
          work({
            ...writing,
            journal: () => {
              throw new Error(SECRET);
            },
          }),
        ),
    });
    const before = everything(server);
    const writes: [url: string, body: object][] = [
      ['/api/vessels', { ...FLASK, tag: freshTag() }],
      ['/api/instruments', { kind: 'balance', tag: freshTag() }],
      [`/api/vessels/${vessel}/calibrations`, CALIBRATION],
      [`/api/calibrations/${calibration}/trials`, TRIAL],
      [`/api/calibrations/${calibration}/conditions`, { airTemperatureC: '22' }],
      [`/api/calibrations/${calibration}/abandonment`, { reason: 'the flask broke' }],
    ];
    for (const [url, body] of writes) expectProblem(await send('POST', url, body), ['internal']);
    expect(everything(server)).toEqual(before);
    await close();
  });
});

describe('each name has its case', () => {
  const url = async (what: string) => `/api/calibrations/${await server.calibration()}/${what}`;
  const vessel = (facts: object, headers?: Record<string, string>) =>
    server.post('/api/vessels', { ...FLASK, tag: freshTag(), ...facts }, headers);
  const cases: [expected: NonNullable<Expected>, act: () => ReturnType<TestServer['get']>][] = [
    [
      ['unreadable-request'],
      () => server.sendText('POST', '/api/vessels', '{', { 'content-type': 'application/json' }),
    ],
    [['idempotency-key-missing'], () => server.send('POST', '/api/vessels', { ...FLASK, tag: freshTag() })],
    [['not-found'], () => server.get('/api/vessels/aaaa')],
    [['state-conflict'], async () => server.post(await url('reopening'), { reason: 'measured too few' })],
    [['duplicate', '#/tag'], async () => (await vessel({ tag: 'D' }), vessel({ tag: 'd' }))],
    [['stale-edit'], async () => server.patch(`/api/vessels/${await server.vessel()}`, 7, { reason: 'seen late' })],
    [['too-large'], () => vessel({ note: 'x'.repeat(1_000_001) })],
    [['wrong-media-type'], () => vessel({}, { 'content-type': 'text/csv' })],
    [['validation-failed', '#/kind'], () => vessel({ kind: 'cup' })],
    [['please-confirm', '#/filledG'], async () => server.post(await url('trials'), { ...TRIAL, filledG: '150' })],
    [['key-reused'], async () => (await vessel({}, KEY), vessel({}, KEY))],
    [['version-missing'], () => server.send('PATCH', '/api/laboratory', { name: 'School' })],
  ];
  // These need a full disk, a bug, a value that no route lets through, or a thousand trials: tested by themselves.
  const elsewhere: ProblemCode[] = [
    ...(['storage-full', 'internal', 'outside-validity', 'too-many-trials'] as const),
    // And these need people, a browser of another site, or another name: tested with people and doors.
    ...(['not-signed-in', 'sign-in-refused', 'second-factor-needed', 'passphrase-needed', 'not-allowed'] as const),
    ...(['wrong-passphrase', 'wrong-code', 'cross-site', 'set-up-done', 'last-keeper', 'wrong-host'] as const),
    'too-many-requests',
    'second-person',
    // And these need a class.
    ...(['too-many-boards', 'too-many-groups', 'other-counts'] as const),
  ];
  const KEY = { 'idempotency-key': 'reused' };

  it('or is tested by itself', () => {
    expect([...cases.map(([[code]]) => code), ...elsewhere].sort()).toEqual(Object.keys(PROBLEMS).sort());
  });
  for (const [expected, act] of cases)
    it(expected[0], async () => {
      expectProblem(await act(), expected);
    });
});

describe('the more serious refusal comes first', () => {
  const unknown = '/api/calibrations/aaaa';
  attempt(
    'an unknown id, even with a wrong body state',
    ['not-found'],
    () => server,
    () => server.post(`${unknown}/trials`, { ...TRIAL, pointMl: '50' }),
  );
  attempt(
    'fields, before the key',
    ['validation-failed', '#/cause'],
    () => server,
    () => server.send('POST', `${unknown}/trials/1/exclusion`, { reason: 'it ran over' }),
  );
  attempt(
    'the version, before the id',
    ['version-missing'],
    () => server,
    () => server.send('PATCH', unknown, { reason: 'changed my mind' }),
  );
});
