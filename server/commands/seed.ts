import type { Config } from '../config.ts';
import { openLogbook } from '../db/logbook.ts';
import { CONSOLE_ACTOR } from '../people/access.ts';
import { seedLogbook } from '../seed/load.ts';
import { BadWords, readWords } from './words.ts';

const use = 'seed [--vessels N] [--terms N] [--trials N]';
export const help = `${use} — fills an empty logbook with a made-up stockroom, to see how it bears its size`;

/** Ten years of a university's stockroom. */
const USUAL = { vessels: 20_000, terms: 20, trials: 10 };
const MOST = 1_000_000;
const SEED = 20_260_914;

const numberOf = (text: string | undefined, usual: number): number => {
  if (text === undefined) return usual;
  const number = Number(text);
  if (!Number.isInteger(number) || number < 1 || number > MOST) throw new BadWords(`Use: npm run tarebook -- ${use}`);
  return number;
};

/** @returns the exit code of the command */
export const run = async (args: readonly string[], config: Config): Promise<number> => {
  const { values } = readWords(args, { values: ['--vessels', '--terms', '--trials'], plain: 0, use });
  const vessels = numberOf(values['--vessels'], USUAL.vessels);
  const terms = numberOf(values['--terms'], USUAL.terms);
  const trials = numberOf(values['--trials'], USUAL.trials);
  let now = new Date();
  const logbook = await openLogbook(config.dataFolder, () => now);
  try {
    const setClock = (at: Date): void => {
      now = at;
    };
    const size = { vessels, terms, trials, seed: SEED };
    await seedLogbook({ logbook, setClock, actor: CONSOLE_ACTOR, ...size, say: console.log });
  } finally {
    await logbook.close();
  }
  console.log(`Made up in ${logbook.file}: ${vessels} vessels, ${vessels * terms * trials} trials.`);
  return 0;
};
