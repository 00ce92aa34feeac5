/** `npm run tarebook -- <word>`: work done on the machine itself. */
import { BadConfig, readConfig, type Config } from '../config.ts';
import { UnfitConnection } from '../db/connection.ts';
import { LogbookInUse } from '../db/lock.ts';
import { NoLogbook } from '../db/look.ts';
import { UnwritableFolder } from '../db/logbook.ts';
import { NewerLogbook } from '../db/migrate.ts';
import { BackupRefused } from '../backups/copy.ts';
import { DemoRefused } from '../demo/refused.ts';
import { UnfitExport } from '../exports/read-zip.ts';
import { SeedRefused } from '../seed/load.ts';
import { BadWords } from './words.ts';

interface Command {
  help: string;
  run(args: readonly string[], config: Config): Promise<number>;
}

/** One file a word, read only when its word is called. */
const words: Record<string, () => Promise<Command>> = {
  demo: () => import('./demo.ts'),
  verify: () => import('./verify.ts'),
  export: () => import('./export.ts'),
  import: () => import('./import.ts'),
  backup: () => import('./backup.ts'),
  restore: () => import('./restore.ts'),
  recompute: () => import('./recompute.ts'),
  seed: () => import('./seed.ts'),
  'new-code': () => import('./new-code.ts'),
};

/** Reasons to stop that a person can do something about; each is one plain sentence. */
const PLAIN = [
  BackupRefused,
  BadConfig,
  BadWords,
  DemoRefused,
  LogbookInUse,
  NewerLogbook,
  NoLogbook,
  SeedRefused,
  UnfitConnection,
  UnfitExport,
  UnwritableFolder,
];

const listWords = async (): Promise<void> => {
  console.error('Use: npm run tarebook -- <word>');
  for (const load of Object.values(words)) console.error(`  ${(await load()).help}`);
};

const dispatch = async ([word = '', ...args]: readonly string[]): Promise<number> => {
  const load = Object.hasOwn(words, word) ? words[word] : undefined;
  if (load === undefined) {
    if (word !== '') console.error(`There is no word "${word}".`);
    await listWords();
    return 1;
  }
  const command = await load();
  return command.run(args, readConfig(process.env));
};

try {
  process.exitCode = await dispatch(process.argv.slice(2));
} catch (error) {
  console.error(PLAIN.some((kind) => error instanceof kind) ? (error as Error).message : error);
  process.exitCode = 1;
}
