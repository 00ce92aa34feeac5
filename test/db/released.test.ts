/** Logbooks as released versions left them: this version finds the same readings and an unbroken journal. */
import { copyFileSync, mkdirSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkMoment } from '../../server/journal/verify.ts';
import { connect } from '../../server/db/connection.ts';
import type { ClassData } from '../../server/experiments/contract-class.ts';
import type { Calibration } from '../../server/calibrations/contract.ts';
import { TestServer, type Reply } from '../server/support.ts';
import { looking, removeFolder, temporaryFolder } from './support.ts';

const fixtures = fileURLToPath(new URL('../../fixtures/databases', import.meta.url));
const released = readdirSync(fixtures).filter((name) => name.endsWith('.db'));

let folder: string;
beforeEach(() => {
  folder = temporaryFolder();
});
afterEach(() => removeFolder(folder));

const cookieOf = (reply: Reply): string => String(reply.headers['set-cookie']).split(';')[0] ?? '';

/** Whoever reads a logbook that has people; invented, like all in it. */
const READER = { name: 'Pia Auditor', password: 'seven quiet burettes' };

const EVIDENCE = {
  certificate: 'number, calibration_id, replaces, reason, frozen, frozen_hash, entry_number, entry_hash, recorded_at',
  certificate_file: 'certificate_number, format, sha256, content, recorded_at',
  trial: 'calibration_id, number, point_ml, empty_g, filled_g, water_temperature_c, recorded_at, recorded_by',
  trial_correction: 'calibration_id, trial_number, number, field, previous_value, value, reason',
  trial_exclusion: 'calibration_id, trial_number, number, excluded, reason',
  class_trial: 'group_id, row_key, number, empty_g, filled_g, water_temperature_c, entered',
  class_prediction: 'group_id, row_key, volume_ml, within_ml, sureness',
  journal_entry: 'number, at, actor, act, object, before, after, request_id, previous_hash, hash',
};
const evidenceIn = (file: string) =>
  looking(file, (handle) =>
    Object.entries(EVIDENCE)
      .filter(([table]) => handle.prepare('select 1 from sqlite_schema where name = ?').get(table) !== undefined)
      .map(
        ([table, columns]) => [table, handle.prepare(`select ${columns} from ${table} order by 1, 2`).all()] as const,
      ),
  );

/** What a later model says otherwise of a result that stays as it was issued. */
const DIFFERENCES: Record<string, Record<string, unknown[]>> = {
  // Before, a piston pipette was judged by its systematic error alone.
  '0.3.0.db': {
    '2026-00002': [
      { code: 'computed-otherwise', detail: expect.stringMatching(/randomError\..*other versions of: model\./) },
    ],
  },
};

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
    const after = new Map(evidenceIn(server.logbook.file));
    for (const [table, rows] of before) expect(after.get(table), table).toEqual(rows);
    const handle = connect(server.logbook.file, { readOnly: true });
    expect(checkMoment(handle).fault).toBeNull();
    const ids = handle.prepare<[], string>('select id from calibration').pluck().all();
    const typed = handle
      .prepare<[string], string>('select filled_g from trial where calibration_id = ? order by number')
      .pluck();
    const hasPeople = handle.prepare('select 1 from person').get() !== undefined;
    const cookie = hasPeople ? cookieOf(await server.post('/api/session', READER)) : '';
    for (const id of ids) {
      const reply = await server.send('GET', `/api/calibrations/${id}`, undefined, { cookie });
      expect(reply.status).toBe(200);
      const page = reply.body as unknown as Calibration;
      expect(page.trials.map((trial) => trial.filledG)).toEqual(typed.all(id));
      expect(page.points.map((point) => Number.isFinite(point.meanMl))).toEqual(page.points.map(({ n }) => n > 0));
    }
    const numbers = handle.prepare<[], string>('select number from certificate order by number').pluck().all();
    for (const number of numbers) {
      const reply = await server.send('GET', `/api/certificates/${number}`, undefined, { cookie });
      const differences = DIFFERENCES[name]?.[number] ?? [];
      expect(reply).toMatchObject({ status: 200, body: { number, differences } });
    }
    // A version before classes has none; the table came with the migration.
    const lessons = handle.prepare<[], string>('select id from class_experiment').pluck().all();
    for (const lesson of lessons) {
      const reply = await server.send('GET', `/api/experiments/${lesson}/data`, undefined, { cookie });
      expect(reply.status).toBe(200);
      const { trials } = reply.body as unknown as ClassData;
      const kept = handle
        .prepare<[string]>('select 1 from class_trial join class_group on id = group_id where experiment_id = ?')
        .all(lesson);
      expect(trials).toHaveLength(kept.length);
      for (const trial of trials) expect(trial.volumeMl).toBeGreaterThan(0);
    }
    handle.close();
    await server.close();
  });
});
