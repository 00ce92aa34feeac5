/** Backups: a whole copy of a logbook that may be written meanwhile, and the way back. */
import { createHash } from 'node:crypto';
import { createReadStream, existsSync, renameSync, rmSync, statSync } from 'node:fs';
import path from 'node:path';
import { pipeline } from 'node:stream/promises';
import { connect, queryBuilder, type Handle } from '../db/connection.ts';
import { takeLogbook } from '../db/lock.ts';
import { migrateToLatest, needsMigration } from '../db/migrate.ts';
import { journalAppender, type Head } from '../journal/store.ts';
import { checkJournal } from '../journal/verify.ts';
import { forgetLastLook } from '../journal/watch.ts';

/** Why a backup cannot be made or put in place; one plain sentence. */
export class BackupRefused extends Error {}

export interface Copied {
  file: string;
  head: Head | null;
  bytes: number;
  sha256: string;
}

const sha256Of = async (file: string): Promise<string> => {
  const hash = createHash('sha256');
  await pipeline(createReadStream(file), hash);
  return hash.digest('hex');
};

const headOf = (handle: Handle): Head | null =>
  handle.prepare<[], Head>('select number, hash from journal_entry order by number desc limit 1').get() ?? null;

const refuseDamaged = (handle: Handle, file: string): void => {
  const state = String(handle.pragma('integrity_check(1)', { simple: true }));
  if (state !== 'ok') throw new BackupRefused(`${file} is damaged: ${state}`);
};

/**
 * Copies the logbook as it stands at this moment, on a read-only connection of its own: the server may go on writing.
 * The copy is checked before it gets its name.
 */
export const backUp = async (logbook: string, file: string): Promise<Copied> => {
  if (existsSync(file)) throw new BackupRefused(`${file} is there already; a backup overwrites nothing.`);
  const part = `${file}.part`;
  rmSync(part, { force: true });
  try {
    const source = connect(logbook, { readOnly: true });
    try {
      source.prepare('vacuum into ?').run(part);
    } finally {
      source.close();
    }
    const copy = connect(part, { readOnly: false });
    let head: Head | null;
    try {
      refuseDamaged(copy, part);
      head = headOf(copy);
    } finally {
      copy.close();
    }
    renameSync(part, file);
    return { file, head, bytes: statSync(file).size, sha256: await sha256Of(file) };
  } finally {
    for (const end of ['', '-wal', '-shm', '-journal']) rmSync(`${part}${end}`, { force: true });
  }
};

export interface Restored {
  head: Head | null;
  /** Where the logbook that stood there before is now. */
  aside: string | null;
}

export const stamp = (at: Date): string => at.toISOString().replaceAll(/[:.]/g, '-');

/** Moves a closed logbook out of the way; its write-ahead log was merged when it was closed. */
export const setAside = (file: string, aside: string): { head: Head | null; aside: string } | null => {
  if (!existsSync(file)) return null;
  let head: Head | null = null;
  try {
    const handle = connect(file, { readOnly: false });
    try {
      head = headOf(handle);
      handle.pragma('wal_checkpoint(truncate)');
    } finally {
      handle.close();
    }
  } catch {
    // A logbook too damaged to open is set aside as it is: it may be why there is a restore.
  }
  for (const end of ['', '-wal', '-shm'])
    if (existsSync(`${file}${end}`)) renameSync(`${file}${end}`, `${aside}${end}`);
  return { head, aside };
};

const checkCandidate = async (file: string): Promise<void> => {
  const handle = connect(file, { readOnly: false });
  try {
    refuseDamaged(handle, 'The backup');
    await needsMigration(queryBuilder(handle));
    await migrateToLatest(queryBuilder(handle), handle, file);
    const { fault } = checkJournal(handle);
    if (fault) throw new BackupRefused(`The journal of the backup is not whole. ${fault.fault}`);
  } finally {
    handle.close();
  }
};

/** The entry that tells of it is the first after the backup's own head. */
const tell = (
  file: string,
  facts: { sha256: string; asideHead: Head | null; actor: string; reason: string; at: Date },
) => {
  const handle = connect(file, { readOnly: false });
  try {
    return handle.transaction(() =>
      journalAppender(handle)({
        at: facts.at.toISOString(),
        actor: facts.actor,
        act: 'restored',
        object: 'logbook/1',
        before: facts.asideHead && { ...facts.asideHead },
        after: { sha256: facts.sha256, reason: facts.reason },
        requestId: 'restore',
      }),
    )();
  } finally {
    handle.close();
  }
};

/**
 * Puts a backup in the place of the logbook of a folder, which nobody may have open.
 * @throws LogbookInUse, NewerLogbook, BackupRefused
 */
export const restore = async (
  file: string,
  folder: string,
  by: { actor: string; reason: string; at?: Date },
): Promise<Restored> => {
  const at = by.at ?? new Date();
  const place = path.join(folder, 'tarebook.db');
  const made = `${place}.restoring`;
  const release = takeLogbook(path.join(folder, 'tarebook.lock'));
  try {
    rmSync(made, { force: true });
    const source = connect(file, { readOnly: true });
    try {
      refuseDamaged(source, file);
      source.prepare('vacuum into ?').run(made);
    } finally {
      source.close();
    }
    await checkCandidate(made);
    const former = setAside(place, `${place}.before-restore-${stamp(at)}`);
    renameSync(made, place);
    forgetLastLook(folder);
    const sha256 = await sha256Of(file);
    const head = tell(place, { sha256, asideHead: former?.head ?? null, actor: by.actor, reason: by.reason, at });
    return { head, aside: former?.aside ?? null };
  } finally {
    for (const end of ['', '-wal', '-shm']) rmSync(`${made}${end}`, { force: true });
    release();
  }
};
