/** What a start sees, and what becomes of times when the clock is set back. */
import Database from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { watchFrom } from '../../server/journal/watch.ts';
import { checkMoment } from '../../server/journal/verify.ts';
import { faultIn, looking } from '../db/support.ts';
import { TestServer } from '../server/support.ts';

let server: TestServer;
beforeEach(async () => {
  server = await TestServer.start();
});
afterEach(() => server.end());

const acts = (): { act: string; actor: string; before: string; after: string }[] =>
  looking(server.logbook.file, (handle) =>
    handle
      .prepare<[], { act: string; actor: string; before: string; after: string }>(
        'select act, actor, before, after from journal_entry order by number',
      )
      .all(),
  );

it('tells of a clock that went back an hour once, and keeps the order of the numbers', async () => {
  const calibration = await server.calibration();
  await server.trial(calibration);
  server.now = new Date('2026-09-14T08:29:59.500Z');
  await server.trial(calibration);
  server.now = new Date('2026-09-14T07:30:00.000Z');
  await server.trial(calibration);
  await server.trial(calibration);
  expect(acts().map(({ act }) => act)).toEqual([
    'vessel-registered',
    'calibration-begun',
    'trial-recorded',
    'trial-recorded',
    'clock-went-back',
    'trial-recorded',
    'trial-recorded',
  ]);
  expect(acts()[4]).toEqual({
    act: 'clock-went-back',
    actor: 'system',
    before: '{"at":"2026-09-14T08:29:59.500Z"}',
    after: '{"at":"2026-09-14T07:30:00.000Z"}',
  });
  expect(faultIn(server.logbook.file)).toBeNull();
  expect((await server.calibrationPage(calibration)).trials).toHaveLength(4);
});

it('tells of a stop that was none of ours, and of none after a clean one', async () => {
  await server.vessel();
  (await watchFrom(server.logbook)).end();
  expect((await watchFrom(server.logbook)).fault).toBeNull();
  expect(acts().map(({ act }) => act)).toEqual(['vessel-registered']);
  const watch = await watchFrom(server.logbook);
  expect(acts().at(-1)).toMatchObject({ act: 'unclean-stop-seen', actor: 'system', after: '{"integrity":"ok"}' });
  watch.end();
  expect((await watchFrom(server.logbook)).fault).toBeNull();
  expect(acts()).toHaveLength(2);
  const handle = new Database(server.logbook.file, { readonly: true });
  expect(checkMoment(handle).fault).toBeNull();
  handle.close();
});

it('names what was changed since the last look, and runs on', async () => {
  await server.vessel();
  (await watchFrom(server.logbook)).end();
  await server.vessel();
  const handle = new Database(server.logbook.file);
  handle.exec("drop trigger journal_entry_no_update; update journal_entry set actor = 'nobody' where number = 2");
  handle.close();
  expect((await watchFrom(server.logbook)).fault?.number).toBe(2);
  await server.vessel();
});

describe('a logbook too large to be looked at before it opens', () => {
  const NOTHING = { entries: 0, bytes: 0 };

  it('opens at once, is looked at beside, and tells afterwards of what was wrong', async () => {
    await server.vessel();
    const watch = await watchFrom(server.logbook, NOTHING);
    expect(watch.fault).toBeNull();
    expect(await watch.later).toBeNull();
    watch.end();
    await server.vessel();
    const handle = new Database(server.logbook.file);
    handle.exec("drop trigger journal_entry_no_update; update journal_entry set actor = 'nobody' where number = 2");
    handle.close();
    const again = await watchFrom(server.logbook, NOTHING);
    expect(again.fault).toBeNull();
    expect((await again.later)?.number).toBe(2);
    again.end();
  });

  it('looks only at what is new once all was looked at', async () => {
    await server.vessel();
    const watch = await watchFrom(server.logbook, NOTHING);
    await watch.later;
    watch.end();
    expect((await watchFrom(server.logbook, NOTHING)).later).toBeNull();
  });

  it('tells of an unclean stop when the look is over, and leaves it to the next start when stopped before', async () => {
    await server.vessel();
    await watchFrom(server.logbook); // and no end
    (await watchFrom(server.logbook, NOTHING)).end();
    expect(acts().map(({ act }) => act)).toEqual(['vessel-registered']);
    const watch = await watchFrom(server.logbook, NOTHING);
    await watch.later;
    expect(acts().at(-1)).toMatchObject({ act: 'unclean-stop-seen', after: '{"integrity":"ok"}' });
    watch.end();
    expect((await watchFrom(server.logbook)).later).toBeNull();
    expect(acts()).toHaveLength(2);
  });
});
