import { existsSync } from 'node:fs';
import type { Config } from '../config.ts';
import { importExport } from '../exports/import.ts';
import { BadWords, readWords } from './words.ts';

export const help = 'import FILE — builds the logbook of an export again, into an empty data folder';

export const run = async (args: readonly string[], config: Config): Promise<number> => {
  const [file] = readWords(args, { plain: 1, use: 'import FILE' }).plain;
  if (file === undefined) throw new BadWords('Use: npm run tarebook -- import FILE');
  if (!existsSync(file)) throw new BadWords(`There is no file ${file}.`);
  const { entries, head } = await importExport(file, config.dataFolder);
  console.log(`Imported: ${entries} entries.`);
  if (head) console.log(`Head of the journal: entry ${head.number}, ${head.hash}`);
  console.log('Secrets do not travel: every person needs a new code, and every program a new key.');
  return 0;
};
