/**
 * Papers made beside the server: setting one takes up to some seconds, and nobody else's request waits for that. The
 * thread stays, since it starts slower than it sets a page, and never keeps the program from ending.
 */
import type { Worker } from 'node:worker_threads';
import type { ClassPaperInput } from '../../experiments/papers/class-paper.ts';
import type { ReportInput } from '../../experiments/papers/report.ts';
import type { WorksheetInput } from '../../experiments/papers/worksheet.ts';
import type { LabelSheetInput } from '../../labels/sheet.ts';
import type { RecordingSheetInput } from '../../recording-sheets/sheet.ts';
import type { BenchSheetInput } from '../../solutions/papers/bench-sheet.ts';
import type { PreparationPaper } from '../../solutions/papers/facts.ts';
import { errorOf, type Failed } from '../../thread-failure.ts';
import { startThread } from '../../threads.ts';
import type { Issued, IssueEntry } from '../issued.ts';
import type { HistoryInput } from './history.ts';
import type { TermInput } from './term.ts';

export type Paperwork =
  | { kind: 'certificate'; issued: Issued; entry: IssueEntry; xml: Uint8Array }
  | { kind: 'history'; input: HistoryInput }
  | { kind: 'term'; input: TermInput }
  | { kind: 'bench-sheet'; input: BenchSheetInput }
  | { kind: 'class-report'; input: ReportInput }
  | { kind: 'class-worksheet'; input: WorksheetInput }
  | { kind: 'class-sheet'; input: ClassPaperInput }
  | { kind: 'labels'; input: LabelSheetInput }
  | { kind: 'recording-sheets'; input: RecordingSheetInput }
  | { kind: 'preparation-label' | 'preparation-sheet'; input: PreparationPaper };

type Said = { ticket: number; bytes: Uint8Array } | { ticket: number; failed: Failed };

interface Waiting {
  resolve: (bytes: Buffer) => void;
  reject: (error: Error) => void;
}

let worker: Worker | null = null;
let lastTicket = 0;
const waiting = new Map<number, Waiting>();

const settle = (said: Said): void => {
  const one = waiting.get(said.ticket);
  waiting.delete(said.ticket);
  if (waiting.size === 0) worker?.unref();
  if ('failed' in said) one?.reject(errorOf(said.failed));
  else one?.resolve(Buffer.from(said.bytes));
};

/** The next paper gets a new thread. */
const lose = (error: Error): void => {
  worker = null;
  for (const { reject } of waiting.values()) reject(error);
  waiting.clear();
};

const started = (): Worker => {
  const thread = startThread(new URL('./pdf-worker.ts', import.meta.url), {});
  thread.on('message', settle);
  thread.once('error', lose);
  thread.once('exit', () => {
    if (worker === thread) lose(new Error('The thread that sets papers ended.'));
  });
  return thread;
};

/** @throws what setting it threw */
export const makePdf = (paper: Paperwork): Promise<Buffer> =>
  new Promise((resolve, reject) => {
    worker ??= started();
    lastTicket += 1;
    waiting.set(lastTicket, { resolve, reject });
    worker.ref();
    worker.postMessage({ ticket: lastTicket, paper });
  });
