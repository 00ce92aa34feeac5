import { existsSync } from 'node:fs';
import path from 'node:path';
import { backUp } from '../backups/copy.ts';
import type { Config } from '../config.ts';
import { BadWords, readWords } from './words.ts';

export const help = 'backup FILE — copies the logbook as it stands, also while the server runs';

export const run = async (args: readonly string[], config: Config): Promise<number> => {
  const [file] = readWords(args, { plain: 1, use: 'backup FILE' }).plain;
  if (file === undefined) throw new BadWords('Use: npm run tarebook -- backup FILE');
  const logbook = path.join(config.dataFolder, 'tarebook.db');
  if (!existsSync(logbook)) throw new BadWords(`There is no logbook in ${config.dataFolder}.`);
  const { head, bytes, sha256 } = await backUp(logbook, file);
  console.log(`Written: ${file}, ${bytes} bytes, integrity checked.`);
  console.log(`SHA-256 of the file: ${sha256}`);
  if (head) console.log(`Head of the journal: entry ${head.number}, ${head.hash}`);
  return 0;
};
