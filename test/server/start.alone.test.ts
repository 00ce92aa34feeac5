/** Starting and ending the real program: nothing acknowledged is ever lost, and what hinders a start is said plainly. */
import Database from 'better-sqlite3';
import { mkdirSync, writeFileSync } from 'node:fs';
import { createServer, type AddressInfo } from 'node:net';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openLogbook } from '../../server/db/logbook.ts';
import { faultIn, looking, removeFolder, temporaryFolder } from '../db/support.ts';
import { Child, postTo } from './child.ts';
import { CALIBRATION, FLASK, TestServer, TRIAL } from './support.ts';

let folder: string;
let children: Child[];
beforeEach(() => {
  folder = temporaryFolder();
  children = [];
});
afterEach(async () => {
  for (const child of children) await child.stop('SIGKILL');
  removeFolder(folder);
});

const start = (environment: Record<string, string> = {}): Child => {
  const child = new Child({ TAREBOOK_DATA: folder, ...environment });
  children.push(child);
  return child;
};
const file = () => path.join(folder, 'tarebook.db');
const begin = async (address: string): Promise<string> => {
  const vessel = await postTo(address, '/api/vessels', 'vessel', FLASK);
  const url = `/api/vessels/${String(vessel.body['id'])}/calibrations`;
  const calibration = await postTo(address, url, 'calibration', { ...CALIBRATION, plannedTrials: 1000 });
  return `/api/calibrations/${String(calibration.body['id'])}/trials`;
};
/** Keys of the trials that the file holds, in the order of their numbers. */
const keysKept = (): string[] =>
  looking(file(), (handle) =>
    handle.prepare<[], string>('select request_key from trial order by number').pluck().all(),
  );
const isWhole = (): void => {
  expect(faultIn(file())).toBeNull();
  expect(looking(file(), (handle) => handle.pragma('integrity_check', { simple: true }))).toBe('ok');
};

describe('what hinders a start is one plain sentence, and the program ends with 1', () => {
  const refused = async (environment: Record<string, string>, sentence: RegExp): Promise<void> => {
    const ending = await start(environment).ended;
    expect({ code: ending.code, said: ending.said }).toEqual({ code: 1, said: '' });
    expect(ending.warned).toMatch(sentence);
    expect(ending.warned.trimEnd().split('\n')).toHaveLength(1);
    expect(ending.warned).not.toMatch(/Error|\bat \S+:\d+|node_modules/);
  };

  it('a port in use, a port that is none, a folder inside a file', async () => {
    const other = createServer();
    await new Promise<void>((resolve) => other.listen(0, '127.0.0.1', resolve));
    const port = String((other.address() as AddressInfo).port);
    writeFileSync(path.join(folder, 'file'), '');
    await Promise.all([
      refused({ PORT: port }, new RegExp(`^Port ${port} is in use by another program\\. .+\\.\\n$`)),
      refused({ PORT: '80 80' }, /^PORT is "80 80"; it must be a whole number from 0 to 65535\.\n$/),
      refused({ TAREBOOK_DATA: path.join(folder, 'file', 'data') }, /^The data folder .+ cannot be written\. .+\.\n$/),
    ]);
    await new Promise((resolve) => other.close(resolve));
  });

  it('a file that is no logbook, a logbook of a newer Tarebook, one that is open elsewhere', async () => {
    const [letter, newer, open] = ['letter', 'newer', 'open'].map((name) => path.join(folder, name)) as [
      string,
      string,
      string,
    ];
    mkdirSync(letter);
    writeFileSync(path.join(letter, 'tarebook.db'), 'a letter to the reader '.repeat(100));
    await (await openLogbook(newer)).close();
    const handle = new Database(path.join(newer, 'tarebook.db'));
    handle.exec("insert into kysely_migration (name, timestamp) values ('9999-future', '2031-01-01')");
    handle.close();
    const elsewhere = await openLogbook(open);
    await Promise.all([
      refused({ TAREBOOK_DATA: letter }, /^The file tarebook\.db in .+ is not a logbook\.\n$/),
      refused({ TAREBOOK_DATA: newer }, /^This logbook was written by a newer Tarebook .+\. .+\.\n$/),
      refused({ TAREBOOK_DATA: open }, /^Another Tarebook already has this logbook open\. .+\.\n$/),
    ]);
    await elsewhere.close();
  });
});

describe.each(['SIGTERM', 'SIGINT'] as const)('%s while trials come in', (signal) => {
  it('ends with 0 within 5 s, keeps what was answered, and the next start goes on', async () => {
    const child = start();
    const address = await child.address();
    const trials = await begin(address);
    const answered: string[] = [];
    let sent = 0;
    const client = async (): Promise<void> => {
      for (;;) {
        const key = `trial-${(sent += 1)}`;
        const reply = await postTo(address, trials, key, TRIAL).catch(() => null);
        if (reply?.status !== 201) return;
        answered.push(key);
      }
    };
    const clients = Promise.all([client(), client(), client()]);
    while (answered.length < 20) await new Promise((resolve) => setTimeout(resolve, 5));
    const since = Date.now();
    const ending = await child.stop(signal);
    expect(Date.now() - since).toBeLessThan(5000);
    await clients;
    expect({ code: ending.code, warned: ending.warned }).toEqual({ code: 0, warned: '' });
    expect(new Set(keysKept())).toEqual(new Set([...keysKept(), ...answered]));
    isWhole();

    const again = await TestServer.on(folder);
    const reply = await again.send('POST', trials, TRIAL, { 'idempotency-key': answered[0] ?? '' });
    expect(reply.status).toBe(201);
    await again.close();
  });
});

describe('kill -9 while trials come in', () => {
  it('twice: each acknowledged trial is there once, each unanswered one after it was sent again', async () => {
    const acknowledged = new Map<string, number>();
    let trials = '';
    for (let round = 0; round < 2; round += 1) {
      const child = start();
      const address = await child.address();
      if (round === 0) trials = await begin(address);
      const keys = Array.from({ length: 100 }, (_, index) => `round-${round}-${index}`);
      const killed = { yet: false };
      const send = async (key: string): Promise<void> => {
        const reply = await postTo(address, trials, key, TRIAL).catch(() => null);
        if (reply === null) return;
        expect(reply.status).toBe(201);
        acknowledged.set(key, Number(reply.body['number']));
        if (acknowledged.size % 100 > 30 && !killed.yet) killed.yet = child.process.kill('SIGKILL');
      };
      const waiting = [...keys];
      const client = async (): Promise<void> => {
        for (let key = waiting.shift(); key !== undefined; key = waiting.shift()) await send(key);
      };
      await Promise.all([client(), client(), client(), client()]);
      expect((await child.ended).signal).toBe('SIGKILL');
      isWhole();
      expect(keysKept()).toEqual(expect.arrayContaining([...acknowledged.keys()]));

      const again = await TestServer.on(folder);
      for (const key of keys) {
        const reply = await again.send('POST', trials, TRIAL, { 'idempotency-key': key });
        expect(reply.status).toBe(201);
        const before = acknowledged.get(key);
        if (before !== undefined) expect(reply.body['number']).toBe(before);
        acknowledged.set(key, Number(reply.body['number']));
      }
      await again.close();
      expect(keysKept()).toHaveLength(acknowledged.size);
      isWhole();
    }
    expect([...acknowledged.values()].sort((a, b) => a - b)).toEqual(
      Array.from({ length: 200 }, (_, index) => index + 1),
    );
  });
});
