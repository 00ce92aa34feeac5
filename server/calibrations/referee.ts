/** Runs the Monte Carlo referee beside the server, one after the other: it takes a core for itself. */
import { Worker } from 'node:worker_threads';
import type { CalibrationRecord } from '../metrology/record.ts';
import type { RefereeResult } from '../metrology/referee.ts';

const BUILT = new URL('./referee-worker.js', import.meta.url);

/** Tests and development run the sources themselves; a thread then needs the loader that understands them. */
const SOURCES = `import('tsx/esm/api').then((tsx) => tsx.tsImport('./referee-worker.ts', ${JSON.stringify(import.meta.url)}))`;

const newWorker = (workerData: object): Worker =>
  import.meta.url.endsWith('.ts') ? new Worker(SOURCES, { eval: true, workerData }) : new Worker(BUILT, { workerData });

const draw = (record: CalibrationRecord, index: number, seed: number): Promise<RefereeResult | null> =>
  new Promise((resolve, reject) => {
    const worker = newWorker({ record, index, seed });
    worker.once('message', (result: RefereeResult | null) => resolve(result));
    worker.once('error', reject);
    worker.once('exit', (code) => reject(new Error(`The referee ended with ${code} before it had a result.`)));
  });

let last: Promise<unknown> = Promise.resolve();

/** The referee's word on one point of a record; null where no trial of it counts. */
export const askReferee = (record: CalibrationRecord, index: number, seed: number): Promise<RefereeResult | null> => {
  const mine = last.then(() => draw(record, index, seed));
  last = mine.catch(() => undefined);
  return mine;
};
