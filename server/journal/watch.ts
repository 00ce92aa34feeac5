/**
 * What a start looks at: the entries written since the last look, and whether the last stop was a clean one. Both are
 * remembered in a small file beside the logbook, which is no evidence: without it everything is looked at once more.
 */
import { readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { z } from 'zod';
import { connect } from '../db/connection.ts';
import type { Logbook } from '../db/logbook.ts';
import { SYSTEM_ACTOR } from '../db/write.ts';
import type { Head } from './store.ts';
import { checkMoment, type Fault } from './verify.ts';

const state = z.object({
  running: z.boolean(),
  checked: z.object({ number: z.number().int(), hash: z.string() }).nullable(),
});
type State = z.infer<typeof state>;

const stateFile = (folder: string): string => path.join(folder, 'tarebook.state.json');

/** Another logbook stands in the folder now: nothing of it was looked at yet. */
export const forgetLastLook = (folder: string): void => rmSync(stateFile(folder), { force: true });

const readState = (file: string): State => {
  try {
    return state.parse(JSON.parse(readFileSync(file, 'utf8')));
  } catch {
    return { running: false, checked: null };
  }
};

/** In one step, so that a power cut leaves the old file or the new one. */
const keepState = (file: string, kept: State): void => {
  writeFileSync(`${file}.part`, JSON.stringify(kept));
  renameSync(`${file}.part`, file);
};

const look = (
  logbook: Logbook,
  { running, checked }: State,
): { fault: Fault | null; head: Head | null; integrity: string } => {
  const handle = connect(logbook.file, { readOnly: true });
  try {
    const integrity = running ? String(handle.pragma('quick_check(1)', { simple: true })) : 'ok';
    return { ...checkMoment(handle, { start: checked, evidence: false }), integrity };
  } finally {
    handle.close();
  }
};

export interface Watch {
  /** What is wrong with the journal; the server runs on, since the rest is evidence still. */
  fault: Fault | null;
  /** Call on a clean stop, before the logbook is closed. */
  end(): void;
}

/** Looks at the journal since the last look, and tells in it of a stop that was none of ours. */
export const watchFrom = async (logbook: Logbook): Promise<Watch> => {
  const file = stateFile(path.dirname(logbook.file));
  const before = readState(file);
  const { fault, head, integrity } = look(logbook, before);
  const checked = fault ? before.checked : head;
  keepState(file, { running: true, checked });
  if (before.running)
    await logbook.write({ actor: SYSTEM_ACTOR, requestId: 'start' }, ({ journal }) => {
      journal({ act: 'unclean-stop-seen', object: 'logbook/1', before: null, after: { integrity } });
      return Promise.resolve({ status: 200, body: null });
    });
  return {
    fault,
    end: () => keepState(file, { running: false, checked }),
  };
};
