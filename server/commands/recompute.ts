import { differencesOf } from '../certificates/differences.ts';
import { listCertificates } from '../certificates/store.ts';
import { findForResult } from '../calibrations/store-pool.ts';
import type { Config } from '../config.ts';
import { lookIntoLogbook } from '../db/look.ts';

export const help = 'recompute — computes every issued result again and lists what comes out otherwise';

const PAGE = 200;

/** @returns the exit code of the command: 0 when everything comes out as issued */
export const run = async (args: readonly string[], config: Config): Promise<number> => {
  if (args.length > 0) {
    console.error('recompute takes no further words. The folder of the logbook is set with TAREBOOK_DATA.');
    return 1;
  }
  let before: string | undefined;
  let computed = 0;
  let differing = 0;
  await lookIntoLogbook(config.dataFolder, async (db) => {
    for (;;) {
      const page = await listCertificates(db, { before, limit: PAGE });
      for (const certificate of page) {
        const { number, calibrationId } = certificate;
        const present = await findForResult(db, calibrationId);
        const findings = differencesOf(certificate, present?.state === 'issued' ? present : null);
        computed += 1;
        if (findings.length > 0) differing += 1;
        for (const { detail } of findings) console.log(`${number}: ${detail}`);
      }
      before = page.at(-1)?.number;
      if (page.length < PAGE) return;
    }
  });
  console.log(
    differing === 0
      ? `${computed} issued results computed again: all as issued.`
      : `${computed} issued results computed again: ${differing} come out otherwise.`,
  );
  return differing === 0 ? 0 : 1;
};
