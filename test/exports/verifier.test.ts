/** The verifier of an export, run as a stranger does: in the unpacked folder, with nothing else around it. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { entryHash, type JournalEntry } from '../../server/journal/chain.ts';
import { canonical } from '../../server/journal/canonical.ts';
import { TestServer } from '../server/support.ts';
import { fill, sha256 } from './rich-logbook.ts';
import { exported, unpackInto, unzipped } from './support.ts';

let server: TestServer;
let files: Map<string, Buffer>;
let filtered: Map<string, Buffer>;
beforeAll(async () => {
  server = await TestServer.start();
  const { tag } = await fill(server);
  files = await unzipped(await exported(server.logbook.file));
  filtered = await unzipped(await exported(server.logbook.file, { filter: { vessel: tag } }));
});
afterAll(() => server.end());

const run = (contents: ReadonlyMap<string, Buffer>, ...words: string[]): { code: number; said: string } => {
  const folder = mkdtempSync(path.join(tmpdir(), 'tarebook-verifier-'));
  try {
    unpackInto(folder, contents);
    const said = execFileSync(process.execPath, ['verify.mjs', ...words], { cwd: folder, env: {}, stdio: 'pipe' });
    return { code: 0, said: said.toString('utf8') };
  } catch (error) {
    const { status, stderr } = error as { status: number; stderr: Buffer };
    return { code: status, said: stderr.toString('utf8') };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

const journal = (): string[] => (files.get('journal.jsonl') ?? Buffer.from('')).toString('utf8').trimEnd().split('\n');
const entry = (line: string): JournalEntry => JSON.parse(line) as JournalEntry;
const withFile = (name: string, content: string | Buffer | null): Map<string, Buffer> => {
  const changed = new Map(files);
  if (content === null) changed.delete(name);
  else changed.set(name, Buffer.from(content));
  return changed;
};
const withLines = (lines: readonly string[]) => withFile('journal.jsonl', `${lines.join('\n')}\n`);

it('finds an untouched export whole, and any entry as its head', () => {
  const hash = entry(journal()[3] ?? '').hash;
  expect(run(files, '--expect-head', hash)).toMatchObject({ code: 0 });
  expect(run(files).said).toContain(`${journal().length} entries, ${journal().length} whole, 0 by hash only.`);
});

it('follows the chain of a filtered export through entries it has by hash only', () => {
  const { code, said } = run(filtered);
  expect(code).toBe(0);
  expect(said).toMatch(/\d+ whole, [1-9]\d* by hash only/);
});

describe('names the first entry that is wrong', () => {
  it.each<[string, (lines: string[]) => string[], string]>([
    ['a digit changed', (all) => all.map((line) => line.replace('160.83700', '160.83701')), 'was changed'],
    ['dropped', (all) => all.toSpliced(4, 1), 'Entry 5 '],
    ['swapped', (all) => all.with(4, all[5] ?? '').with(5, all[4] ?? ''), 'Entry 5 '],
    ['inserted twice', (all) => all.toSpliced(4, 0, all[3] ?? ''), 'Entry 5 '],
    ['another spelling', (all) => all.with(2, `${all[2]?.slice(0, 1)} ${all[2]?.slice(1)}`), 'Entry 3:'],
    ['made a bare hash', (all) => all.with(2, canonical(stubOf(all[2] ?? ''))), 'entries are whole'],
    ['cut off', (all) => all.slice(0, -1), 'another head'],
  ])('%s', (_name, damage, sentence) => {
    const { code, said } = run(withLines(damage(journal())));
    expect(code).toBe(1);
    expect(said).toContain(sentence);
    expect(said.trim().split('\n')).toHaveLength(1);
  });
});

const stubOf = (line: string) => {
  const { number, previousHash, hash } = entry(line);
  return { number, previousHash, hash };
};

it('sees a tail written anew by the head kept elsewhere', () => {
  const lines = journal();
  const last = entry(lines.at(-1) ?? '');
  const forged = { ...last, actor: 'nobody' };
  const hash = entryHash(last.previousHash, forged);
  const about = (files.get('datapackage.json') ?? '').toString('utf8').replaceAll(last.hash, hash);
  const rewritten = withLines(lines.with(-1, canonical({ ...forged, hash })));
  rewritten.set('datapackage.json', Buffer.from(about));
  expect(run(rewritten).code).toBe(0);
  const { code, said } = run(rewritten, '--expect-head', last.hash);
  expect({ code, said }).toEqual({ code: 1, said: expect.stringContaining('written anew') as string });
});

it('names a solution whose result was changed, and a certificate whose content was', () => {
  const path = 'tables/preparation.csv';
  const solutions = (files.get(path) ?? '').toString('utf8');
  // The first row with a result, its hash and, in the second column, its number.
  const [, number = ''] = /\r\n\w+,(S-\d{4}),/.exec(solutions) ?? [];
  const [, result = '', hash = ''] = /("\{""result""(?:[^"]|"")*"),([0-9a-f]{64}),/.exec(solutions) ?? [];
  const certificates = (files.get('tables/certificate.csv') ?? '').toString('utf8');
  const said = (name: string, content: string) => run(withFile(name, content)).said;
  const digit = result.replace(/""value"":0\.1/, '""value"":0.2');
  expect(said(path, solutions.replace(result, digit))).toContain(`The result of preparation ${number} was changed`);
  expect(said(path, solutions.replace(result, '{}').replace(hash, sha256('{}')))).toContain(
    `The result of preparation ${number} is not what the journal tells of`,
  );
  expect(said('tables/certificate.csv', certificates.replace('invented', 'forged'))).toContain(
    'What certificate 2026-0001 froze was changed',
  );
});

it('sees a certificate changed or missing, a row missing or added, a table missing', () => {
  const pdf = 'certificates/2026-0001.pdf';
  const trials = (files.get('tables/trial.csv') ?? Buffer.from('')).toString('utf8');
  const [, row = ''] = trials.split('\r\n');
  const cases: [Map<string, Buffer>, string][] = [
    [withFile(pdf, 'another'), `${pdf} is not what the journal tells of`],
    [withFile(pdf, null), 'holds 1 files'],
    [withFile('tables/trial.csv', trials.replace(`${row}\r\n`, '')), 'tables/trial.csv holds'],
    [withFile('tables/trial.csv', `${trials}${row}\r\n`), 'tables/trial.csv holds'],
    [withFile('results.csv', null), 'results.csv is missing'],
    [withFile('journal.jsonl', null), 'journal.jsonl is missing'],
  ];
  for (const [damaged, sentence] of cases) {
    const { code, said } = run(damaged);
    expect(code).toBe(1);
    expect(said).toContain(sentence);
  }
});

describe('sees a reading, a correction or an exclusion that is not what the journal tells of', () => {
  it.each([
    ['trial', '160.83700', '160.83710'],
    ['trial', '160.83700', '160.837'],
    ['trial', '-looks like a number', '-looked like a number'],
    ['trial', 'unnamed', 'Jonte'],
    ['trial_correction', 'digits swapped', 'digits exchanged'],
    ['trial_exclusion', 'spill', 'typing'],
    ['trial_exclusion', 'true', 'false'],
  ])('%s: %s → %s', (table, before, after) => {
    const name = `tables/${table}.csv`;
    const rows = (files.get(name) ?? '').toString('utf8');
    expect(rows).toContain(before);
    const { code, said } = run(withFile(name, rows.replace(before, after)));
    expect({ code, said }).toEqual({ code: 1, said: expect.stringContaining(`${name} does not hold what`) as string });
  });

  it('says so of a part of the journal, which tells of too little to compare', () => {
    expect(run(files).said).toContain('Readings, corrections and exclusions are what the journal tells of.');
    expect(run(filtered).said).toContain('Readings were not compared with the journal');
  });
});
