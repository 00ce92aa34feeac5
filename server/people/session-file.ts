/**
 * The file of sessions beside the logbook: who came in from which browser. It proves nothing, and is in no backup and no
 * export. Only hashes of what browsers hold are kept.
 */
import { rmSync } from 'node:fs';
import path from 'node:path';
import Database from 'better-sqlite3';

const SCHEMA = `
create table if not exists session (
  hash text primary key, person_id text not null, started_ms integer not null, seen_ms integer not null
) strict, without rowid;
create table if not exists device (
  hash text primary key, person_id text not null, seen_ms integer not null
) strict, without rowid;
create table if not exists class_session (
  hash text primary key, kind text not null, experiment_id text not null, group_id text, ends_ms integer not null
) strict, without rowid;
`;

const open = (file: string): Database.Database => {
  const handle = new Database(file);
  try {
    handle.pragma('journal_mode = wal');
    handle.pragma('synchronous = normal');
    handle.exec(SCHEMA);
    return handle;
  } catch (error) {
    handle.close();
    throw error;
  }
};

/** A damaged file costs nothing but signing in again. */
export const openSessionFile = (folder: string): Database.Database => {
  const file = path.join(folder, 'sessions.db');
  try {
    return open(file);
  } catch {
    for (const end of ['', '-wal', '-shm']) rmSync(file + end, { force: true });
    return open(file);
  }
};
