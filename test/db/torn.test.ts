/** A power cut as the disk sees it: the write-ahead log ends anywhere, or a byte of it is another. */
import { copyFileSync, mkdtempSync, readFileSync, rmSync, statSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { connect } from '../../server/db/connection.ts';
import { checkMoment } from '../../server/journal/verify.ts';
import { TestServer } from '../server/support.ts';

const SEED = Number(process.env['TAREBOOK_SEED'] ?? 20260914);
const CASES = process.env['TAREBOOK_SOAK'] === undefined ? 60 : 1000;

let server: TestServer;
let folder: string;
let log: string;
/** Length of the write-ahead log after each acknowledged trial. */
const ends: number[] = [];
beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), 'tarebook-torn-'));
  server = await TestServer.start();
  log = `${server.logbook.file}-wal`;
  const calibration = await server.calibration({ plannedTrials: 1000 });
  await server.restart();
  for (let trial = 0; trial < 25; trial += 1) {
    await server.trial(calibration);
    ends.push(statSync(log).size);
  }
});
afterAll(async () => {
  await server.end();
  rmSync(folder, { recursive: true, force: true });
});

/** The logbook as it would be found: what `damage` left of the log, opened and checked. @returns trials in it */
const found = (damage: (file: string) => void): number => {
  const file = path.join(folder, 'torn.db');
  for (const end of ['', '-wal', '-shm']) rmSync(`${file}${end}`, { force: true });
  copyFileSync(server.logbook.file, file);
  copyFileSync(log, `${file}-wal`);
  damage(`${file}-wal`);
  const handle = connect(file, { readOnly: false });
  try {
    expect(handle.pragma('integrity_check', { simple: true })).toBe('ok');
    expect(checkMoment(handle).fault).toBeNull();
    return Number(handle.prepare('select count(*) from trial').pluck().get());
  } finally {
    handle.close();
  }
};

it(`finds every commit that lies wholly before the damage, and nothing half (seed ${SEED})`, () => {
  const random = xoroshiro128plus(SEED);
  const size = statSync(log).size;
  expect(found(() => undefined)).toBe(25);
  for (let one = 0; one < CASES; one += 1) {
    const at = uniformInt(random, 0, size - 1);
    const cut = one % 2 === 0;
    const trials = found((file) => {
      if (cut) return truncateSync(file, at);
      const bytes = readFileSync(file);
      bytes[at] = (bytes[at] ?? 0) ^ (1 << uniformInt(random, 0, 7));
      writeFileSync(file, bytes);
    });
    const safe = ends.filter((end) => end <= at).length;
    expect({ seed: SEED, one, at, cut, kept: trials >= safe }).toEqual({ seed: SEED, one, at, cut, kept: true });
  }
});
