/** Looking at a logbook without opening it for writing: commands that only read work beside a running server. */
import { existsSync } from 'node:fs';
import path from 'node:path';
import { connect, queryBuilder } from './connection.ts';
import type { Reading } from './logbook.ts';
import { needsMigration } from './migrate.ts';

export class NoLogbook extends Error {}

/** @throws NoLogbook, NewerLogbook */
export const lookIntoLogbook = async <T>(folder: string, look: (db: Reading) => Promise<T>): Promise<T> => {
  const file = path.join(folder, 'tarebook.db');
  if (!existsSync(file)) throw new NoLogbook(`There is no logbook in ${folder}. Give its folder in TAREBOOK_DATA.`);
  const handle = connect(file, { readOnly: true });
  const db = queryBuilder(handle);
  try {
    if (await needsMigration(db))
      throw new NoLogbook('This logbook was written by an older Tarebook. Start the server once, and ask again.');
    return await db.transaction().execute(look);
  } finally {
    await db.destroy();
    if (handle.open) handle.close();
  }
};
