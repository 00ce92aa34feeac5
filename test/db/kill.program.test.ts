/** Killed again and again in the middle of saving: what was acknowledged is there once, and nothing else is. */
import path from 'node:path';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { connect } from '../../server/db/connection.ts';
import { checkMoment } from '../../server/journal/verify.ts';
import { Child, postTo } from '../server/child.ts';
import { CALIBRATION, FLASK, TRIAL } from '../server/support.ts';
import { looking, removeFolder, temporaryFolder } from './support.ts';

const SEED = Number(process.env['TAREBOOK_SEED'] ?? 20260914);
const KILLS = process.env['TAREBOOK_SOAK'] === undefined ? 20 : 200;
const PATIENCE_MS = KILLS * 15_000;

let folder: string;
beforeAll(() => {
  folder = temporaryFolder();
});
afterAll(() => removeFolder(folder));

const wait = (ms: number): Promise<unknown> => new Promise((resolve) => setTimeout(resolve, ms));

const asked = new Set<string>();
const acknowledged = new Set<string>();

/** Three clients that save until the server is gone. A calibration takes a thousand trials, so each round has its own. */
const saveUntilGone = async (address: string, round: number): Promise<void> => {
  const vessel = await postTo(address, '/api/vessels', `vessel-${round}`, { ...FLASK, tag: `F-${round}` });
  const begun = await postTo(address, `/api/vessels/${String(vessel.body['id'])}/calibrations`, `begin-${round}`, {
    ...CALIBRATION,
    plannedTrials: 1000,
  });
  const url = `/api/calibrations/${String(begun.body['id'])}/trials`;
  let sent = 0;
  const client = async (): Promise<void> => {
    for (;;) {
      const key = `trial-${round}-${(sent += 1)}`;
      asked.add(key);
      const reply = await postTo(address, url, key, TRIAL).catch(() => null);
      if (reply?.status !== 201) return;
      acknowledged.add(key);
    }
  };
  await Promise.all([client(), client(), client()]);
};

const compare = (round: number): void => {
  const file = path.join(folder, 'tarebook.db');
  const handle = connect(file, { readOnly: true });
  expect(handle.pragma('integrity_check', { simple: true })).toBe('ok');
  expect(checkMoment(handle).fault).toBeNull();
  handle.close();
  const keys = looking(file, (read) => read.prepare<[], string>('select request_key from trial').pluck().all());
  expect(new Set(keys).size).toBe(keys.length);
  expect({ round, lost: [...acknowledged].filter((key) => !keys.includes(key)) }).toEqual({ round, lost: [] });
  expect(keys.filter((key) => !asked.has(key))).toEqual([]);
};

it(
  `loses nothing in ${KILLS} kills (seed ${SEED})`,
  async () => {
    const random = xoroshiro128plus(SEED);
    for (let round = 1; round <= KILLS; round += 1) {
      const child = new Child({ TAREBOOK_DATA: folder });
      const address = await child.address();
      const saving = saveUntilGone(address, round).catch(() => undefined);
      const before = acknowledged.size;
      while (acknowledged.size === before && child.process.exitCode === null) await wait(2);
      await wait(uniformInt(random, 0, 200));
      await child.stop('SIGKILL');
      await saving;
      compare(round);
    }
    expect(acknowledged.size).toBeGreaterThanOrEqual(KILLS);
    const unclean = looking(path.join(folder, 'tarebook.db'), (handle) =>
      handle.prepare("select count(*) from journal_entry where act = 'unclean-stop-seen'").pluck().get(),
    );
    expect(unclean).toBe(KILLS - 1);
  },
  PATIENCE_MS,
);
