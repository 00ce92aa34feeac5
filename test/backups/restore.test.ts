/** A backup taken while trials come in, and the way back from it. */
import { existsSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { backUp, restore } from '../../server/backups/copy.ts';
import { connect } from '../../server/db/connection.ts';
import { checkMoment } from '../../server/journal/verify.ts';
import { entriesIn, faultIn, looking } from '../db/support.ts';
import { TestServer } from '../server/support.ts';

let server: TestServer;
beforeEach(async () => {
  server = await TestServer.start();
});
afterEach(() => server.end());

const trialsIn = (file: string): number =>
  looking(file, (handle) => Number(handle.prepare('select count(*) from trial').pluck().get()));
const BY = { actor: 'tester', reason: 'drill', at: new Date('2026-09-14T10:00:00.000Z') };

it('copies every acknowledged trial while others are being saved, and overwrites nothing', async () => {
  const calibration = await server.calibration({ plannedTrials: 1000 });
  for (let trial = 0; trial < 20; trial += 1) await server.trial(calibration);
  const more = Promise.all(Array.from({ length: 30 }, () => server.trial(calibration)));
  const file = path.join(server.folder, 'backup.db');
  const { head } = await backUp(server.logbook.file, file);
  await more;
  expect(trialsIn(file)).toBeGreaterThanOrEqual(20);
  expect(head?.number).toBe(entriesIn(file));
  const copy = connect(file, { readOnly: false });
  expect(checkMoment(copy).fault).toBeNull();
  copy.close();
  await expect(backUp(server.logbook.file, file)).rejects.toThrow('overwrites nothing');
  expect(trialsIn(server.logbook.file)).toBe(50);
});

it('puts a backup in place, keeps what stood there, and tells of it in the journal', async () => {
  const calibration = await server.calibration();
  await server.trial(calibration);
  const file = path.join(server.folder, 'backup.db');
  const { head, sha256 } = await backUp(server.logbook.file, file);
  await server.trial(calibration);
  const lost = looking(server.logbook.file, (handle) =>
    handle.prepare('select number, hash from journal_entry order by number desc').get(),
  );
  await expect(restore(file, server.folder, BY)).rejects.toThrow('Another Tarebook already has this logbook open.');
  await server.close();
  const restored = await restore(file, server.folder, BY);
  await server.open();
  expect(trialsIn(server.logbook.file)).toBe(1);
  expect(trialsIn(restored.aside ?? '')).toBe(2);
  expect(faultIn(server.logbook.file)).toBeNull();
  const last = looking(server.logbook.file, (handle) =>
    handle.prepare<[], Record<string, string>>('select * from journal_entry order by number desc').get(),
  );
  expect(last).toMatchObject({ number: (head?.number ?? 0) + 1, act: 'restored', actor: 'tester' });
  expect(JSON.parse(last?.['before'] ?? '')).toEqual(lost);
  expect(JSON.parse(last?.['after'] ?? '')).toEqual({ sha256, reason: 'drill' });
  expect(await server.trial(calibration)).toBe(2);
});

it('leaves the logbook alone where the backup is damaged or its journal is not whole', async () => {
  const calibration = await server.calibration();
  await server.trial(calibration);
  const file = path.join(server.folder, 'backup.db');
  await backUp(server.logbook.file, file);
  const handle = connect(file, { readOnly: false });
  handle.exec("drop trigger trial_no_update; update trial set filled_g = '1'");
  handle.close();
  await server.close();
  await expect(restore(file, server.folder, BY)).rejects.toThrow('holds another filled_g than entry');
  await server.open();
  expect(trialsIn(server.logbook.file)).toBe(1);
  expect(readdirSync(server.folder).filter((name) => name.includes('restor'))).toEqual([]);
  expect(existsSync(server.logbook.file)).toBe(true);
});
