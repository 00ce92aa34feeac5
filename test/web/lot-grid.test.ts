/** The grid of a round without a page: where the cursor goes, what stands in which cell, what is carried over. */
import { describe, expect, it } from 'vitest';
import type { Round, RoundRow, ShortTrial } from '../../server/lots/contract-round.ts';
import type { OutboxEntry } from '../../web/outbox.ts';
import { airReminder } from '../../web/pages/bench/air-in-force.ts';
import { BLANK_TRIAL } from '../../web/pages/bench/entry.ts';
import { askedByServer } from '../../web/pages/lots/grid-completing.ts';
import { nextPlace, placeBeside, placesInOrder, placesOnSheet, type Place } from '../../web/pages/lots/grid-order.ts';
import { dryReading, slotsOf } from '../../web/pages/lots/grid-rows.ts';
import { hasOwnWater, isStale, withDryReading, withWater } from '../../web/pages/lots/grid-trial.ts';
import { knownOf, together } from '../../web/pages/lots/round-known.ts';

const rows = [
  { isOpen: true, slots: 2 },
  { isOpen: false, slots: 2 },
  { isOpen: true, slots: 3 },
];
const short = ({ row, slot, field }: Place): string => `${row}${slot}${field[0] ?? ''}`;

describe('the way of working', () => {
  it.each([
    ['empties-first', '00e 20e 00f 20f 01e 21e 01f 21f 22e 22f'],
    ['vessel-by-vessel', '00e 00f 01e 01f 20e 20f 21e 21f 22e 22f'],
    ['reuse-dry', '00e 20e 00f 20f 01f 21f 22f'],
  ] as const)('%s passes each open cell once, and none of a vessel that ended', (way, expected) => {
    expect(placesInOrder(way, rows).map(short).join(' ')).toBe(expected);
  });

  it.each([
    ['vessel-by-vessel', '00e 00f 00w 01e 01f 01w 20e 20f 20w 21e 21f 21w 22e 22f 22w'],
    ['reuse-dry', '00e 00f 00w 01f 01w 20e 20f 20w 21f 21w 22f 22w'],
  ] as const)('of a sheet is as it is read, with its water, %s', (way, expected) => {
    expect(placesOnSheet(way, rows).map(short).join(' ')).toBe(expected);
  });

  it('goes on to the next cell without a reading, from the end back to the first, and ends when all have one', () => {
    const order = placesInOrder('empties-first', rows);
    const filled = new Set(['20e', '00f']);
    const next = (from: Place | null) => nextPlace(order, from, (place) => filled.has(short(place)));
    expect(next(null)).toEqual({ row: 0, slot: 0, field: 'emptyG' });
    expect(next(order[0] ?? null)).toEqual({ row: 2, slot: 0, field: 'filledG' });
    expect(next(order.at(-1) ?? null)).toEqual({ row: 0, slot: 0, field: 'emptyG' });
    expect(nextPlace(order, null, () => true)).toBeNull();
  });

  it('up and down pass over rows without such a cell and stop at the edge', () => {
    const from: Place = { row: 0, slot: 1, field: 'filledG' };
    expect(placeBeside(rows, from, 1)).toEqual({ ...from, row: 2 });
    expect(placeBeside(rows, from, -1)).toBeNull();
    expect(placeBeside(rows, { row: 2, slot: 2, field: 'emptyG' }, -1)).toBeNull();
  });
});

const trial = (number: number, facts: Partial<ShortTrial> = {}): ShortTrial => ({
  number,
  pointMl: '100',
  emptyG: '61.2034',
  filledG: '160.8371',
  waterTemperatureC: '21.3',
  volumeMl: 99.94,
  excluded: false,
  corrected: false,
  findings: [],
  recordedAt: '2026-03-02T09:00:00.000Z',
  ...facts,
});
const entry = (id: string, facts: Partial<OutboxEntry> = {}): OutboxEntry => ({
  id,
  calibrationId: 'c1',
  tag: 'F-1',
  pointMl: '100.0',
  madeAt: 1,
  state: 'typed',
  typed: BLANK_TRIAL,
  body: null,
  problem: null,
  savedNumber: null,
  ...facts,
});
const row = (...trials: ShortTrial[]): RoundRow => ({ calibrationId: 'c1', trials }) as unknown as RoundRow;
const seen = (of: RoundRow, ...entries: OutboxEntry[]) =>
  slotsOf(of, '100', 3, entries).map((slot) => slot.saved?.number ?? slot.entry?.id ?? '-');

describe('the cells of a vessel', () => {
  it('hold its trials in order, then what is on its way, then what is being typed where it was begun', () => {
    expect(seen(row())).toEqual(['-', '-', '-']);
    expect(seen(row(trial(1)), entry('t', { slot: 2 }), entry('w', { state: 'waiting' }))).toEqual([1, 'w', 't']);
  });

  it('make room for another trial where one is excluded, and for what is typed beyond the plan', () => {
    expect(seen(row(trial(1, { excluded: true })))).toEqual([1, '-', '-', '-']);
    expect(seen(row(trial(1), trial(2), trial(3)), entry('t'))).toEqual([1, 2, 3, 't']);
  });

  it('show a trial once while page and browser both know it, and a typed one moves on where its place was taken', () => {
    const saved = entry('s', { state: 'saved', savedNumber: 1 });
    expect(seen(row(trial(1)), saved, entry('t', { slot: 0 }))).toEqual([1, 't', '-']);
    expect(seen(row(), entry('other', { calibrationId: 'c2' }), entry('half', { pointMl: '50' }))).toEqual([
      '-',
      '-',
      '-',
    ]);
  });
});

describe('readings the server did not take', () => {
  const problem = (code: string) => ({ code, detail: 'Look at the trials.', fields: [] });
  const failed = (code: string) => entry('f', { slot: 0, state: 'failed', problem: problem(code) });
  const refusedAt = (of: RoundRow, one: OutboxEntry) =>
    slotsOf(of, '100', 3, [one]).map(({ refused }) => refused.map(({ id }) => id).join());

  it('stay with the trial that another tab recorded, and are not taken for the next one', () => {
    expect(seen(row(trial(1)), failed('key-reused'))).toEqual([1, '-', '-']);
    expect(refusedAt(row(trial(1)), failed('key-reused'))).toEqual(['f', '', '']);
    expect(seen(row(), failed('key-reused'))).toEqual(['f', '-', '-']);
    // Of a trial of its own that is put right, another vessel full may have come first.
    expect(seen(row(trial(1)), failed('validation-failed'))).toEqual([1, 'f', '-']);
  });

  it('say why in their place, also where that is about no field; a server that is away has said nothing', () => {
    expect(askedByServer(failed('key-reused'))).toMatchObject({ said: 'Look at the trials.', questions: [] });
    expect(askedByServer(failed('unreachable'))).toBeNull();
    const detail = 'The filled reading is missing.';
    const named = { ...problem('validation-failed'), fields: [{ field: 'filledG', detail }] };
    const asked = askedByServer(entry('f', { state: 'failed', problem: named }));
    expect(asked).toEqual({ problems: { filledG: detail }, questions: [] });
  });
});

describe('a trial of the grid', () => {
  const gridRow = (of: RoundRow) => ({ row: of, isOpen: true, slots: slotsOf(of, '100', 3, []) });

  it('uses the dry reading again by number, only from the second trial on and only in that way of working', () => {
    const weighed = gridRow(row(trial(4, { emptySource: 'reused' }), trial(5)));
    expect(dryReading(weighed)).toEqual({ number: 5, emptyG: '61.2034' });
    const taken = { emptyG: '61.2034', emptySource: 'reused', emptyOf: 5 };
    expect(withDryReading('reuse-dry', weighed, 1, BLANK_TRIAL)).toMatchObject(taken);
    expect(withDryReading('reuse-dry', weighed, 0, BLANK_TRIAL)).toBe(BLANK_TRIAL);
    expect(withDryReading('empties-first', weighed, 1, BLANK_TRIAL)).toBe(BLANK_TRIAL);
  });

  it('takes the water of the round: read for the first that used it, carried over to the others', () => {
    const water = { temperatureC: '21.3', readAtMs: 0, readFor: null };
    expect(withWater(BLANK_TRIAL, water, 'a')).toMatchObject({ waterTemperatureC: '21.3', isCarried: false });
    const used = { ...water, readFor: 'a' };
    expect(withWater(BLANK_TRIAL, used, 'b')).toMatchObject({ waterTemperatureC: '21.3', isCarried: true });
    const own = { ...BLANK_TRIAL, waterTemperatureC: '20.8' };
    expect(withWater(own, used, 'b')).toBe(own);
    expect(withWater(own, null, 'b')).toBe(own);
    expect(withWater(BLANK_TRIAL, null, 'b')).toBeNull();
    // what a refused trial took from the round is none of its own
    expect(hasOwnWater({ ...own, isCarried: true }, used, 'b')).toBe(false);
    expect(hasOwnWater({ ...own, isCarried: false }, used, 'a')).toBe(false);
    expect(isStale(water, 31 * 60_000)).toBe(true);
    expect(isStale(water, 29 * 60_000)).toBe(false);
  });
});

describe('a round on another tablet', () => {
  const at = (minutes: number) => new Date(minutes * 60_000).toISOString();
  const kept = (minutes: number, waterTemperatureC: string, isCarried: boolean) =>
    trial(1, {
      recordedAt: at(minutes),
      waterTemperatureC,
      waterTemperatureSource: isCarried ? 'carried' : null,
    });
  const round = (zeroChecks: object[], ...rowsOf: ShortTrial[][]) =>
    ({ origin: null, zeroChecks, rows: rowsOf.map((trials) => ({ trials })) }) as unknown as Round;
  const first = [kept(0, '21.3', false), kept(4, '21.3', true)];
  // the second vessel had water of its own, which is carried to none
  const second = [kept(2, '24.0', false)];

  it('goes on with the water that was carried, as old as its reading, and with the count of vessels', () => {
    expect(knownOf(round([], first, second))).toMatchObject({
      water: { temperatureC: '21.3', readAtMs: 0 },
      weighed: 3,
      sinceZero: 3,
    });
    const zero = { at: at(3), afterVessels: 2 };
    expect(knownOf(round([zero], first, second))).toMatchObject({ weighed: 3, sinceZero: 1 });
    expect(knownOf(round([], []))).toEqual({ water: null, weighed: 0, sinceZero: 0 });
  });

  it('keeps what this browser knows better', () => {
    const known = knownOf(round([], first, second));
    const nothing = { water: null, weighed: 0, sinceZero: 0 };
    expect(together(nothing, known)).toEqual(known);
    const later = { temperatureC: '21.9', readAtMs: 9 * 60_000, readFor: null };
    const own = { water: later, weighed: 4, sinceZero: 1 };
    expect(together(own, known)).toEqual(own);
    const earlier = { ...later, readAtMs: -1 };
    expect(together({ ...own, water: earlier }, known).water).toEqual(known.water);
    // the same water, kept a moment after it was read here
    const same = { temperatureC: '21.3', readAtMs: -1, readFor: 'a' };
    expect(together({ ...own, water: same }, known).water).toBe(same);
  });
});

it('the air is asked for again when its reading is old, or was changing fast', () => {
  const at = (minutes: number) => new Date(minutes * 60_000).toISOString();
  const begun = { conditions: { airTemperatureC: '21.0' }, recordedAt: at(0) };
  const later = (airTemperatureC: string) => ({ airTemperatureC, recordedAt: at(30), recordedBy: '', afterTrial: 3 });
  const steady = { ...begun, conditionReadings: [later('21.4')] };
  const drifting = { ...begun, conditionReadings: [later('21.6')] };
  expect(airReminder({ ...begun, conditionReadings: [] }, 59 * 60_000)).toBeNull();
  expect(airReminder({ ...begun, conditionReadings: [] }, 61 * 60_000)).toBe('old');
  expect(airReminder(steady, 50 * 60_000)).toBeNull();
  expect(airReminder(drifting, 50 * 60_000)).toBe('drifting');
});
