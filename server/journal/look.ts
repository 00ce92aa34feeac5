/** A look at what a start has to look at: the entries since the last look, and the file itself after an unclean stop. */
import { statSync } from 'node:fs';
import { connect } from '../db/connection.ts';
import type { Head } from './store.ts';
import { checkMoment, type Fault } from './verify.ts';

export interface ToLookAt {
  file: string;
  /** The head up to which all was found whole; null: nothing was looked at yet. */
  checked: Head | null;
  /** The last stop was none of ours, so the pages of the file are looked at too. */
  pages: boolean;
}

export interface Looked {
  fault: Fault | null;
  head: Head | null;
  /** What SQLite says of the file: `ok`, or its first complaint. */
  integrity: string;
}

/** How much a start may look at before it opens; the rest is looked at beside the open logbook. */
export interface Most {
  entries: number;
  bytes: number;
}

/** About a second of a small machine. */
export const MOST_AT_START: Most = { entries: 20_000, bytes: 128 * 1024 * 1024 };

export const isTooMuch = ({ file, checked, pages }: ToLookAt, most: Most): boolean => {
  if (pages && statSync(file).size > most.bytes) return true;
  const handle = connect(file, { readOnly: true });
  try {
    const last = handle.prepare<[], number>('select number from journal_entry order by number desc limit 1').pluck();
    return (last.get() ?? 0) - (checked?.number ?? 0) > most.entries;
  } finally {
    handle.close();
  }
};

export const lookAt = ({ file, checked, pages }: ToLookAt): Looked => {
  const handle = connect(file, { readOnly: true });
  try {
    const integrity = pages ? String(handle.pragma('quick_check(1)', { simple: true })) : 'ok';
    return { ...checkMoment(handle, { start: checked, evidence: false }), integrity };
  } finally {
    handle.close();
  }
};
