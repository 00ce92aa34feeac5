/** Makes an export in a thread of its own and hands it on piece by piece, as fast as it is taken. */
import { parentPort, workerData } from 'node:worker_threads';
import { connect } from '../db/connection.ts';
import { failedOf } from '../thread-failure.ts';
import { archive } from './archive.ts';
import { planOf, rowsOfPlan } from './plan.ts';
import type { Filter } from './selection.ts';

const { file, filter, certificates, workbook, at } = workerData as {
  file: string;
  filter: Filter;
  certificates: boolean;
  workbook: boolean;
  at: Date;
};
/** Pieces on the way that were not taken yet. */
const MOST_UNTAKEN = 16;
const PIECE_BYTES = 65_536;
const SAY_EVERY_MS = 200;

let untaken = 0;
let go: () => void = () => undefined;
parentPort?.on('message', () => {
  untaken -= 1;
  go();
});

const give = async (pieces: Buffer[]): Promise<void> => {
  const piece = Buffer.concat(pieces);
  if (piece.length === 0) return;
  while (untaken >= MOST_UNTAKEN) await new Promise<void>((resolve) => (go = resolve));
  untaken += 1;
  parentPort?.postMessage({ piece });
};

const make = async (): Promise<void> => {
  const handle = connect(file, { readOnly: true });
  try {
    // Counted once the first bytes have left: with millions of rows that takes its time.
    let total = 0;
    let said = 0;
    const onProgress = (done: number): void => {
      if (Date.now() - said < SAY_EVERY_MS) return;
      said = Date.now();
      parentPort?.postMessage({ done, total });
    };
    const { output, head } = archive(handle, { filter, certificates, workbook, at, onProgress });
    parentPort?.postMessage({ head, total });
    let waiting: Buffer[] = [];
    let bytes = 0;
    // The first bytes leave at once: whoever waits sees that it began.
    let enough = 1;
    for await (const chunk of output as AsyncIterable<Buffer>) {
      waiting.push(chunk);
      bytes += chunk.length;
      if (bytes < enough) continue;
      await give(waiting);
      [waiting, bytes, enough] = [[], 0, PIECE_BYTES];
      if (total > 0) continue;
      total = rowsOfPlan(planOf(handle, filter, certificates));
      parentPort?.postMessage({ head, total });
    }
    await give(waiting);
    parentPort?.postMessage({ end: true });
  } finally {
    handle.close();
  }
};

try {
  await make();
} catch (error) {
  parentPort?.postMessage({ failed: failedOf(error) });
} finally {
  parentPort?.close();
}
