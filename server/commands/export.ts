import { createWriteStream, existsSync, mkdirSync, renameSync, rmSync } from 'node:fs';
import path from 'node:path';
import { pipeline } from 'node:stream/promises';
import type { Config } from '../config.ts';
import { connect } from '../db/connection.ts';
import { archive } from '../exports/archive.ts';
import { knowsLot, knowsTag } from '../exports/plan.ts';
import type { Filter } from '../exports/selection.ts';
import { BadWords, readWords } from './words.ts';

const USE = 'export FOLDER [--vessel TAG] [--lot NAME] [--from DAY] [--to DAY] [--no-certificates] [--workbook]';
export const help = `${USE} — writes one zip of the logbook into a folder`;

const day = (text: string | undefined): string | null => {
  if (text === undefined) return null;
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) throw new BadWords(`"${text}" is not a day like 2026-09-14.`);
  return text;
};

/** @throws BadWords where nothing has this tag or name */
const refuseUnknown = (source: string, { vessel, lot }: Filter): void => {
  const handle = connect(source, { readOnly: true });
  try {
    if (vessel !== null && !knowsTag(handle, vessel))
      throw new BadWords(`No vessel bears the tag ${vessel}, or ever did.`);
    if (lot !== null && !knowsLot(handle, lot)) throw new BadWords(`No lot has the name ${lot}.`);
  } finally {
    handle.close();
  }
};

const SAY_EVERY_ROWS = 100_000;

export const run = async (args: readonly string[], config: Config): Promise<number> => {
  const options = {
    values: ['--vessel', '--lot', '--from', '--to'],
    flags: ['--no-certificates', '--workbook'],
    plain: 1,
    use: USE,
  };
  const { plain, values, flags } = readWords(args, options);
  const [folder] = plain;
  if (folder === undefined) throw new BadWords(`Use: npm run tarebook -- ${USE}`);
  const source = path.join(config.dataFolder, 'tarebook.db');
  if (!existsSync(source)) throw new BadWords(`There is no logbook in ${config.dataFolder}.`);
  const filter = {
    vessel: values['--vessel'] ?? null,
    lot: values['--lot'] ?? null,
    from: day(values['--from']),
    to: day(values['--to']),
  };
  refuseUnknown(source, filter);
  mkdirSync(folder, { recursive: true });
  const at = new Date();
  const file = path.join(folder, `tarebook-${at.toISOString().replaceAll(/[:.]/g, '-')}.zip`);
  const handle = connect(source, { readOnly: true });
  let said = 0;
  try {
    const onProgress = (rows: number): void => {
      if (rows - said < SAY_EVERY_ROWS) return;
      said = rows;
      console.log(`${rows} rows …`);
    };
    const certificates = !flags.has('--no-certificates');
    const { output, head } = archive(handle, {
      filter,
      certificates,
      workbook: flags.has('--workbook'),
      at,
      onProgress,
    });
    await pipeline(output, createWriteStream(`${file}.part`, { flags: 'wx' }));
    renameSync(`${file}.part`, file);
    console.log(`Written: ${file}`);
    if (head) console.log(`Head of the journal: entry ${head.number}, ${head.hash}`);
    return 0;
  } finally {
    rmSync(`${file}.part`, { force: true });
    handle.close();
  }
};
