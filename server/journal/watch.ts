/**
 * What a start looks at: the entries written since the last look, and whether the last stop was a clean one. Both are
 * remembered in a small file beside the logbook, which is no evidence: without it everything is looked at once more.
 */
import { readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import type { Worker } from 'node:worker_threads';
import { z } from 'zod';
import type { Logbook } from '../db/logbook.ts';
import { SYSTEM_ACTOR } from '../db/write.ts';
import type { Failed } from '../thread-failure.ts';
import { startThread } from '../threads.ts';
import { isTooMuch, lookAt, MOST_AT_START, type Looked, type Most, type ToLookAt } from './look.ts';
import type { Fault } from './verify.ts';

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

const failed = (detail: string): Looked => ({
  fault: { number: null, fault: `The journal could not be read to its end: ${detail}.` },
  head: null,
  integrity: 'unknown',
});

/** Beside the open logbook; never refuses. */
const lookBeside = (what: ToLookAt): { looked: Promise<Looked>; thread: Worker } => {
  const thread = startThread(new URL('./look-worker.ts', import.meta.url), what);
  const looked = new Promise<Looked>((resolve) => {
    thread.on('message', (said: { looked: Looked } | { failed: Failed }) =>
      resolve('looked' in said ? said.looked : failed(said.failed.message)),
    );
    thread.once('error', (error) => resolve(failed(error.message)));
  });
  return { looked, thread };
};

export interface Watch {
  /** What is wrong with the journal; the server runs on, since the rest is evidence still. */
  fault: Fault | null;
  /** What a long look finds wrong, once it is over; null where the start has looked at everything already. */
  later: Promise<Fault | null> | null;
  /** Call on a clean stop, before the logbook is closed. */
  end(): void;
}

/**
 * Looks at the journal since the last look, and tells in it of a stop that was none of ours. A long look – after a
 * restore, or after a power cut with a large file – goes on beside the open logbook; a stop before its end leaves it
 * to the next start.
 */
export const watchFrom = async (logbook: Logbook, most: Most = MOST_AT_START): Promise<Watch> => {
  const file = stateFile(path.dirname(logbook.file));
  const before = readState(file);
  let state: State = { running: true, checked: before.checked };
  keepState(file, state);
  let isOwed = before.running;
  const settle = async ({ fault, head, integrity }: Looked): Promise<Fault | null> => {
    if (fault === null) state = { ...state, checked: head };
    keepState(file, state);
    isOwed = false;
    if (before.running)
      await logbook.write({ actor: SYSTEM_ACTOR, requestId: 'start' }, ({ journal }) => {
        journal({ act: 'unclean-stop-seen', object: 'logbook/1', before: null, after: { integrity } });
        return Promise.resolve({ status: 200, body: null });
      });
    return fault;
  };
  const end = (): void => keepState(file, { ...state, running: isOwed });
  const what: ToLookAt = { file: logbook.file, checked: before.checked, pages: before.running };
  if (!isTooMuch(what, most)) return { fault: await settle(lookAt(what)), later: null, end };
  const { looked, thread } = lookBeside(what);
  let isOver = false;
  return {
    fault: null,
    later: looked
      .then((found) => (isOver ? null : settle(found)))
      .catch((error: unknown) => (isOver ? null : failed(String(error)).fault)),
    end: () => {
      isOver = true;
      void thread.terminate();
      end();
    },
  };
};
