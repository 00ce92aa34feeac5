/** Loading interrupted, repeated, or aimed at a logbook that is somebody's own. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { loadDemo } from '../../server/demo/load.ts';
import { DemoRefused } from '../../server/demo/refused.ts';
import { readDemoTables, type DemoTables, type Row } from '../../server/demo/rows.ts';
import type { DemoRequest, Send } from '../../server/demo/send.ts';
import { isDemonstration } from '../../server/laboratory/store.ts';
import { CONSOLE_ACTOR } from '../../server/people/access.ts';
import { DemoLogbook } from './demo-logbook.ts';

/** The first term alone, with all corrections and certificates: small enough to be loaded often. */
const firstTerm = (): DemoTables => {
  const all = readDemoTables();
  const early = (row: Row) => (row['calibration'] ?? '').startsWith('2024-11');
  const calibrations = all.calibrations.filter(early);
  const acts = all.acts.filter((row) => early(row) || row['act'] === 'vessel-correction');
  const needed = new Set([...calibrations, ...acts].map((row) => row['vessel']));
  return {
    ...all,
    vessels: all.vessels.filter((row) => needed.has(row['tag'])),
    calibrations,
    rounds: all.rounds.filter((row) => row['round'] === '1'),
    trials: all.trials.filter(early),
    acts,
  };
};

const FLASK = {
  tag: 'MY-1',
  kind: 'volumetric-flask',
  nominalVolumeMl: '100',
  basis: 'contain',
  tolerance: { standard: 'ISO 1042', edition: '1998', class: 'A' },
  material: 'borosilicate-3.3',
  referenceTemperatureC: '20',
};

let demo: DemoLogbook;
const tables = firstTerm();
/** Vessels of both deliveries, and those of the round that is weighed here. */
const DELIVERED = 50;
const IN_ROUND = 5;

const load = (send: Send = demo.send, which = tables): Promise<void> =>
  loadDemo({ logbook: demo.logbook, tables: which, actor: CONSOLE_ACTOR, send, say: () => undefined });

const rowsIn = (): Promise<Record<string, number>> =>
  demo.logbook.read(async (db) => {
    const counted: Record<string, number> = {};
    const names = [
      'lot_revision',
      'vessel',
      'vessel_revision',
      'instrument_revision',
      'calibration',
      'trial',
      'calibration_act',
    ];
    for (const name of [...names, 'logbook_mark', 'journal_entry'] as 'trial'[]) {
      const { count } = await db
        .selectFrom(name)
        .select((row) => row.fn.countAll<number>().as('count'))
        .executeTakeFirstOrThrow();
      counted[name] = count;
    }
    return counted;
  });

const register = async (request: Pick<DemoRequest, 'url' | 'payload'>): Promise<void> => {
  const headers = { 'idempotency-key': 'somebody-else' };
  const reply = await demo.send({ method: 'POST', ...request, headers });
  expect(reply.statusCode).toBe(201);
};

beforeEach(async () => {
  demo = await DemoLogbook.open();
});
afterEach(() => demo.end());

describe('loading again', () => {
  it.each([1, 20, 60, 120])('goes on where request %i was never answered, without doubles', async (last) => {
    let sent = 0;
    const unplugged: Send = async (request) => {
      sent += 1;
      // The request is done, its answer lost: what a person sees when the plug is pulled.
      const reply = await demo.send(request);
      if (sent >= last) throw new Error('unplugged');
      return reply;
    };
    await expect(load(unplugged)).rejects.toThrow('unplugged');
    await load();
    const whole = await rowsIn();
    expect(whole).toMatchObject({
      vessel: tables.vessels.length + DELIVERED,
      vessel_revision: tables.vessels.length + DELIVERED + 3,
      lot_revision: 2,
      instrument_revision: tables.instruments.length,
      calibration: tables.calibrations.length + IN_ROUND,
      trial: tables.trials.length + 3 * IN_ROUND,
      calibration_act: tables.calibrations.length + IN_ROUND,
      logbook_mark: 1,
    });
    await load();
    expect(await rowsIn()).toEqual(whole);
  });

  it('refuses rows that differ from those loaded before, and says which', async () => {
    await load();
    const [first, ...rest] = tables.trials;
    const changed = { ...tables, trials: [{ ...first, filledG: '154.0000' }, ...rest] as DemoTables['trials'] };
    await expect(load(demo.send, changed)).rejects.toThrow(/^2024-11-VF-0100-01:trial:1 was not taken: /);
  });
});

describe('a logbook of one’s own', () => {
  it('is left alone when it holds a vessel', async () => {
    await register({ url: '/api/vessels', payload: FLASK });
    const before = await rowsIn();
    await expect(load()).rejects.toThrow(DemoRefused);
    await expect(load()).rejects.toThrow('This logbook holds the vessel MY-1, which is not demonstration data');
    expect(await rowsIn()).toEqual(before);
    expect(await demo.logbook.read(isDemonstration)).toBe(false);
  });

  it('is left alone when it holds a vessel with a tag of the demonstration', async () => {
    await register({ url: '/api/vessels', payload: { ...FLASK, tag: 'VF-0100-01' } });
    await expect(load()).rejects.toThrow('This logbook holds the vessel VF-0100-01');
  });

  it('is left alone when it holds an instrument', async () => {
    await register({ url: '/api/instruments', payload: { kind: 'balance', tag: 'OWN-1' } });
    await expect(load()).rejects.toThrow('This logbook holds the instrument OWN-1');
  });

  it('is left alone when vessels were added to a demonstration', async () => {
    await load();
    await register({ url: '/api/vessels', payload: FLASK });
    await expect(load()).rejects.toThrow('This logbook holds the vessel MY-1');
  });
});
