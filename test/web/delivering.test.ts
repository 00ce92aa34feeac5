/** A vessel that delivers, while its trials are typed: receiver, timing, tip and channel. */
import { describe, expect, it } from 'vitest';
import type { ToleranceRowOnWire } from '../../server/reference/contract.ts';
import { deliveryText } from '../../web/messages/en-delivery.ts';
import { vesselFormText } from '../../web/messages/en-glassware.ts';
import { followCarried, nextEntry, readEntry, takenOverFrom, type EarlierTrial } from '../../web/pages/bench/entry.ts';
import { loadAfterNext, wayOf } from '../../web/pages/bench/receiver.ts';
import { IDLE, isTimingKey, press, standingOf, TIMING_KEY } from '../../web/pages/bench/timing.ts';
import { EMPTY_DRAFT, hasDetail, readDraft } from '../../web/pages/vessel/draft.ts';
import { toleranceRowsOf } from '../../web/tolerance-rows.ts';

const of = { calibrationId: 'c1', tag: 'B-0007', pointMl: '25' };
const first: EarlierTrial = {
  number: 1,
  pointMl: '25',
  emptyG: '60.1230',
  filledG: '85.0330',
  waterTemperatureC: '20.4',
};

describe('the receiver', () => {
  it('is weighed empty at the first trial, and its last reading begins the next where it is not emptied', () => {
    expect(nextEntry(of, [], 'cumulative').typed).toMatchObject({ emptySource: 'own', emptyG: '' });
    expect(nextEntry(of, [first], 'cumulative').typed).toMatchObject({
      emptySource: 'carried',
      emptyOf: 1,
      emptyG: '85.0330',
    });
  });

  it('stands as chosen also after one trial that was weighed otherwise', () => {
    const second = { ...first, number: 2, emptySource: 'own' as const, filledG: '85.0410' };
    expect(nextEntry(of, [first, second], 'cumulative').typed).toMatchObject({ emptyOf: 2, emptyG: '85.0410' });
    expect(nextEntry(of, [{ ...first, emptySource: 'carried' }], 'emptied').typed.emptySource).toBe('own');
  });

  it('follows a reading that was corrected after it was carried over', () => {
    const { typed } = nextEntry(of, [first], 'cumulative');
    const corrected = takenOverFrom([{ ...first, filledG: '85.0303' }]);
    expect(followCarried({ ...typed, filledG: '109.95' }, corrected)).toMatchObject({
      emptyG: '85.0303',
      filledG: '109.95',
    });
  });

  it('shows from the trials how it was weighed', () => {
    expect(wayOf([])).toBe('emptied');
    expect(wayOf([{ emptySource: 'own' }, { emptySource: 'carried' }, { emptySource: 'own' }])).toBe('cumulative');
    expect(wayOf([{ emptySource: 'tared' }])).toBe('tared');
  });

  it('is told before it becomes too heavy for the balance', () => {
    expect(loadAfterNext('185.03', '25', '220')).toEqual({ loadG: 210.03, isAbove: false });
    expect(loadAfterNext('200.1', '25', '220')).toMatchObject({ isAbove: true });
    expect(loadAfterNext('200.1', '25', '')).toBeNull();
  });
});

describe('timing', () => {
  it('writes both times with one key, the waiting only where it is asked for', () => {
    const begun = press(IDLE, 1_000, true);
    const delivered = press(begun.timing, 10_440, true);
    expect(delivered.timed).toEqual({ deliveryTimeS: '9.4' });
    const waited = press(delivered.timing, 15_500, true);
    expect(waited).toEqual({ timing: IDLE, timed: { waitingTimeS: '5.1' } });
    expect(press(begun.timing, 10_440, false)).toEqual({ timing: IDLE, timed: { deliveryTimeS: '9.4' } });
  });

  it('does not listen to a key held down, nor in the midst of what a balance types', () => {
    expect(isTimingKey({ key: TIMING_KEY, repeat: false }, 900)).toBe(true);
    expect(isTimingKey({ key: TIMING_KEY, repeat: true }, 900)).toBe(false);
    expect(isTimingKey({ key: TIMING_KEY, repeat: false }, 5)).toBe(false);
    expect(isTimingKey({ key: '8', repeat: false }, 900)).toBe(false);
  });

  // ISO 648:2008, 10 mL of class AS: delivery in 8 s to 12 s (from memory).
  it.each([
    ['7,9', 'too-short'],
    ['8', 'within'],
    ['12.0', 'within'],
    ['12.1', 'too-long'],
    ['', null],
  ] as const)('sets %s s against the standard', (seconds, standing) => {
    expect(standingOf(seconds, { min: 8, max: 12 })).toBe(standing);
  });
});

describe('a piston pipette', () => {
  it('keeps tip and channel from the trial before, and sends them', () => {
    const { typed } = nextEntry(of, [{ ...first, tip: 'T-12', channel: 3, drainPosition: 'free' }], 'emptied');
    const read = readEntry({ pointMl: '25', typed: { ...typed, emptyG: '60.1', filledG: '85.0' } });
    expect(read.body).toMatchObject({ tip: 'T-12', channel: 3, drainPosition: 'free' });
  });

  it.each(['0', '2.5', '385', 'three'])('refuses channel %s at its field', (channel) => {
    const { typed } = nextEntry(of, [first]);
    expect(readEntry({ pointMl: '25', typed: { ...typed, channel } }).problems).toMatchObject({
      channel: deliveryText.channelWhole,
    });
  });

  it('is registered with its channels, a pipette with what becomes of its last drop', () => {
    const piston = { ...EMPTY_DRAFT, kind: 'piston-pipette' as const, nominalVolumeMl: '0.1', channels: ' 8 ' };
    expect(readDraft(piston).body).toMatchObject({ channels: 8 });
    expect(readDraft({ ...piston, channels: '8.5' }).problems).toEqual({ channels: vesselFormText.channelsWhole });
    const pipette = { ...piston, kind: 'graduated-pipette' as const, blowOut: 'no' as const };
    expect(readDraft(pipette).body).toMatchObject({ blowOut: false });
    expect(readDraft(pipette).body).not.toHaveProperty('channels');
    expect(hasDetail('burette', 'blowOut')).toBe(false);
  });
});

it('hands times and random limits of a table on to the computation', () => {
  const item: ToleranceRowOnWire = {
    standard: 'ISO 648',
    edition: '2008',
    kind: 'single-volume-pipette',
    class: 'AS',
    basis: 'deliver',
    nominalVolumeMl: 10,
    divisionMl: null,
    toleranceMl: 0.02,
    tolerancePercent: null,
    neckDiameterMaxMm: null,
    waitingTimeS: 5,
    deliveryTimeS: { min: 8, max: 12 },
    randomMl: 0.003,
    verification: 'from memory',
    readInStandard: false,
    sources: [],
    note: null,
  };
  expect(toleranceRowsOf([item])[0]).toMatchObject({ deliveryTimeS: { min: 8, max: 12 }, randomMl: 0.003 });
  const [open] = toleranceRowsOf([{ ...item, deliveryTimeS: { min: 20, max: null } }]);
  expect(open?.deliveryTimeS).toEqual({ min: 20 });
});
