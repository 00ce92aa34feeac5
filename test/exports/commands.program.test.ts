/** Taking away, checking, backing up and restoring, as a person at the machine calls them, beside a running server. */
import { mkdtempSync, readdirSync, rmSync, truncateSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { callWord } from '../server/child.ts';
import { TestServer } from '../server/support.ts';
import { fill } from './rich-logbook.ts';

let server: TestServer;
let folder: string;
let head: string;
beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), 'tarebook-commands-'));
  server = await TestServer.start();
  await fill(server);
});
afterAll(async () => {
  await server.end();
  rmSync(folder, { recursive: true, force: true });
});

const headIn = (said: string): string => /Head of the journal: entry \d+, ([0-9a-f]{64})/.exec(said)?.[1] ?? '';

it('exports, checks the zip, imports it, and finds the same head', async () => {
  const made = await callWord(server.folder, 'export', path.join(folder, 'out'));
  expect(made).toMatchObject({ code: 0, warned: '' });
  head = headIn(made.said);
  expect(head).not.toBe('');
  const zip = path.join(folder, 'out', readdirSync(path.join(folder, 'out'))[0] ?? '');
  const checked = await callWord(server.folder, 'verify', zip, '--expect-head', head);
  expect(checked).toMatchObject({ code: 0, warned: '' });
  expect(checked.said).toContain('Each row of its tables agrees with the journal.');
  const data = path.join(folder, 'imported');
  const imported = await callWord(data, 'import', zip);
  expect({ code: imported.code, head: headIn(imported.said) }).toEqual({ code: 0, head });
  expect(imported.said).toContain('every person needs a new code');
});

it('checks the logbook beside a running server, and leaves with 1 for another head', async () => {
  expect(headIn((await callWord(server.folder, 'verify')).said)).toBe(head);
  const other = await callWord(server.folder, 'verify', '--expect-head', 'a'.repeat(64));
  expect(other).toMatchObject({ code: 1, said: '' });
  expect(other.warned).toContain('written anew');
});

it('backs up beside a running server, says when a copy is damaged, and restores only when nobody has it open', async () => {
  const file = path.join(folder, 'backup.db');
  expect(await callWord(server.folder, 'backup', file)).toMatchObject({ code: 0, warned: '' });
  expect(await callWord(server.folder, 'verify', file)).toMatchObject({ code: 0 });
  expect(await callWord(server.folder, 'restore', file)).toMatchObject({ code: 1, said: '' });
  expect(await callWord(path.join(folder, 'imported'), 'restore', file)).toMatchObject({ code: 0, warned: '' });
  truncateSync(file, 40_960);
  const damaged = await callWord(server.folder, 'verify', file);
  expect(damaged.code).toBe(1);
  expect(damaged.warned).toMatch(/^The file is damaged: /);
});
