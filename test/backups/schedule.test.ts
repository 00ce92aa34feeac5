/** Backups made by themselves: when they are due, how many are kept, and what is said when one fails. */
import { existsSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { Backups } from '../../server/backups/backups.ts';
import { backUp } from '../../server/backups/copy.ts';
import { faultIn, looking } from '../db/support.ts';
import { expectProblem } from '../server/attempts.ts';
import { TestServer } from '../server/support.ts';

let server: TestServer;
let backups: Backups;
beforeEach(async () => {
  server = await TestServer.start();
  backups = new Backups(server.logbook, () => server.now, { copy: backUp });
});
afterEach(() => server.end());

const folder = () => path.join(server.folder, 'backups');
const later = (hours: number): void => {
  server.now = new Date(server.now.getTime() + hours * 3_600_000);
};
const set = async (wanted: object | null): Promise<void> => {
  const { version } = (await server.get('/api/laboratory')).body;
  const reply = await server.patch('/api/laboratory', Number(version), { backups: wanted });
  expect(reply).toMatchObject({ status: 200, body: { backups: wanted } });
};

it('makes none without settings; with them one each time it is due, and keeps the newest', async () => {
  expect(await backups.makeIfDue()).toBe(false);
  await set({ folder: null, everyHours: 24, kept: 2 });
  mkdirSync(folder());
  const strangers = ['tarebook.db', 'tarebook-demonstration-2020-01-01T00-00-00-000Z.db', 'letter.txt'];
  for (const name of strangers) writeFileSync(path.join(folder(), name), '');
  const due: boolean[] = [];
  for (const hours of [0, 23, 1, 25, 1, 24]) {
    later(hours);
    due.push(await backups.makeIfDue());
  }
  expect(due).toEqual([true, false, true, true, false, true]);
  const kept = readdirSync(folder()).filter((name) => !strangers.includes(name));
  expect(kept.sort()).toEqual([
    'tarebook-2026-09-16T09-30-00-000Z.db',
    'tarebook-2026-09-16T09-30-00-000Z.json',
    'tarebook-2026-09-17T10-30-00-000Z.db',
    'tarebook-2026-09-17T10-30-00-000Z.json',
  ]);
  expect(readdirSync(folder())).toEqual(expect.arrayContaining(strangers));
  const { items } = await backups.list();
  expect(items.map(({ at }) => at)).toEqual(['2026-09-17T10:30:00.000Z', '2026-09-16T09:30:00.000Z']);
});

it('tells of a failure, tries again after ten minutes, and forgets it when one was made', async () => {
  const blocked = path.join(server.folder, 'blocked');
  writeFileSync(blocked, '');
  await set({ folder: blocked, everyHours: 1, kept: 2 });
  await expect(backups.makeIfDue()).rejects.toThrow(/folder/i);
  expect((await backups.list()).lastFailure).toMatchObject({ at: server.now.toISOString() });
  expect(await backups.makeIfDue()).toBe(false);
  await set({ folder: null, everyHours: 1, kept: 2 });
  later(1);
  expect(await backups.makeIfDue()).toBe(true);
  expect((await backups.list()).lastFailure).toBeNull();
});

it.each([
  ['a folder that is no whole path', { folder: 'backups', everyHours: 1, kept: 2 }, 'folder'],
  ['no hours', { folder: null, everyHours: 0, kept: 2 }, 'everyHours'],
  ['half an hour', { folder: null, everyHours: 0.5, kept: 2 }, 'everyHours'],
  ['none to keep', { folder: null, everyHours: 1, kept: 0 }, 'kept'],
])('refuses %s', async (_name, wanted, field) => {
  expectProblem(await server.patch('/api/laboratory', 1, { backups: wanted }), [
    'validation-failed',
    `#/backups/${field}`,
  ]);
});

it('makes one over HTTP while trials are saved; the same request again makes no second', async () => {
  const calibration = await server.calibration({ plannedTrials: 1000 });
  const key = { 'idempotency-key': 'backup-now' };
  const [made] = await Promise.all([
    server.post('/api/backups', undefined, key),
    ...Array.from({ length: 40 }, () => server.trial(calibration)),
  ]);
  expect(made).toMatchObject({ status: 201, body: { file: 'tarebook-2026-09-14T08-30-00-000Z.db' } });
  const file = path.join(folder(), String(made.body['file']));
  expect(faultIn(file)).toBeNull();
  const { number, hash } = made.body['head'] as { number: number; hash: string };
  expect(
    looking(file, (handle) => handle.prepare('select number, hash from journal_entry order by number desc').get()),
  ).toEqual({ number, hash });
  const told = (await server.get('/api/journal?act=backup-made')).body['items'] as { after: object }[];
  expect(told.map(({ after }) => after)).toEqual([
    { file: made.body['file'], head: { number, hash }, sha256: made.body['sha256'] },
  ]);

  later(1);
  expect((await server.post('/api/backups', undefined, key)).body).toEqual(made.body);
  const list = await server.get('/api/backups');
  const { sha256: _sha256, ...listed } = made.body;
  expect(list.body).toEqual({
    folder: folder(),
    items: [listed],
    lastFailure: null,
    openedAt: '2026-09-14T08:30:00.000Z',
  });
  expect(existsSync(file)).toBe(true);
});

it('sets nothing aside and puts nothing back where nobody could open the server again', async () => {
  expectProblem(await server.post('/api/logbook/aside', {}), ['state-conflict']);
  const { file } = (await server.post('/api/backups')).body;
  expectProblem(await server.post('/api/backups/restore', { file, reason: 'a drill' }), ['state-conflict']);
  for (const name of ['../tarebook.db', 'tarebook.db', 'tarebook-2020-01-01T00-00-00-000Z.db'])
    expectProblem(await server.post('/api/backups/restore', { file: name, reason: 'a drill' }), [
      'validation-failed',
      '#/file',
    ]);
});
