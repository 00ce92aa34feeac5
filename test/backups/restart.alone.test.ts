/** The real program puts another logbook in place and answers again at the same port. */
import { existsSync, readdirSync, writeFileSync } from 'node:fs';
import { Agent, get } from 'node:http';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openLogbook } from '../../server/db/logbook.ts';
import { markDemonstration } from '../../server/laboratory/store.ts';
import { faultIn, looking, removeFolder, temporaryFolder } from '../db/support.ts';
import { Child, postTo } from '../server/child.ts';
import { FLASK } from '../server/support.ts';

let folder: string;
let child: Child;
beforeEach(() => {
  folder = temporaryFolder();
});
afterEach(async () => {
  await child.stop('SIGKILL');
  removeFolder(folder);
});

const markAsDemonstration = async (): Promise<void> => {
  const logbook = await openLogbook(folder);
  await logbook.write({ actor: 'tester', requestId: 'mark' }, async ({ trx, at, actor, journal }) => {
    await markDemonstration(trx, at, actor);
    journal({ act: 'demonstration-marked', object: 'logbook/1', before: null, after: null });
    return { status: 200, body: null };
  });
  await logbook.close();
};

const start = async (): Promise<string> => {
  child = new Child({ TAREBOOK_DATA: folder });
  return child.address();
};

const getFrom = async (address: string, url: string): Promise<Record<string, unknown>> =>
  (await (await fetch(`${address}${url}`)).json()) as Record<string, unknown>;

/** Asks until the server answers as expected. */
const until = async (address: string, url: string, isSo: (body: Record<string, unknown>) => boolean) => {
  const end = Date.now() + 20_000;
  while (Date.now() < end) {
    const body = await getFrom(address, url).catch(() => null);
    if (body && isSo(body)) return body;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error(`${url} did not become what it should`);
};

const vesselsIn = (file: string): number =>
  looking(file, (handle) => Number(handle.prepare('select count(*) from vessel').pluck().get()));

describe('a demonstration', () => {
  it('is set aside whole, and an empty logbook answers at the same port in the same process', async () => {
    await markAsDemonstration();
    const address = await start();
    await postTo(address, '/api/vessels', 'vessel', FLASK);
    const reply = await postTo(address, '/api/logbook/aside', 'aside', { reason: 'we begin our own' });
    expect(reply).toMatchObject({ status: 202, body: { restarting: true } });
    const laboratory = await until(address, '/api/laboratory', ({ demonstration }) => demonstration === false);
    expect(laboratory).toMatchObject({ version: 1, journalFault: null });
    expect(await getFrom(address, '/api/vessels')).toMatchObject({ items: [] });
    expect(child.process.exitCode).toBeNull();

    const aside = readdirSync(folder).filter((name) => name.startsWith('tarebook-demonstration-'));
    expect(aside).toHaveLength(1);
    const file = path.join(folder, aside[0] ?? '');
    expect(faultIn(file)).toBeNull();
    expect(vesselsIn(file)).toBe(1);
    const last = looking(file, (handle) =>
      handle
        .prepare<[], { act: string; after: string }>('select act, after from journal_entry order by number desc')
        .get(),
    );
    expect(last).toEqual({ act: 'logbook-set-aside', after: '{"reason":"we begin our own"}' });

    expect((await postTo(address, '/api/vessels', 'again', FLASK)).status).toBe(201);
    expect((await postTo(address, '/api/logbook/aside', 'aside', {})).status).toBe(409);
    expect((await child.stop('SIGTERM')).code).toBe(0);
    expect(faultIn(path.join(folder, 'tarebook.db'))).toBeNull();
  });
});

describe('a backup', () => {
  it('is put back in the running program, and what stood there is kept', async () => {
    const address = await start();
    await postTo(address, '/api/vessels', 'one', FLASK);
    const made = await postTo(address, '/api/backups', 'backup', {});
    expect(made.status).toBe(201);
    await postTo(address, '/api/vessels', 'two', { ...FLASK, tag: 'F-2' });
    const reply = await postTo(address, '/api/backups/restore', 'restore', {
      file: made.body['file'],
      reason: 'the second was a drill',
    });
    expect(reply.status).toBe(202);
    const head = await until(address, '/api/journal?act=restored', ({ items }) => (items as unknown[]).length === 1);
    expect(head).toMatchObject({ items: [{ after: { reason: 'the second was a drill' } }] });
    expect((await getFrom(address, '/api/vessels'))['items']).toHaveLength(1);
    expect(await getFrom(address, '/api/laboratory')).toMatchObject({ journalFault: null });
    const aside = readdirSync(folder).filter((name) => /before-restore.*Z$/.test(name));
    expect(aside.map((name) => vesselsIn(path.join(folder, name)))).toEqual([2]);
    expect((await child.stop('SIGTERM')).code).toBe(0);
  });

  it('that is damaged leaves the logbook as it is, and the list says why', async () => {
    const address = await start();
    const made = await postTo(address, '/api/backups', 'backup', {});
    const file = path.join(folder, 'backups', String(made.body['file']));
    expect(existsSync(file)).toBe(true);
    writeFileSync(file, 'a letter to the reader '.repeat(1000));
    await postTo(address, '/api/vessels', 'one', FLASK);
    const body = { file: made.body['file'], reason: 'a drill' };
    expect((await postTo(address, '/api/backups/restore', 'restore', body)).status).toBe(202);
    await until(address, '/api/backups', ({ lastFailure }) => lastFailure !== null);
    expect((await getFrom(address, '/api/vessels'))['items']).toHaveLength(1);
  });
});

describe('a stop', () => {
  it('with 30 idle connections kept alive takes less than 5 s', async () => {
    const address = await start();

    const agent = new Agent({ keepAlive: true, maxSockets: 30 });
    await Promise.all(
      Array.from(
        { length: 30 },
        () =>
          new Promise<void>((resolve, reject) => {
            get(`${address}/api/health`, { agent }, (reply) => reply.resume().on('end', () => resolve())).on(
              'error',
              reject,
            );
          }),
      ),
    );
    const since = Date.now();
    const { code, warned } = await child.stop('SIGTERM');
    expect(Date.now() - since).toBeLessThan(5000);
    expect({ code, warned }).toEqual({ code: 0, warned: '' });
    agent.destroy();
  });
});
