import { existsSync } from 'node:fs';
import { restore } from '../backups/copy.ts';
import type { Config } from '../config.ts';
import { CONSOLE_ACTOR } from '../people/access.ts';
import { BadWords, readWords } from './words.ts';

export const help = 'restore FILE — puts a backup in place of the logbook; the server must be stopped';

export const run = async (args: readonly string[], config: Config): Promise<number> => {
  const [file] = readWords(args, { plain: 1, use: 'restore FILE' }).plain;
  if (file === undefined) throw new BadWords('Use: npm run tarebook -- restore FILE');
  if (!existsSync(file)) throw new BadWords(`There is no file ${file}.`);
  const reason = 'restored by a command on the machine';
  const { head, aside } = await restore(file, config.dataFolder, { actor: CONSOLE_ACTOR, reason });
  if (aside !== null) console.log(`The logbook that stood there is kept in ${aside}.`);
  console.log('The backup is in place.');
  if (head) console.log(`Head of the journal: entry ${head.number}, ${head.hash}`);
  return 0;
};
