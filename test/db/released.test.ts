/** Logbooks as released versions left them: this version finds the same readings and an unbroken journal. */
import { copyFileSync, mkdirSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkMoment } from '../../server/journal/verify.ts';
import { connect } from '../../server/db/connection.ts';
import { TestServer } from '../server/support.ts';
import { looking, removeFolder, temporaryFolder } from './support.ts';

const fixtures = fileURLToPath(new URL('../../fixtures/databases', import.meta.url));
const released = readdirSync(fixtures).filter((name) => name.endsWith('.db'));

let folder: string;
beforeEach(() => {
  folder = temporaryFolder();
});
afterEach(() => removeFolder(folder));

const EVIDENCE = {
  trial: 'calibration_id, number, point_ml, empty_g, filled_g, water_temperature_c, recorded_at, recorded_by',
  trial_correction: 'calibration_id, trial_number, number, field, previous_value, value, reason',
  trial_exclusion: 'calibration_id, trial_number, number, excluded, reason',
  journal_entry: 'number, at, actor, act, object, before, after, request_id, previous_hash, hash',
};
const evidenceIn = (file: string) =>
  looking(file, (handle) =>
    Object.entries(EVIDENCE).map(([table, columns]) =>
      handle.prepare(`select ${columns} from ${table} order by 1, 2`).all(),
    ),
  );

it('keeps a logbook of at least one release', () => {
  expect(released.length).toBeGreaterThan(0);
});

describe.each(released)('%s', (name) => {
  it('opens with the same evidence and a whole journal, and its results can be shown', async () => {
    const original = path.join(folder, 'original.db');
    copyFileSync(path.join(fixtures, name), original);
    const before = evidenceIn(original);
    const data = path.join(folder, 'data');
    mkdirSync(data);
    copyFileSync(original, path.join(data, 'tarebook.db'));
    const server = await TestServer.on(data);
    expect(evidenceIn(server.logbook.file)).toEqual(before);
    const handle = connect(server.logbook.file, { readOnly: true });
    expect(checkMoment(handle).fault).toBeNull();
    const ids = handle.prepare<[], string>('select id from calibration').pluck().all();
    const typed = handle
      .prepare<[string], string>('select filled_g from trial where calibration_id = ? order by number')
      .pluck();
    for (const id of ids) {
      const page = await server.calibrationPage(id);
      expect(page.trials.map((trial) => trial.filledG)).toEqual(typed.all(id));
      expect(page.points.map((point) => Number.isFinite(point.meanMl))).toEqual(page.points.map(({ n }) => n > 0));
    }
    handle.close();
    await server.close();
  });
});
