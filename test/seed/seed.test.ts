/** A made-up stockroom is a logbook like any other: whole, computable, the same for the same size. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openLogbook } from '../../server/db/logbook.ts';
import { checkMoment } from '../../server/journal/verify.ts';
import { SeedRefused, seedLogbook } from '../../server/seed/load.ts';
import { looking, removeFolder, temporaryFolder } from '../db/support.ts';
import { TestServer } from '../server/support.ts';

const SIZE = { vessels: 7, terms: 2, trials: 3, seed: 5, actor: 'console', say: () => undefined };

const fill = async (folder: string): Promise<void> => {
  let now = new Date();
  const logbook = await openLogbook(folder, () => now);
  try {
    await seedLogbook({ logbook, setClock: (at) => (now = at), ...SIZE });
  } finally {
    await logbook.close();
  }
};
const readingsIn = (folder: string): unknown[] =>
  looking(`${folder}/tarebook.db`, (handle) =>
    handle
      .prepare(
        `select tag, trial.number, empty_g, filled_g, water_temperature_c from trial
         join calibration on calibration.id = calibration_id join vessel on vessel.id = vessel_id
         order by tag, performed_on, trial.number`,
      )
      .raw()
      .all(),
  );

let folder: string;
beforeAll(async () => {
  folder = temporaryFolder();
  await fill(folder);
});
afterAll(() => removeFolder(folder));

describe('a made-up stockroom', () => {
  it('has an unbroken journal that tells of every row, and counts as asked for', () => {
    expect(looking(`${folder}/tarebook.db`, (handle) => checkMoment(handle).fault)).toBeNull();
    expect(readingsIn(folder)).toHaveLength(SIZE.vessels * SIZE.terms * SIZE.trials);
  });

  it('is the same each time', async () => {
    const other = temporaryFolder();
    await fill(other);
    expect(readingsIn(other)).toEqual(readingsIn(folder));
    removeFolder(other);
  });

  it('is judged like any other, is due again, and says that it is no real one', async () => {
    const server = await TestServer.on(folder);
    const { body } = await server.get('/api/vessels');
    const items = body['items'] as { latest: { verdict: string; final: boolean; points: { n: number }[] } }[];
    expect(items).toHaveLength(SIZE.vessels);
    for (const { latest } of items) {
      expect(latest.final).toBe(true);
      expect(latest.points.map(({ n }) => n)).toEqual([SIZE.trials]);
      expect(latest.verdict).not.toBeNull();
    }
    expect(await server.get('/api/laboratory')).toMatchObject({ body: { demonstration: true } });
    const due = looking(`${folder}/tarebook.db`, (handle) =>
      handle.prepare('select count(*) from vessel where due_on is not null').pluck().get(),
    );
    expect(due).toBe(SIZE.vessels);
    await server.close();
  });

  it('goes into no logbook that holds something', async () => {
    await expect(fill(folder)).rejects.toThrow(SeedRefused);
  });
});
