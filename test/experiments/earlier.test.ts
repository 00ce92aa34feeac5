/** Earlier classes of the same template with the same rows, for comparing years. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { GROUP_NAMES } from '../../server/experiments/contract-names.ts';
import { expectProblem } from '../server/attempts.ts';
import { TestServer } from '../server/support.ts';
import { measuredExperiment, ok, planned } from './lesson.ts';

interface Earlier {
  items: { id: string; openedAt: string; groups: number; rows: Record<string, unknown>[] }[];
}

let server: TestServer;
/** Ended classes by the year they were held in, and one that is open now. */
const ended: Record<string, string> = {};
let present: string;

const heldIn = async (year: string, facts: object = {}): Promise<string> => {
  server.now = new Date(`${year}-03-12T08:30:00.000Z`);
  return (await measuredExperiment(server, facts)).id;
};
const endIn = async (year: string, facts: object = {}): Promise<string> => {
  const id = await heldIn(year, facts);
  ok(await server.post(`/api/experiments/${id}/closing`));
  return id;
};
const earlierAt = async (id: string): Promise<Earlier> =>
  ok(await server.get(`/api/experiments/${id}/earlier`)) as unknown as Earlier;
const idsAt = async (id: string): Promise<string[]> => (await earlierAt(id)).items.map((item) => item.id);

beforeAll(async () => {
  server = await TestServer.start();
  for (const year of ['2021', '2022', '2023']) ended[year] = await endIn(year);
  ended['another template'] = await endIn('2023', { template: 'own', rows: [ROW] });
  ended['another volume'] = await endIn('2023', { rows: [{ ...ROW, nominalVolumeMl: '99' }] });
  ended['poured out'] = await endIn('2023', { rows: [{ ...ROW, basis: 'deliver' }] });
  present = await heldIn('2024');
});
afterAll(async () => server.end());

/** The row of the template, with other planned trials: that alone makes no other class. */
const ROW = {
  ...{ key: 'flask', label: 'Flask', kind: 'volumetric-flask', nominalVolumeMl: '100.0', basis: 'contain' },
  trialsPerGroup: 9,
};

describe('earlier classes', () => {
  it('are those that ended, of the same template and rows, newest first', async () => {
    expect(await idsAt(present)).toEqual([ended['2023'], ended['2022'], ended['2021']]);
  });

  it('are earlier than the class that asks', async () => {
    expect(await idsAt(ended['2022'] ?? '')).toEqual([ended['2021']]);
    expect(await idsAt(ended['2021'] ?? '')).toEqual([]);
  });

  it('tell their figures, and no more digits than there are trials for', async () => {
    const [item] = (await earlierAt(present)).items;
    const { trials } = ok(await server.get(`/api/experiments/${ended['2023']}/data`)) as {
      trials: { volumeMl: number }[];
    };
    const [{ volumeMl } = { volumeMl: 0 }] = trials;
    expect(item).toMatchObject({ openedAt: '2023-03-12T08:30:00.000Z', groups: 1 });
    expect(item?.rows).toEqual([
      {
        ...{ key: 'flask', n: 1, groups: 1, meanMl: volumeMl, biasMl: volumeMl - 100, sdMl: null },
        ...{ repeatabilitySdMl: null, betweenSdMl: null, withinRoomSdMl: null, meanUncertaintyMl: null },
      },
    ]);
  });

  it('name nobody', async () => {
    const text = JSON.stringify(await earlierAt(present));
    const { groups } = ok(await server.get(`/api/experiments/${ended['2023']}/data`)) as { groups: { name: string }[] };
    expect(GROUP_NAMES).toContain(groups[0]?.name);
    expect(text).not.toContain(groups[0]?.name);
  });

  it('count the same row with another plan of trials as the same', async () => {
    const id = await planned(server, { rows: [ROW] });
    expect(await idsAt(id)).toEqual([ended['2023'], ended['2022'], ended['2021']]);
  });

  it('hold no made-up class and none that was erased', async () => {
    server.now = new Date('2025-03-12T08:30:00.000Z');
    ok(await server.post(`/api/experiments/${present}/rehearsal`, { groups: 2, seed: 1 }));
    const counts = { groups: 1, predictions: 0, trials: 1 };
    ok(await server.post(`/api/experiments/${ended['2022']}/erasure`, counts));
    const id = await heldIn('2025');
    expect(await idsAt(id)).toEqual([ended['2023'], ended['2021']]);
  });

  it('are refused for an experiment that is not there', async () => {
    expectProblem(await server.get('/api/experiments/aaaa/earlier'), ['not-found']);
  });
});
