/** Opening a logbook: one server at a time, no newer file, no folder that cannot be written, nothing left open. */
import Database from 'better-sqlite3';
import { existsSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { LogbookInUse } from '../../server/db/lock.ts';
import { openLogbook, UnwritableFolder } from '../../server/db/logbook.ts';
import { NewerLogbook } from '../../server/db/migrate.ts';
import { marksIn, removeFolder, temporaryFolder, writeMark } from './support.ts';

let folder: string;
beforeEach(() => {
  folder = temporaryFolder();
});
afterEach(() => {
  removeFolder(folder);
});

const opens = async (): Promise<void> => {
  const logbook = await openLogbook(folder);
  await logbook.close();
};
const change = (statement: string): void => {
  const handle = new Database(path.join(folder, 'tarebook.db'));
  handle.exec(statement);
  handle.close();
};

describe('one at a time', () => {
  it('refuses a second opener and lets the next one in', async () => {
    const first = await openLogbook(folder);
    await expect(openLogbook(folder)).rejects.toThrow(LogbookInUse);
    await writeMark(first, 'one');
    await first.close();
    await opens();
    expect(marksIn(first.file)).toEqual(['one']);
  });

  it('keeps two logbooks apart', async () => {
    const other = temporaryFolder();
    const [first, second] = [await openLogbook(folder), await openLogbook(other)];
    await writeMark(first, 'here');
    expect(marksIn(second.file)).toEqual([]);
    await Promise.all([first.close(), second.close()]);
    removeFolder(other);
  });

  it('a write that was begun is finished before the logbook closes', async () => {
    const logbook = await openLogbook(folder);
    const begun = writeMark(logbook, 'last');
    await logbook.close();
    expect(await begun).toMatchObject({ status: 201 });
    expect(marksIn(logbook.file)).toEqual(['last']);
  });

  it('closing leaves one file that is whole by itself', async () => {
    const logbook = await openLogbook(folder);
    await writeMark(logbook, 'one');
    await logbook.close();
    expect(readdirSync(folder).filter((name) => /-(wal|shm|journal)$/.test(name))).toEqual([]);
  });
});

describe('a logbook of a newer Tarebook', () => {
  it('is refused in a plain sentence, untouched, and nothing stays open', async () => {
    await opens();
    change("insert into kysely_migration (name, timestamp) values ('9999-future', '2031-01-01')");
    const refusal = await openLogbook(folder).catch((error: unknown) => error);
    expect(refusal).toBeInstanceOf(NewerLogbook);
    expect((refusal as Error).message).toMatch(
      /^This logbook was written by a newer Tarebook \(.*9999-future\)\. .+\.$/,
    );
    expect(readdirSync(folder).filter((name) => name.includes('before'))).toEqual([]);
    change("delete from kysely_migration where name = '9999-future'");
    await opens();
  });
});

describe('a folder that cannot be written', () => {
  const sentence = /^The data folder .+ cannot be written\. .+\.$/;

  it('is refused when it would lie inside a file', async () => {
    const file = path.join(folder, 'file');
    writeFileSync(file, '');
    const refusal = openLogbook(path.join(file, 'data'));
    await expect(refusal).rejects.toThrow(UnwritableFolder);
    await expect(refusal).rejects.toThrow(sentence);
  });

  it.each(['tarebook.lock', 'tarebook.db'])('is refused when %s is a folder', async (name) => {
    mkdirSync(path.join(folder, name));
    const refusal = openLogbook(folder);
    await expect(refusal).rejects.toThrow(UnwritableFolder);
    await expect(refusal).rejects.toThrow(sentence);
  });

  it('is made where it is only missing', async () => {
    const deep = path.join(folder, 'a', 'b c', 'ö');
    const logbook = await openLogbook(deep);
    await logbook.close();
    expect(existsSync(path.join(deep, 'tarebook.db'))).toBe(true);
  });
});

describe('a file that is no logbook', () => {
  it('is refused and left as it is', async () => {
    const file = path.join(folder, 'tarebook.db');
    writeFileSync(file, 'a letter to the reader, long enough to be no header of a database at all '.repeat(20));
    await expect(openLogbook(folder)).rejects.toMatchObject({ code: 'SQLITE_NOTADB' });
    removeFolder(file);
    await opens();
  });
});
