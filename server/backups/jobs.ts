/** What is done to the files of a logbook while nobody has it open: between a close and the next opening. */
import { existsSync, rmSync } from 'node:fs';
import path from 'node:path';
import { takeLogbook } from '../db/lock.ts';
import { forgetLastLook } from '../journal/watch.ts';
import { restore, setAside, stamp } from './copy.ts';

/** Gets the data folder. What it throws is told in the list of backups; the server opens again on what is there. */
export type Job = (folder: string) => Promise<void>;

export const restoreJob =
  (file: string, by: { actor: string; reason: string; at: Date }): Job =>
  async (folder) => {
    await restore(file, folder, by);
  };

/** The logbook of the folder goes aside under a name that says what it is; the next opening makes an empty one. */
export const asideJob =
  (at: Date): Job =>
  async (folder) => {
    const release = takeLogbook(path.join(folder, 'tarebook.lock'));
    try {
      setAside(path.join(folder, 'tarebook.db'), path.join(folder, `tarebook-demonstration-${stamp(at)}.db`));
      forgetLastLook(folder);
      // Whoever was signed in is nobody in the new logbook.
      for (const end of ['', '-wal', '-shm', '-journal']) {
        const sessions = path.join(folder, `sessions.db${end}`);
        if (existsSync(sessions)) rmSync(sessions);
      }
    } finally {
      release();
    }
  };
