import { buildApp } from '../app.ts';
import type { Config } from '../config.ts';
import { openLogbook } from '../db/logbook.ts';
import { loadDemo } from '../demo/load.ts';
import { readDemoTables } from '../demo/rows.ts';
import { CONSOLE_ACTOR } from '../people/access.ts';

export const help = 'demo — loads an invented teaching laboratory with four terms of calibrations';

/** @returns the exit code of the command */
export const run = async (args: readonly string[], config: Config): Promise<number> => {
  if (args.length > 0) {
    console.error('demo takes no further words. The folder of the logbook is set with TAREBOOK_DATA.');
    return 1;
  }
  const tables = readDemoTables();
  const logbook = await openLogbook(config.dataFolder);
  try {
    const app = await buildApp({ logbook, pagesFolder: null, actor: CONSOLE_ACTOR });
    try {
      await loadDemo({
        logbook,
        tables,
        actor: CONSOLE_ACTOR,
        send: (request) => app.inject(request),
        say: console.log,
      });
    } finally {
      await app.close();
    }
  } finally {
    await logbook.close();
  }
  const { vessels, lots, rounds, calibrations, trials, roundTrials } = tables;
  const delivered = lots.reduce((sum, { count }) => sum + Number(count), 0);
  const inRounds = rounds.reduce((sum, { vessels: tags = '' }) => sum + tags.split(';').length, 0);
  console.log(
    `Loaded into ${logbook.file}: ${vessels.length + delivered} vessels, ${calibrations.length + inRounds} calibrations, ` +
      `${trials.length + roundTrials.length} trials. Look at it with: npm start`,
  );
  return 0;
};
