/** Someone opens the logbook's file and takes the triggers away: whatever is changed then shows. */
import Database from 'better-sqlite3';
import { copyFileSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { insertWithdrawal } from '../../server/certificates/store.ts';
import { checkMoment, type CheckResult } from '../../server/journal/verify.ts';
import { insertKey, insertPerson, journalOf } from '../../server/people/store.ts';
import { fill } from '../exports/rich-logbook.ts';
import { TestServer } from '../server/support.ts';
import { columnsUnnoticed } from './columns-unnoticed.ts';

let folder: string;
let whole: string;
let entries: number;
let head: string;
beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), 'tarebook-verify-'));
  const server = await TestServer.start();
  await fill(server);
  await withdraw(server, '2026-0001');
  await admit(server);
  await server.close();
  whole = path.join(folder, 'whole.db');
  copyFileSync(server.logbook.file, whole);
  rmSync(server.folder, { recursive: true, force: true });
  const checked = tampered('select 1');
  entries = checked.entries;
  head = checked.head?.hash ?? '';
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** In the shape an issued certificate is withdrawn in, without the people it takes. */
const withdraw = (server: TestServer, number: string) =>
  server.logbook.write({ actor: 'tester', requestId: 'withdraw' }, async ({ trx, at, actor, journal }) => {
    const reason = 'wrong vessel';
    const after = { state: 'withdrawn', reason };
    journal({ act: 'certificate-withdrawn', object: `certificate/${number}`, before: { state: 'valid' }, after });
    await insertWithdrawal(trx, { number, reason, at, actor });
    return { status: 201, body: null };
  });

/** An auditor and a key for programs, as the routes of people write them. */
const admit = (server: TestServer) =>
  server.logbook.write({ actor: 'tester', requestId: 'admit' }, async ({ trx, at, actor, journal }) => {
    const facts = { id: 'p1', name: 'Pia Auditor', role: 'auditor', mayIssue: false, passphraseHash: null } as const;
    const person = await insertPerson(trx, facts, at, actor);
    journal({ act: 'person-added', object: 'person/p1', before: null, after: journalOf(person) });
    const told = { name: 'display', scope: 'read', expiresOn: null, revoked: false } as const;
    journal({ act: 'key-added', object: 'key/k1', before: null, after: told });
    await insertKey(trx, { id: 'k1', version: 1, ...told, hasToken: false, recordedAt: at, recordedBy: actor });
    return { status: 201, body: null };
  });

const tampered = (sql: string, options: Parameters<typeof checkMoment>[1] = {}): CheckResult => {
  const file = path.join(folder, 'tampered.db');
  copyFileSync(whole, file);
  const handle = new Database(file);
  try {
    const triggers = handle.prepare<[], string>("select name from sqlite_master where type = 'trigger'").pluck().all();
    for (const name of triggers) handle.exec(`drop trigger ${name}`);
    handle.pragma('foreign_keys = off');
    handle.exec(sql);
    return checkMoment(handle, options);
  } finally {
    handle.close();
  }
};

it('finds an untouched logbook whole', () => {
  expect(tampered('select 1')).toMatchObject({ fault: null, entries: expect.any(Number) as number });
  expect(entries).toBeGreaterThan(15);
});

describe('names the first entry that is wrong', () => {
  const columns = ['at', 'actor', 'act', 'object', 'before', 'after', 'request_id', 'previous_hash', 'hash'];
  it.each(columns)('a character more in %s', (column) => {
    expect(tampered(`update journal_entry set ${column} = ${column} || 'x' where number = 7`).fault?.number).toBe(7);
  });

  it.each([
    ['dropped', 'delete from journal_entry where number = 7', 7],
    [
      'swapped',
      'update journal_entry set number = -1 where number = 7; update journal_entry set number = 7 where number = 8; update journal_entry set number = 8 where number = -1',
      7,
    ],
    [
      'inserted',
      `insert into journal_entry select (select max(number) + 1 from journal_entry), at, actor, act, object, before, after, request_id, previous_hash, hash from journal_entry where number = 7`,
      null,
    ],
    ['numbered below the first', 'update journal_entry set number = 0 where number = 7', 1],
  ])('%s', (_name, sql, number) => {
    expect(tampered(sql).fault?.number).toBe(number ?? entries + 1);
  });

  it('cut off or written anew shows by the head alone', () => {
    const cut = `delete from journal_entry where number = ${entries}; delete from program_key`;
    expect(tampered(cut).fault).toBeNull();
    expect(tampered(cut, { expectHead: head }).fault?.fault).toContain('No entry has the hash');
    expect(tampered('select 1', { expectHead: head }).fault).toBeNull();
  });
});

describe('names a row changed, missing or added behind the journal’s back', () => {
  it.each([
    ['trial', "update trial set filled_g = '160.8373' where number = 2", 'filled_g'],
    ['trial', "update trial set recorded_by = 'nobody' where number = 2", 'recorded_by'],
    ['trial', 'delete from trial where number = 3', 'is missing'],
    [
      'trial',
      "insert into trial select calibration_id, 99, point_ml, empty_g, filled_g, water_temperature_c, water_temperature_half_width_c, empty_source, empty_of, empty_state, air_temperature_c, air_pressure_hpa, relative_humidity_percent, delivery_time_s, waiting_time_s, open_time_s, note, confirmed, formulas, 'k', recorded_at, recorded_by, null, null, null, null from trial where number = 2",
      'the journal tells of',
    ],
    ['trial_correction', "update trial_correction set value = '1'", 'value'],
    ['trial_exclusion', 'update trial_exclusion set excluded = 1 - excluded', 'excluded'],
    ['vessel_revision', "update vessel_revision set nominal_volume_ml = '99' where version = 2", 'nominal_volume_ml'],
    ['vessel_revision', "update vessel_revision set serial = '8' where version = 2", 'serial'],
    ['instrument_revision', "update instrument_revision set facts = replace(facts, '0.0001', '0.001')", 'facts'],
    ['instrument_check', "update instrument_check set reading = '50'", 'reading'],
    ['calibration', "update calibration set conditions = replace(conditions, '992.5', '999.5')", 'conditions'],
    ['calibration_act', "update calibration_act set state = 'issued'", 'state'],
    ['condition_reading', 'update condition_reading set after_trial = 0', 'after_trial'],
    ['frozen', "update certificate set frozen = frozen || ' '", 'does not fit'],
    ['PDF', "update certificate_file set content = x'00' where format = 'pdf'", 'PDF'],
    ['certificate', "delete from certificate_file where format = 'xml'", 'missing'],
  ])('%s: %s', (_table, sql, said) => {
    expect(tampered(sql).fault?.fault).toContain(said);
  });
});

it('says of every column of evidence, and of what stands now, that it was changed', () => {
  const { unnoticed, empty } = columnsUnnoticed(whole);
  expect(unnoticed).toEqual([
    // What an edit has to name, and when the record was last touched.
    ...['calibration_standing.version', 'calibration_standing.touched_at', 'person.version'],
    // What searches look in; the day that follows from the interval; the key under which a trial was sent.
    ...['preparation.search_text', 'program_key.version', 'trial.request_key', 'vessel.search_text', 'vessel.due_on'],
  ]);
  // These are filled in the demonstration, where the same is asked of them.
  expect(empty).toEqual([
    ...['logbook_mark', 'lot_decision', 'lot_round', 'tolerance_confirmation', 'vessel_decision', 'vessel_inspection'],
    'zero_check',
  ]);
});
