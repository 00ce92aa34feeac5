/** An export checked as its own verifier does it: the chain, what has a hash, the number of rows. */
import { createHash } from 'node:crypto';
import { createInterface } from 'node:readline';
import type { Readable } from 'node:stream';
import { parse } from 'csv-parse';
import { z } from 'zod';
import { canonical, type JournalValue } from '../journal/canonical.ts';
import { entryHash, FIRST_PREVIOUS_HASH, type JournalEntry } from '../journal/chain.ts';
import type { CheckResult, Fault } from '../journal/verify.ts';
import { fieldsOf } from '../journal/verify-entry.ts';
import { hashesIn } from '../journal/verify-rows.ts';
import { UnfitExport, type OpenZip } from './read-zip.ts';

const about = z.object({
  migrations: z.array(z.string()),
  filtered: z.boolean(),
  certificates: z.boolean(),
  journal: z.object({
    entriesWhole: z.number().int(),
    head: z.object({ number: z.number().int(), hash: z.string() }).nullable(),
  }),
  resources: z.array(z.object({ name: z.string(), path: z.string(), rowCount: z.number().int() })),
});
export type AboutExport = z.infer<typeof about>;

export const aboutExport = async (zip: OpenZip): Promise<AboutExport> => {
  try {
    return about.parse(JSON.parse((await zip.bytes('datapackage.json')).toString('utf8')));
  } catch (error) {
    if (error instanceof UnfitExport) throw error;
    throw new UnfitExport('datapackage.json is not that of a Tarebook export.');
  }
};

export interface CheckedLines extends CheckResult {
  whole: number;
  /** Hashes that entries about certificates tell of. */
  told: Set<string>;
  /** Solutions that entries tell of, by id. */
  results: Map<string, { number: string; hash: string }>;
}

type Line = JournalEntry | Pick<JournalEntry, 'number' | 'previousHash' | 'hash'>;

const isWhole = (line: Line): line is JournalEntry => 'act' in line;

const readLine = (text: string): Line | null => {
  try {
    const value = JSON.parse(text) as JournalValue;
    return canonical(value) === text ? (value as unknown as Line) : null;
  } catch {
    return null;
  }
};

const faultOf = (line: Line | null, number: number, previousHash: string): Fault | null => {
  if (!line) return { number, fault: `Entry ${number}: the line is not the RFC 8785 text of an entry.` };
  if (line.number !== number)
    return { number, fault: `Entry ${number} is missing or out of place: here stands ${line.number}.` };
  if (line.previousHash !== previousHash)
    return { number, fault: `Entry ${number} does not follow from the one before it.` };
  if (isWhole(line) && entryHash(previousHash, line) !== line.hash)
    return { number, fault: `Entry ${number} was changed: its hash does not fit what it says.` };
  return null;
};

const textOf = (value: JournalValue | undefined): string => (typeof value === 'string' ? value : '');

/** Lines of a journal.jsonl; `take` gets each entry that is whole and right. */
export const checkLines = async (
  input: Readable,
  expectHead?: string,
  take?: (entry: JournalEntry) => void,
): Promise<CheckedLines> => {
  const told = new Set<string>();
  const results: CheckedLines['results'] = new Map();
  let head = { number: 0, hash: FIRST_PREVIOUS_HASH };
  let whole = 0;
  let seen = expectHead === undefined;
  const result = (fault: Fault | null): CheckedLines => ({
    entries: head.number,
    head: head.number === 0 ? null : head,
    fault,
    whole,
    told,
    results,
  });
  for await (const text of createInterface({ input, crlfDelay: 0 })) {
    const line = readLine(text);
    const fault = faultOf(line, head.number + 1, head.hash);
    if (fault || !line) return result(fault);
    head = { number: line.number, hash: line.hash };
    if (line.hash === expectHead) seen = true;
    if (!isWhole(line)) continue;
    whole += 1;
    if (line.act.startsWith('certificate-')) for (const hash of hashesIn(line.after)) told.add(hash);
    if (line.act === 'preparation-recorded') {
      const { number, resultHash } = fieldsOf(line.after);
      results.set(line.object.replace('preparation/', ''), { number: textOf(number), hash: textOf(resultHash) });
    }
    take?.(line);
  }
  if (seen) return result(null);
  const fault = `No entry has the hash ${expectHead}: the journal was written anew, or cut off before that entry.`;
  return result({ number: null, fault });
};

export const csvRows = (input: Readable): AsyncIterable<string[]> => input.pipe(parse({ record_delimiter: '\r\n' }));

const countRows = async (input: Readable): Promise<number> => {
  let rows = -1;
  for await (const row of csvRows(input)) if (row.length > 0) rows += 1;
  return rows;
};

const whole = (fault: string): Fault => ({ number: null, fault });

const certificateFault = async (zip: OpenZip, told: ReadonlySet<string>, expected: number): Promise<Fault | null> => {
  const files = zip.names.filter((name) => name.startsWith('certificates/'));
  for (const name of files) {
    const hash = createHash('sha256')
      .update(await zip.bytes(name))
      .digest('hex');
    if (!told.has(hash)) return whole(`${name} is not what the journal tells of.`);
  }
  return files.length === expected
    ? null
    : whole(`The folder certificates holds ${files.length} files, but there should be ${expected}.`);
};

interface Hashed {
  path: string;
  columns: [id: string, number: string, content: string, hash: string];
  what: (number: string) => string;
  isTold: (id: string, hash: string) => boolean;
}

/** A text of a table must have the hash beside it, and the journal must tell of that hash. */
const textFault = async (zip: OpenZip, hashed: Hashed, seen: Set<string>): Promise<Fault | null> => {
  const { path, columns, what, isTold } = hashed;
  let places: number[] | null = null;
  // Earlier exports hold no solutions.
  if (!zip.names.includes(path)) return null;
  for await (const cells of csvRows(await zip.stream(path))) {
    if (places === null) {
      places = columns.map((name) => cells.indexOf(name));
      continue;
    }
    const [id = '', number = '', content = '', hash = ''] = places.map((place) => cells[place]);
    if (createHash('sha256').update(content).digest('hex') !== hash)
      return whole(`${what(number)} was changed: its hash does not fit it.`);
    if (!isTold(id, hash)) return whole(`${what(number)} is not what the journal tells of.`);
    seen.add(id);
  }
  return null;
};

const frozenFault = async (zip: OpenZip, { told, results }: CheckedLines): Promise<Fault | null> => {
  const certificates = await textFault(
    zip,
    {
      path: 'tables/certificate.csv',
      columns: ['number', 'number', 'frozen', 'frozen_hash'],
      what: (number) => `What certificate ${number} froze`,
      isTold: (_id, hash) => told.has(hash),
    },
    new Set(),
  );
  if (certificates) return certificates;
  const seen = new Set<string>();
  const solutions = await textFault(
    zip,
    {
      path: 'tables/preparation.csv',
      columns: ['id', 'number', 'result', 'result_hash'],
      what: (number) => `The result of preparation ${number}`,
      isTold: (id, hash) => results.get(id)?.hash === hash,
    },
    seen,
  );
  if (solutions) return solutions;
  const missing = [...results].find(([id]) => !seen.has(id));
  return missing ? whole(`Preparation ${missing[1].number} is missing: the journal tells of it.`) : null;
};

const contentFault = async (zip: OpenZip, export_: AboutExport, lines: CheckedLines): Promise<Fault | null> => {
  const { head, entriesWhole } = export_.journal;
  if (head?.hash !== lines.head?.hash || entriesWhole !== lines.whole)
    return whole('datapackage.json names another head or another number of whole entries than journal.jsonl holds.');
  for (const { path, rowCount } of export_.resources) {
    const rows = await countRows(await zip.stream(path));
    if (rows !== rowCount) return whole(`${path} holds ${rows} rows, but datapackage.json names ${rowCount}.`);
  }
  const changed = await frozenFault(zip, lines);
  if (changed) return changed;
  const files = export_.resources.find(({ name }) => name === 'certificate_file')?.rowCount ?? 0;
  return export_.certificates ? certificateFault(zip, lines.told, files) : null;
};

export const checkExport = async (zip: OpenZip, expectHead?: string): Promise<CheckedLines> => {
  const export_ = await aboutExport(zip);
  const lines = await checkLines(await zip.stream('journal.jsonl'), expectHead);
  return lines.fault ? lines : { ...lines, fault: await contentFault(zip, export_, lines) };
};
