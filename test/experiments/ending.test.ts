/** Closing, keeping without names, erasing; and what the journal and exports know of a class. */
import { createHash } from 'node:crypto';
import { readFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { importExport } from '../../server/exports/import.ts';
import { canonical } from '../../server/journal/canonical.ts';
import { checkMoment } from '../../server/journal/verify.ts';
import { connect } from '../../server/db/connection.ts';
import { exported, unzipped } from '../exports/support.ts';
import { everything, expectProblem } from '../server/attempts.ts';
import { TestServer } from '../server/support.ts';
import { Browser, setUp } from '../people/people.ts';
import { joinAt, ok, openExperiment, planned, READINGS, type Joined, type Lesson } from './lesson.ts';

/** Found nowhere else, so that its bytes can be looked for. */
const RARE = { emptyG: '61.20347193', filledG: '160.83718264', reason: 'sneezed beside the balance' };

let server: TestServer;
let teacher: Browser;
let lesson: Lesson;
let group: Joined;
beforeEach(async () => {
  server = await TestServer.start();
  teacher = await setUp(server);
  lesson = await openExperiment(teacher);
  group = await joinAt(server, lesson.code);
  const { browser, url } = group;
  ok(await browser.post(`${url}/predictions`, { row: 'flask', volumeMl: '100.07531' }));
  ok(await browser.post(`${url}/trials`, { ...READINGS, emptyG: RARE.emptyG, filledG: RARE.filledG }));
  ok(await browser.post(`${url}/trials`, READINGS));
  const slip = { field: 'filledG', value: '160.8372', reason: RARE.reason };
  ok(await browser.post(`${url}/trials/flask/2/correction`, slip));
  ok(await browser.post(`${url}/trials/flask/1/exclusion`, { cause: 'other', reason: RARE.reason }));
});
afterEach(async () => server.end());

const COUNTS = { groups: 1, predictions: 1, trials: 2 };
const act = (what: string, body?: object) => teacher.post(`/api/experiments/${lesson.id}/${what}`, body);
const entries = () =>
  everything(server)['journal_entry'] as { act: string; object: string; before: string; after: string }[];
const ofClass = () => entries().filter(({ object }) => object.startsWith('experiment/'));

describe('the journal', () => {
  it('knows kind, experiment and counts of what a class did; no reading, no name, no word', async () => {
    ok(await act('closing'));
    ok(await act('names-removal'));
    const told = ofClass();
    expect(told.length).toBeGreaterThanOrEqual(8);
    for (const { act: name, object, before, after } of told) {
      expect({ name, object, before }).toEqual({ name, object: `experiment/${lesson.id}`, before: 'null' });
      const facts = Object.entries(JSON.parse(after) as Record<string, unknown>);
      const allowed = new Set(['groups', 'predictions', 'trials', 'hash', 'template', 'rows']);
      expect(facts.filter(([fact]) => !allowed.has(fact))).toEqual([]);
    }
    const text = JSON.stringify(told);
    for (const secret of [group.name, group.word, group.group, lesson.code, RARE.filledG, '100.07531', RARE.reason])
      expect(text).not.toContain(secret);
  });

  it('is whole after everything was erased', async () => {
    ok(await act('erasure', COUNTS));
    const handle = connect(server.logbook.file, { readOnly: true });
    expect(checkMoment(handle).fault).toBeNull();
    handle.close();
    expect(ofClass().at(-1)).toMatchObject({ act: 'experiment-erased', after: canonical(COUNTS) });
  });
});

describe('closing', () => {
  it('puts a salted hash of the data into the journal', async () => {
    const { hash } = ok(await act('closing')) as { hash: string };
    expect(JSON.parse(ofClass().at(-1)?.after ?? '')).toEqual({ ...COUNTS, hash });
    const tables = everything(server);
    const [secret] = tables['class_experiment_secret'] as { salt: string }[];
    const [stored] = tables['class_experiment'] as { plan: string }[];
    const plan = JSON.parse(stored?.plan ?? '') as { rows: object[]; conditions: object };
    const { emptyG, filledG, waterTemperatureC } = READINGS;
    const id = group.group;
    const at = { groupId: id, rowKey: 'flask' };
    const data = {
      rows: plan.rows,
      conditions: plan.conditions,
      groups: [{ id, number: 1 }],
      predictions: [{ ...at, volumeMl: '100.07531', withinMl: null, sureness: null }],
      trials: [
        {
          ...at,
          ...{ number: 1, emptyG: RARE.emptyG, filledG: RARE.filledG, waterTemperatureC },
          ...{ corrections: [], excluded: 'other' },
        },
        {
          ...at,
          ...{ number: 2, emptyG, filledG, waterTemperatureC },
          ...{ corrections: [{ field: 'filledG', value: '160.8372' }], excluded: null },
        },
      ],
    };
    // The recipe as it is described, by hand: SHA-256 of the salt, a newline, and the RFC 8785 text.
    const byHand = createHash('sha256')
      .update(`${secret?.salt}\n${canonical(data as never)}`, 'utf8')
      .digest('hex');
    expect(hash).toBe(byHand);
  });

  it('tells whether the data are still those that were closed', async () => {
    const { hash } = ok(await act('closing')) as { hash: string };
    const closingOf = async () => ok(await teacher.get(`/api/experiments/${lesson.id}`))['closing'];
    expect(await closingOf()).toEqual({ hash, holds: true });
    const handle = connect(server.logbook.file, { readOnly: false });
    handle.prepare("update class_trial set filled_g = '160.8373' where number = 2").run();
    expect(await closingOf()).toEqual({ hash, holds: false });
    handle.close();
  });

  it('is done once, and only to what was opened', async () => {
    const id = await planned(teacher);
    expectProblem(await teacher.post(`/api/experiments/${id}/closing`), ['state-conflict']);
    ok(await act('closing'));
    expectProblem(await act('closing'), ['state-conflict']);
    expectProblem(await act('opening', {}), ['state-conflict']);
    const { version } = ok(await teacher.get(`/api/experiments/${lesson.id}`)) as { version: number };
    expectProblem(await teacher.patch(`/api/experiments/${lesson.id}`, version, { title: 'Late' }), ['state-conflict']);
  });
});

/** The bytes of every file of the logbook, once it is closed. */
const bytesAfterClosing = async (): Promise<string> => {
  await server.close();
  const text = readFileSync(server.logbook.file).toString('latin1');
  await server.open();
  return text;
};

describe('keeping without names', () => {
  it('takes names, words and reasons away, and leaves the readings with the hash they had', async () => {
    expectProblem(await act('names-removal'), ['state-conflict']);
    ok(await act('closing'));
    ok(await act('names-removal'));
    expectProblem(await act('names-removal'), ['state-conflict']);
    const data = ok(await teacher.get(`/api/experiments/${lesson.id}/data`));
    expect(data).toMatchObject({ groups: [{ number: 1, name: null }], trials: [{ emptyG: RARE.emptyG }, {}] });
    expect(ok(await teacher.get(`/api/experiments/${lesson.id}`))).toMatchObject({ closing: { holds: true } });
    const bytes = await bytesAfterClosing();
    for (const gone of [group.name, RARE.reason]) expect(bytes.includes(gone)).toBe(false);
    expect(bytes.includes(RARE.filledG)).toBe(true);
  });
});

describe('erasing', () => {
  it('wants the counts said as they are', async () => {
    const before = everything(server);
    const reply = await act('erasure', { ...COUNTS, trials: 1 });
    expectProblem(reply, ['other-counts']);
    expect(reply.body['counts']).toEqual(COUNTS);
    expect(reply.body['detail']).toContain('1 groups, 1 predictions and 2 trials');
    expect(everything(server)).toEqual(before);
  });

  it('leaves nothing in any table, nor in the bytes of the file', async () => {
    expect((await bytesAfterClosing()).includes(RARE.filledG)).toBe(true);
    expect(ok(await act('erasure', COUNTS))).toEqual(COUNTS);
    const tables = everything(server);
    for (const [name, rows] of Object.entries(tables)) {
      if (name.startsWith('class_')) expect({ name, rows }).toEqual({ name, rows: [] });
      // The answer to planning is kept under its key: an id and a version.
      if (name !== 'journal_entry' && name !== 'idempotency_key') expect(JSON.stringify(rows)).not.toContain(lesson.id);
    }
    const bytes = await bytesAfterClosing();
    for (const gone of [RARE.emptyG, RARE.filledG, RARE.reason, group.name, '100.07531'])
      expect({ gone, left: bytes.includes(gone) }).toEqual({ gone, left: false });
    expectProblem(await teacher.get(`/api/experiments/${lesson.id}`), ['not-found']);
    expectProblem(await group.browser.get(group.url), ['not-signed-in']);
    expectProblem(await act('erasure', COUNTS), ['not-found']);
  });

  it('finds no answer kept with anything a class typed: kept is only which trial it was', async () => {
    const kept = JSON.stringify(everything(server)['idempotency_key']);
    expect(kept).toContain('flask');
    for (const typed of [RARE.emptyG, RARE.filledG, RARE.reason, '100.07531', group.name])
      expect(kept).not.toContain(typed);
  });

  it('leaves nothing in the file of a class that filled many pages, between others that stay', async () => {
    const lessons = [];
    for (let made = 0; made < 3; made += 1) {
      const { id } = await openExperiment(teacher);
      const { items } = ok(await teacher.post(`/api/experiments/${id}/groups`, { count: 8 })) as {
        items: { id: string; name: string }[];
      };
      lessons.push({ id, items });
    }
    // Turn by turn, so that rows of all three come to lie in the same pages.
    for (let number = 0; number < 12; number += 1)
      for (const [made, { id, items }] of lessons.entries())
        await Promise.all(
          items.map((item, place) => {
            const filledG = `160.83${made}${String(place).padStart(2, '0')}${String(number).padStart(2, '0')}77`;
            return teacher.post(`/api/experiments/${id}/groups/${item.id}/trials`, { ...READINGS, filledG });
          }),
        );
    const leftOf = (bytes: string, made: number) =>
      bytes.match(new RegExp(`160\\.83${made}\\d{4}77`, 'g'))?.length ?? 0;
    expect(leftOf(await bytesAfterClosing(), 1)).toBeGreaterThanOrEqual(96);
    const counts = { groups: 8, predictions: 0, trials: 96 };
    ok(await teacher.post(`/api/experiments/${lessons[1]?.id}/erasure`, counts));
    const bytes = await bytesAfterClosing();
    expect(leftOf(bytes, 1)).toBe(0);
    expect(leftOf(bytes, 2)).toBeGreaterThanOrEqual(96);
  }, 60_000);

  it('is told to any device that held a piece of the class, and of no other class', async () => {
    const other = await openExperiment(teacher);
    const phone = new Browser(server);
    const isThere = async (id: string) => ok(await phone.get(`/api/class/session?experiment=${id}`))['isThere'];
    expect(await isThere(lesson.id)).toBe(true);
    ok(await act('erasure', COUNTS));
    expect(await isThere(lesson.id)).toBe(false);
    expect(await isThere(other.id)).toBe(true);
    expect(ok(await phone.get('/api/class/session'))['isThere']).toBeNull();
  });

  it('leaves other classes alone', async () => {
    const other = await openExperiment(teacher);
    const theirs = await joinAt(server, other.code);
    ok(await theirs.browser.post(`${theirs.url}/trials`, READINGS));
    const before = ok(await teacher.get(`/api/experiments/${other.id}/data`));
    ok(await act('erasure', COUNTS));
    expect(ok(await teacher.get(`/api/experiments/${other.id}/data`))).toEqual(before);
  });
});

describe('an export', () => {
  const tablesIn = async (filter: object = {}) => {
    const files = await unzipped(await exported(server.logbook.file, { filter }));
    const text = (name: string) => files.get(name)?.toString('utf8') ?? '';
    return { files, text, rows: (table: string) => text(`tables/${table}.csv`).trimEnd().split('\r\n').slice(1) };
  };

  it('holds what classes measured, without codes and words', async () => {
    const { files, rows } = await tablesIn();
    const held = ['experiment', 'group', 'prediction', 'trial', 'trial_correction', 'trial_exclusion'];
    expect(held.map((table) => rows(`class_${table}`).filter((row) => row !== '').length)).toEqual([1, 1, 1, 2, 1, 1]);
    expect(rows('class_trial')[0]).toContain(`,${RARE.emptyG},${RARE.filledG},`);
    const { words } = ok(await teacher.get(`/api/experiments/${lesson.id}/joining`)) as { words: { word: string }[] };
    const everywhere = [...files.values()].map((file) => file.toString('utf8')).join('\n');
    for (const secret of [lesson.code, lesson.boardCode, lesson.assistantCode])
      expect(everywhere).not.toContain(secret);
    // Five letters may occur in a sentence by chance; not between commas.
    expect(everywhere).not.toMatch(new RegExp(`,${words[0]?.word},`));
  });

  it('is imported as it was', async () => {
    const folder = mkdtempSync(path.join(tmpdir(), 'tarebook-class-'));
    const file = path.join(folder, 'export.zip');
    writeFileSync(file, await exported(server.logbook.file));
    expect(await importExport(file, path.join(folder, 'data'))).toMatchObject({ fault: null });
    const again = await unzipped(await exported(path.join(folder, 'data', 'tarebook.db')));
    const { files } = await tablesIn();
    for (const name of ['class_experiment', 'class_group', 'class_trial', 'class_trial_exclusion'])
      expect(again.get(`tables/${name}.csv`)?.equals(files.get(`tables/${name}.csv`) ?? Buffer.alloc(0))).toBe(true);
    rmSync(folder, { recursive: true, force: true });
  });

  it('of some days or one vessel leaves classes out', async () => {
    const { rows, text } = await tablesIn({ from: '2026-01-01', to: '2026-12-31' });
    expect(rows('class_trial').filter((row) => row !== '')).toEqual([]);
    expect(text('journal.jsonl')).not.toContain(`experiment/${lesson.id}`);
  });

  it('made after erasing holds nothing of the class', async () => {
    ok(await act('erasure', COUNTS));
    const { files, rows } = await tablesIn();
    expect(rows('class_experiment').filter((row) => row !== '')).toEqual([]);
    const everywhere = [...files.values()].map((file) => file.toString('utf8')).join('\n');
    for (const gone of [RARE.filledG, group.name]) expect(everywhere).not.toContain(gone);
  });
});

describe('a rehearsal', () => {
  const rehearse = async (id: string, body: object = {}) =>
    String(ok(await teacher.post(`/api/experiments/${id}/rehearsal`, body))['id']);
  type Data = { madeUp: boolean; groups: object[]; trials: { volumeMl: number; row: string; group: number }[] };
  const dataOf = async (id: string) => ok(await teacher.get(`/api/experiments/${id}/data`)) as unknown as Data;

  it('is another experiment with a made-up class; the plan stays as it was', async () => {
    const id = await planned(teacher, { template: 'four-ways' });
    const copy = await rehearse(id, { groups: 5, seed: 7 });
    const data = await dataOf(copy);
    expect({ groups: data.groups.length, trials: data.trials.length }).toEqual({ groups: 5, trials: 5 * 4 * 3 });
    expect(ok(await teacher.get(`/api/experiments/${id}`))).toMatchObject({
      madeUp: false,
      state: 'planned',
      counts: { groups: 0 },
    });
    const again = await dataOf(await rehearse(id, { groups: 5, seed: 7 }));
    expect(again.trials.map(({ volumeMl }) => volumeMl)).toEqual(data.trials.map(({ volumeMl }) => volumeMl));
  });

  it('is marked on page, board, list and in every export, and lets nobody in', async () => {
    const copy = await rehearse(await planned(teacher));
    const { items } = ok(await teacher.get('/api/experiments')) as { items: { id: string; madeUp: boolean }[] };
    expect(items.filter(({ madeUp }) => madeUp).map(({ id }) => id)).toEqual([copy]);
    expect((await dataOf(copy)).madeUp).toBe(true);
    expect(ok(await teacher.get(`/api/experiments/${copy}/board`))).toMatchObject({ board: { madeUp: true } });
    expect(ok(await teacher.get(`/api/experiments/${copy}/joining`))).toMatchObject({ open: false, code: null });
    expectProblem(await teacher.post(`/api/experiments/${copy}/joining`, { act: 'rotate' }), ['state-conflict']);
    const files = await unzipped(await exported(server.logbook.file));
    expect(files.get('README.txt')?.toString('utf8')).toContain('MADE UP: 1 of the class experiments are rehearsals');
    expect(JSON.parse(files.get('datapackage.json')?.toString('utf8') ?? '')).toMatchObject({ madeUpClasses: 1 });
  });

  it('looks like a classroom: a beaker is far off, a flask is not', async () => {
    const copy = await rehearse(await planned(teacher, { template: 'four-ways' }), { groups: 20, seed: 3 });
    const { trials } = await dataOf(copy);
    const farthest = (row: string) =>
      Math.max(...trials.filter((trial) => trial.row === row).map(({ volumeMl }) => Math.abs(volumeMl - 25)));
    // Common practice, no source: tenths of a millilitre and more for a beaker, hundredths for one-mark ware.
    expect(farthest('beaker')).toBeGreaterThan(0.5);
    expect(farthest('flask')).toBeLessThan(0.1);
  });
});
