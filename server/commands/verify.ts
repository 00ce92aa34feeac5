import { createReadStream, existsSync } from 'node:fs';
import path from 'node:path';
import type { Config } from '../config.ts';
import { connect } from '../db/connection.ts';
import { checkExport, checkLines } from '../exports/check-export.ts';
import { compareRows } from '../exports/import.ts';
import { openZip } from '../exports/read-zip.ts';
import { checkMoment, type CheckResult } from '../journal/verify.ts';
import { BadWords, readWords } from './words.ts';

export const help = 'verify [FILE] [--expect-head HASH] — checks the logbook, a backup, an export or a journal.jsonl';

const checkDatabase = (file: string, expectHead?: string): CheckResult => {
  const handle = connect(file, { readOnly: true });
  try {
    const state = String(handle.pragma('integrity_check(1)', { simple: true }));
    if (state !== 'ok')
      return { entries: 0, head: null, fault: { number: null, fault: `The file is damaged: ${state}` } };
    return checkMoment(handle, { expectHead });
  } finally {
    handle.close();
  }
};

/** What was looked at, beside what was found: entries that are whole, and whether rows were compared or only counted. */
type Checked = CheckResult & { whole?: number; compared?: boolean };

const checkFile = async (file: string, expectHead?: string): Promise<Checked> => {
  if (file.endsWith('.jsonl')) return checkLines(createReadStream(file), expectHead);
  if (!file.endsWith('.zip')) return checkDatabase(file, expectHead);
  const zip = await openZip(file);
  const checked = await checkExport(zip, expectHead).finally(() => zip.close());
  if (checked.fault) return checked;
  const rows = await compareRows(file);
  return { ...checked, fault: rows?.fault ?? null, compared: rows !== undefined };
};

/** A file so damaged that it cannot be read at all is a fault, too. */
const unreadable = (error: unknown): string | null => {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  return /^SQLITE_(?:CORRUPT|NOTADB|IOERR)/.test(code) ? `The file is damaged: ${(error as Error).message}.` : null;
};

export const run = async (args: readonly string[], config: Config): Promise<number> => {
  const { plain, values } = readWords(args, {
    plain: 1,
    values: ['--expect-head'],
    use: 'verify [FILE] [--expect-head HASH]',
  });
  const expectHead = values['--expect-head']?.toLowerCase();
  if (expectHead !== undefined && !/^[0-9a-f]{64}$/.test(expectHead))
    throw new BadWords('The hash after --expect-head has 64 characters, 0-9 and a-f.');
  const file = plain[0] ?? path.join(config.dataFolder, 'tarebook.db');
  if (!existsSync(file)) throw new BadWords(`There is no file ${file}.`);
  try {
    const { entries, whole, compared, head, fault } = await checkFile(file, expectHead);
    if (fault) {
      console.error(fault.fault);
      return 1;
    }
    const kinds = whole === undefined ? '' : `, ${whole} whole, ${entries - whole} by hash only`;
    console.log(`${file}: ${entries} entries${kinds}.`);
    if (head) console.log(`Head of the journal: entry ${head.number}, ${head.hash}`);
    if (compared === true) console.log('Each row of its tables agrees with the journal.');
    if (compared === false) console.log('Its tables were counted, not compared: only a whole export can be.');
    console.log('All is well.');
    return 0;
  } catch (error) {
    const sentence = unreadable(error);
    if (sentence === null) throw error;
    console.error(sentence);
    return 1;
  }
};
