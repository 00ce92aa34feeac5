/** The folder of the backups and the names in it. Only files of these names are ever listed, put back or removed. */
import { accessSync, constants, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { z } from 'zod';
import type { Backup } from './contract.ts';
import { BackupRefused, stamp, type Copied } from './copy.ts';

const NAME = /^tarebook-(\d{4}-\d\d-\d\d)T(\d\d)-(\d\d)-(\d\d)-(\d{3})Z\.db$/;

export const isBackupName = (name: string): boolean => NAME.test(name);
export const backupName = (at: Date): string => `tarebook-${stamp(at)}.db`;
const momentOf = (name: string): string => name.replace(NAME, '$1T$2:$3:$4.$5Z');

const noteName = (name: string): string => name.replace(/\.db$/, '.json');
const note = z.object({ head: z.object({ number: z.number().int(), hash: z.string() }).nullable() });

/** A note beside each backup tells what is in it, so that a list need not open every file. */
export const keepNote = (folder: string, { file, head, bytes, sha256 }: Copied): void =>
  writeFileSync(path.join(folder, noteName(path.basename(file))), `${JSON.stringify({ head, bytes, sha256 })}\n`);

const headIn = (folder: string, name: string): Backup['head'] => {
  try {
    return note.parse(JSON.parse(readFileSync(path.join(folder, noteName(name)), 'utf8'))).head;
  } catch {
    return null;
  }
};

/** @throws BackupRefused */
export const prepareFolder = (folder: string): void => {
  try {
    mkdirSync(folder, { recursive: true });
    accessSync(folder, constants.W_OK);
  } catch {
    throw new BackupRefused(`The folder ${folder} for backups cannot be written.`);
  }
};

/** A folder that is not there yet, or that is none, holds no backup. */
const namesIn = (folder: string): string[] => {
  try {
    return readdirSync(folder).filter(isBackupName).sort().reverse();
  } catch {
    return [];
  }
};

/** Newest first. */
export const listBackups = (folder: string): Backup[] =>
  namesIn(folder).map((file) => ({
    file,
    at: momentOf(file),
    bytes: statSync(path.join(folder, file)).size,
    head: headIn(folder, file),
  }));

export const newestAt = (folder: string): Date | null => {
  const [newest] = namesIn(folder);
  return newest === undefined ? null : new Date(momentOf(newest));
};

export const removeBackup = (folder: string, name: string): void => {
  for (const one of [name, `${name}-wal`, `${name}-shm`, noteName(name)])
    rmSync(path.join(folder, one), { force: true });
};

/** Keeps the newest; files of other names are none of ours. */
export const removeOlder = (folder: string, kept: number): void => {
  for (const name of namesIn(folder).slice(kept)) removeBackup(folder, name);
};

/** What a stop in the middle of a copy left. */
export const removeUnfinished = (folder: string): void => {
  for (const name of readdirSync(folder))
    if (isBackupName(name.replace(/\.part(?:-wal|-shm|-journal)?$/, '')) && name.includes('.part'))
      rmSync(path.join(folder, name), { force: true });
};
