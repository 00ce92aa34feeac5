/**
 * Puts the demonstration into a logbook, request by request, the way a person's readings come in. Each request has a
 * key made from its row, so a load that was interrupted is taken up again without doubles.
 */
import type { Logbook } from '../db/logbook.ts';
import { isDemonstration, markDemonstration } from '../laboratory/store.ts';
import {
  actBodyOf,
  calibrationBodyOf,
  instrumentBodyOf,
  lotBodyOf,
  trialBodyOf,
  vesselBodyOf,
  vesselChangeOf,
} from './bodies.ts';
import { refuseForeign } from './foreign.ts';
import type { DemoTables, Row } from './rows.ts';
import { loadPapers } from './papers.ts';
import { makeSolution, solutionsOf } from './solutions.ts';
import { workRound } from './rounds.ts';
import { Ledger, patch, post, type Send } from './send.ts';

export interface Loading {
  logbook: Logbook;
  send: Send;
  tables: DemoTables;
  actor: string;
  say: (line: string) => void;
}

const LABORATORY = {
  name: 'Teaching Laboratory of Lower Meniscus (invented)',
  address: 'Burette Lane 1; Lower Meniscus',
  altitudeM: '310',
};

/** How many requests wait together; they share one commit. */
const AT_ONCE = 16;

const inGroups = async <T>(items: readonly T[], work: (item: T) => Promise<void>): Promise<void> => {
  for (let start = 0; start < items.length; start += AT_ONCE)
    await Promise.all(items.slice(start, start + AT_ONCE).map(work));
};

/** Says for ever that this logbook holds demonstration data, before the first row of them. */
const mark = async ({ logbook, actor, tables }: Loading): Promise<void> => {
  if (await logbook.read(isDemonstration)) return;
  await logbook.write({ actor, requestId: 'demo' }, async ({ trx, at, journal }) => {
    await markDemonstration(trx, at, actor);
    const counts = Object.fromEntries(Object.entries(tables).map(([name, rows]) => [name, (rows as Row[]).length]));
    journal({ act: 'demonstration-loaded', object: 'logbook/1', before: null, after: counts });
    return { status: 200, body: null };
  });
};

const grouped = (rows: readonly Row[], column: string): Map<string, Row[]> => {
  const groups = new Map<string, Row[]>();
  for (const row of rows) groups.set(row[column] ?? '', [...(groups.get(row[column] ?? '') ?? []), row]);
  return groups;
};

/** The first row of an instrument registers it; each later one brings a new certificate on its day. */
const certificates = (rows: readonly Row[]): { row: Row; version: number }[] =>
  [...grouped(rows, 'tag').values()].flatMap((ofOne) => ofOne.map((row, index) => ({ row, version: index })));

const vesselChanges = (acts: readonly Row[]): { row: Row; version: number }[] =>
  [
    ...grouped(
      acts.filter((act) => act['act'] === 'vessel-correction'),
      'vessel',
    ).values(),
  ].flatMap((ofOne) => ofOne.map((row, index) => ({ row, version: index + 1 })));

interface Delivered {
  id: string;
  vessels: { id: string; tag: string }[];
}

const registerAll = async ({ send, tables }: Loading, ids: Ledger): Promise<void> => {
  await patch(send, 'the laboratory', '/api/laboratory', 1, LABORATORY);
  await inGroups(tables.vessels, async (row) => {
    const tag = row['tag'] ?? '';
    ids.set(tag, (await post(send, `vessel:${tag}`, '/api/vessels', vesselBodyOf(row))).id);
  });
  for (const row of tables.lots) {
    const pattern = row['pattern'] ?? '';
    const delivered = await post<Delivered>(send, `lot:${pattern}`, '/api/lots', lotBodyOf(row));
    ids.set(`lot ${pattern}`, delivered.id);
    for (const { tag, id } of delivered.vessels) ids.set(tag, id);
  }
  const first = certificates(tables.instruments).filter(({ version }) => version === 0);
  await inGroups(first, async ({ row }) => {
    const tag = row['tag'] ?? '';
    ids.set(tag, (await post(send, `instrument:${tag}`, '/api/instruments', instrumentBodyOf(row))).id);
  });
};

const renew = async ({ send }: Loading, ids: Ledger, row: Row, version: number): Promise<void> => {
  const tag = row['tag'] ?? '';
  const payload = { instrument: instrumentBodyOf(row), reason: row['reason'] };
  await patch(send, tag, `/api/instruments/${ids.get(tag)}`, version, payload);
};

const correctVessel = async ({ send }: Loading, ids: Ledger, row: Row, version: number): Promise<void> => {
  const tag = row['vessel'] ?? '';
  const id = ids.get(tag);
  await patch(send, tag, `/api/vessels/${id}`, version, vesselChangeOf(row));
  if (row['field'] === 'tag') ids.set(row['value'] ?? '', id);
};

const actUrl = (calibrationId: string, row: Row): string => {
  const calibration = `/api/calibrations/${calibrationId}`;
  return row['trial'] ? `${calibration}/trials/${row['trial']}/${row['act']}` : `${calibration}/${row['act']}`;
};

/** One calibration from its beginning to its end: trials in order, and between them what was done after each. */
const calibrate = async (
  { send }: Loading,
  ids: Ledger,
  { row, trials, acts }: { row: Row; trials: readonly Row[]; acts: readonly Row[] },
): Promise<void> => {
  const key = row['calibration'] ?? '';
  const body = calibrationBodyOf(row, (tag) => ids.get(tag));
  const { id } = await post(send, key, `/api/vessels/${ids.get(row['vessel'] ?? '')}/calibrations`, body);
  ids.set(`calibration ${key}`, id);
  for (const trial of trials) {
    const number = trial['number'] ?? '';
    await post(send, `${key}:trial:${number}`, `/api/calibrations/${id}/trials`, trialBodyOf(trial));
    for (const [index, act] of acts.entries())
      if (act['afterTrial'] === number) await post(send, `${key}:act:${index + 1}`, actUrl(id, act), actBodyOf(act));
  }
};

const sayDeliveries = ({ tables, say }: Loading): void => {
  const weighed = new Set(tables.rounds.map((row) => row['lot']));
  for (const { count, name, pattern } of tables.lots)
    say(
      `${count} more vessels ${weighed.has(pattern) ? 'were delivered and verified' : 'wait to be verified'}: ${name}.`,
    );
};

/** Every day on which something is done, in order. */
const daysOf = (tables: DemoTables): string[] => {
  const { instruments, calibrations, rounds, acts } = tables;
  const days = [
    ...solutionsOf(tables).map(({ on }) => on),
    ...instruments.map((row) => row['since']),
    ...calibrations.map((row) => row['performedOn']),
    ...rounds.map((row) => row['performedOn']),
    ...acts.map((row) => row['on']),
  ];
  return [...new Set(days.filter((day) => day !== undefined && day !== ''))].sort() as string[];
};

/**
 * @throws DemoRefused where the logbook holds vessels or instruments that are no demonstration, or refuses a row
 */
export const loadDemo = async (loading: Loading): Promise<void> => {
  const { logbook, tables, say } = loading;
  await refuseForeign(logbook, tables);
  await mark(loading);
  const ids = new Ledger();
  await registerAll(loading, ids);
  say(`${tables.vessels.length} vessels and ${grouped(tables.instruments, 'tag').size} instruments are registered.`);
  sayDeliveries(loading);
  const renewals = certificates(tables.instruments).filter(({ version }) => version > 0);
  const changes = vesselChanges(tables.acts);
  const trials = grouped(tables.trials, 'calibration');
  const acts = grouped(tables.acts, 'calibration');
  const ofDay = grouped(tables.calibrations, 'performedOn');
  let month = '';
  for (const day of daysOf(tables)) {
    for (const { row, version } of renewals) if (row['since'] === day) await renew(loading, ids, row, version);
    for (const { row, version } of changes) if (row['on'] === day) await correctVessel(loading, ids, row, version);
    for (const row of tables.rounds) if (row['performedOn'] === day) await workRound(loading.send, ids, tables, row);
    const calibrations = ofDay.get(day) ?? [];
    if (calibrations.length > 0 && day.slice(0, 7) !== month) {
      month = day.slice(0, 7);
      say(`Calibrations of ${month} …`);
    }
    await inGroups(calibrations, (row) => {
      const key = row['calibration'] ?? '';
      return calibrate(loading, ids, { row, trials: trials.get(key) ?? [], acts: acts.get(key) ?? [] });
    });
    for (const one of solutionsOf(tables)) if (one.on === day) await makeSolution(loading.send, ids, one);
  }
  await loadPapers(loading, ids);
};
