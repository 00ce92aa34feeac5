/** Runs the Monte Carlo referee beside the server, one after the other: it takes a core for itself. */
import { Worker } from 'node:worker_threads';
import type { CalibrationRecord } from '../metrology/record.ts';
import type { RefereeResult } from '../metrology/referee.ts';

/** Sources are run by tests and while developing; a thread needs the same loader then. */
const fromSources = import.meta.url.endsWith('.ts');
const file = new URL(fromSources ? './referee-worker.ts' : './referee-worker.js', import.meta.url);

const draw = (record: CalibrationRecord, index: number, seed: number): Promise<RefereeResult | null> =>
  new Promise((resolve, reject) => {
    const worker = new Worker(file, {
      workerData: { record, index, seed },
      ...(fromSources ? { execArgv: ['--import', 'tsx'] } : {}),
    });
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
