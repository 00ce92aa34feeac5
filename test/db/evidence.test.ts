/** Evidence is never changed or removed, whatever statement tries it, also after the file was opened again. */
import type Database from 'better-sqlite3';
import type { Transaction } from 'kysely';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { connect, type Handle } from '../../server/db/connection.ts';
import type { Tables } from '../../server/db/tables.ts';
import { everything } from '../server/attempts.ts';
import { CONDITIONS, idOf, TestServer } from '../server/support.ts';

/** Tables whose rows are what was observed and done, each with a column that is not part of its key. */
const EVIDENCE: Record<string, string> = {
  journal_entry: 'after',
  logbook_mark: 'recorded_by',
  tolerance_confirmation: 'where_seen',
  vessel_revision: 'tag',
  instrument_revision: 'facts',
  instrument_check: 'reading',
  calibration: 'points',
  calibration_act: 'reason',
  condition_reading: 'conditions',
  trial: 'filled_g',
  trial_correction: 'value',
  trial_exclusion: 'reason',
  certificate: 'frozen',
  certificate_file: 'sha256',
  certificate_withdrawal: 'reason',
  lot_revision: 'name',
  lot_decision: 'reason',
  lot_round: 'plan',
  zero_check: 'reading_g',
  vessel_inspection: 'findings',
  vessel_decision: 'reason',
  preparation: 'result',
  preparation_vessel: 'use',
  preparation_instrument: 'use',
  preparation_end: 'reason',
  preparation_decision: 'reason',
};
/** Tables that say how things stand now, derived from evidence; and those of the tool that migrates. */
const CURRENT = ['vessel', 'vessel_tag', 'instrument', 'calibration_standing', 'laboratory', 'idempotency_key'];
const PEOPLE = ['person', 'person_secret', 'program_key', 'program_key_secret'];
/** What classes measured: erasable on purpose, and evidence of nothing. */
const CLASS = [
  ...['class_experiment', 'class_experiment_secret', 'class_group', 'class_group_secret', 'class_prediction'],
  ...['class_trial', 'class_trial_correction', 'class_trial_exclusion'],
];
const TERM = ['lot', 'calendar_feed', 'import_mapping'];
const MIGRATION = ['kysely_migration', 'kysely_migration_lock'];

/** One row of each table of a term's work. */
const term = async (
  trx: Transaction<Tables>,
  { calibration, ...by }: { calibration: string; recorded_at: string; recorded_by: string },
): Promise<void> => {
  const ware = { supplier: null, maker: null, facts: '{}', note: null, reason: null };
  const lot = { name: 'Delivery', received_on: '2026-09-14', version: 1 };
  await trx
    .insertInto('lot')
    .values({ id: 'lot1', ...lot, ...by })
    .execute();
  await trx
    .insertInto('lot_revision')
    .values({ lot_id: 'lot1', ...lot, ...ware, ...by })
    .execute();
  const first = { lot_id: 'lot1', number: 1 };
  const decision = { decision: 'accept', plan: null, counts: '{}', reason: 'for the test' };
  await trx
    .insertInto('lot_decision')
    .values({ ...first, ...decision, ...by })
    .execute();
  const round = { way_of_working: 'empties-first', plan: '{}', calibrations: '[]' };
  await trx
    .insertInto('lot_round')
    .values({ ...first, ...round, ...by })
    .execute();
  const zero = { round_number: 1, balance_id: null, after_vessels: 10, reading_g: '0.0000', note: null };
  await trx
    .insertInto('zero_check')
    .values({ ...first, ...zero, ...by })
    .execute();
  const { vessel_id } = await trx
    .selectFrom('calibration')
    .select('vessel_id')
    .where('id', '=', calibration)
    .executeTakeFirstOrThrow();
  const judged = { vessel_id, number: 1, calibration_id: calibration };
  await trx
    .insertInto('vessel_inspection')
    .values({ ...judged, findings: '{}', outcome: 'fit', note: null, ...by })
    .execute();
  await trx
    .insertInto('vessel_decision')
    .values({ ...judged, decision: 'keep', facts: null, reason: 'for the test', ...by })
    .execute();
};

/** One row of each table of solutions. */
const solution = async (
  trx: Transaction<Tables>,
  {
    vesselId,
    instrumentId,
    ...by
  }: { vesselId: string; instrumentId: string; recorded_at: string; recorded_by: string },
): Promise<void> => {
  const preparation_id = 'prep1';
  const about = { title: 'Salt', made_on: '2026-09-14', expires_on: null, accuracy_percent: null };
  const words = { hazard_line: null, water: null, lots: null, note: null, search_text: 'salt' };
  await trx
    .insertInto('preparation')
    .values({
      id: preparation_id,
      number: 'S-0001',
      way: 'solid',
      ...about,
      ...words,
      inputs: '{}',
      result: '{}',
      result_hash: '',
      ...by,
    })
    .execute();
  const used = { preparation_id, number: 1 };
  await trx
    .insertInto('preparation_vessel')
    .values({ ...used, vessel_id: vesselId, calibration_id: null, use: 'made-up', ...by })
    .execute();
  await trx
    .insertInto('preparation_instrument')
    .values({ ...used, instrument_id: instrumentId, instrument_version: 1, use: 'balance', ...by })
    .execute();
  const reason = 'for the test';
  await trx
    .insertInto('preparation_end')
    .values({ preparation_id, ending: 'used-up', reason, ...by })
    .execute();
  const cause = { vessel_id: vesselId, calibration_id: null, instrument_id: null, instrument_version: null };
  await trx
    .insertInto('preparation_decision')
    .values({ ...used, ...cause, decision: 'stands', reason, ...by })
    .execute();
};

let server: TestServer;
let handle: Handle;
beforeAll(async () => {
  server = await TestServer.start();
  const calibration = await server.calibration();
  idOf(await server.post('/api/instruments', { kind: 'balance', tag: 'B-1' }));
  await server.trial(calibration);
  const url = `/api/calibrations/${calibration}`;
  const reason = 'for the test';
  await server.post(`${url}/trials/1/correction`, { field: 'emptyG', value: '61.2035', reason });
  await server.post(`${url}/trials/1/exclusion`, { cause: 'spill', reason });
  await server.post(`${url}/conditions`, CONDITIONS);
  await server.post(`${url}/measured`, { reason });
  const row = { standard: 'ISO 1042', edition: '1998', kind: 'volumetric-flask', class: 'A', nominalVolumeMl: '100' };
  const balance = (await server.post('/api/instruments', { kind: 'balance', tag: 'B-2' })).body;
  await server.post(`/api/instruments/${String(balance['id'])}/checks`, { referenceValue: '100', reading: '100.0' });
  await server.post('/api/tolerances/confirmations', { ...row, whereSeen: 'table 1 of the printed standard' });
  const vesselId = await server.vessel();
  await server.logbook.write({ actor: 'tester', requestId: 'r' }, async ({ trx, at, actor, journal }) => {
    const authorship = { recorded_at: at, recorded_by: actor };
    await trx
      .insertInto('logbook_mark')
      .values({ mark: 'test', ...authorship })
      .execute();
    const issue = { replaces: null, reason: null, frozen: '{}', frozen_hash: '', entry_number: 1, entry_hash: '' };
    const certificate_number = '2026-0001';
    await trx
      .insertInto('certificate')
      .values({ number: certificate_number, calibration_id: calibration, ...issue, ...authorship })
      .execute();
    const file = { format: 'xml', sha256: '', content: Buffer.from('<x/>') };
    await trx
      .insertInto('certificate_file')
      .values({ certificate_number, ...file, ...authorship })
      .execute();
    await trx
      .insertInto('certificate_withdrawal')
      .values({ certificate_number, reason, ...authorship })
      .execute();
    await term(trx, { calibration, ...authorship });
    await solution(trx, { vesselId, instrumentId: String(balance['id']), ...authorship });
    journal({ act: 'marked', object: 'mark/test', before: null, after: null });
    return { status: 201, body: null };
  });
  await server.restart();
  handle = connect(server.logbook.file, { readOnly: false });
});
afterAll(async () => {
  handle.close();
  await server.end();
});

interface Column {
  name: string;
  pk: number;
}
const columnsOf = (table: string): Column[] => handle.pragma(`table_info("${table}")`) as Column[];
const listed = (columns: readonly Column[]): string => columns.map(({ name }) => `"${name}"`).join(', ');
const keyOf = (table: string): Column[] => columnsOf(table).filter(({ pk }) => pk > 0);
const copied = (table: string): string => `select ${listed(columnsOf(table))} from "${table}" where true limit 1`;

it('every table is known as evidence or as current state', () => {
  const known = [...Object.keys(EVIDENCE), ...CURRENT, ...PEOPLE, ...TERM, ...CLASS, ...MIGRATION];
  const tables = Object.keys(everything(server));
  expect(tables.sort()).toEqual(known.sort());
});

it('no row of the record points at what a class measured', () => {
  const pointing = [...Object.keys(EVIDENCE), ...CURRENT, ...PEOPLE, ...TERM].filter((table) =>
    (handle.pragma(`foreign_key_list("${table}")`) as { table: string }[]).some((one) => CLASS.includes(one.table)),
  );
  expect(pointing).toEqual([]);
});

describe.each(Object.entries(EVIDENCE))('%s', (table, column) => {
  const rows = () => handle.prepare(`select count(*) from "${table}"`).pluck().get();

  it('has a row to defend', () => {
    expect(rows()).toBeGreaterThan(0);
  });

  const attacks: Record<string, () => string> = {
    UPDATE: () => `update "${table}" set "${column}" = 'x'`,
    'UPDATE to the same value': () => `update "${table}" set "${column}" = "${column}"`,
    'UPDATE OR IGNORE': () => `update or ignore "${table}" set "${column}" = 'x'`,
    'UPDATE OR REPLACE': () => `update or replace "${table}" set "${column}" = 'x'`,
    DELETE: () => `delete from "${table}"`,
    'DELETE of one row': () => `delete from "${table}" where "${keyOf(table)[0]?.name}" is not null`,
    'INSERT OR REPLACE': () => `insert or replace into "${table}" (${listed(columnsOf(table))}) ${copied(table)}`,
    REPLACE: () => `replace into "${table}" (${listed(columnsOf(table))}) ${copied(table)}`,
    UPSERT: () =>
      `insert into "${table}" (${listed(columnsOf(table))}) ${copied(table)}
       on conflict (${listed(keyOf(table))}) do update set "${column}" = 'x'`,
  };
  it.each(Object.entries(attacks))('%s fails', (_name, statement) => {
    const before = everything(server);
    expect(() => handle.prepare(statement()).run()).toThrow(/evidence: .+ rows are never changed or removed/);
    expect(everything(server)).toEqual(before);
  });
});

describe('a connection', () => {
  const pragmas = (one: Database.Database) =>
    Object.fromEntries(
      ['journal_mode', 'synchronous', 'foreign_keys', 'recursive_triggers', 'trusted_schema'].map((name) => [
        name,
        one.pragma(name, { simple: true }),
      ]),
    );

  it.each([
    ['writing', false],
    ['reading', true],
  ])('for %s sets its own pragmas on a file that was there before', (_name, readOnly) => {
    const one = connect(server.logbook.file, { readOnly });
    // synchronous 2 is FULL: a reopened write-ahead file would otherwise run at 1, and a power cut undo commits.
    expect(pragmas(one)).toEqual({
      journal_mode: 'wal',
      synchronous: 2,
      foreign_keys: 1,
      recursive_triggers: 1,
      trusted_schema: 0,
    });
    expect(Number(one.pragma('busy_timeout', { simple: true }))).toBeGreaterThan(0);
    one.close();
  });

  it('for reading writes nothing', () => {
    const one = connect(server.logbook.file, { readOnly: true });
    expect(() => one.prepare("update laboratory set name = 'x'").run()).toThrow(/readonly/);
    one.close();
  });

  it('is made by SQLite 3.51.3 or newer, whose write-ahead file several connections can share', () => {
    const version = String(handle.prepare('select sqlite_version()').pluck().get());
    const [major = 0, minor = 0, patch = 0] = version.split('.').map(Number);
    expect(major * 1_000_000 + minor * 1000 + patch).toBeGreaterThanOrEqual(3_051_003);
  });
});
