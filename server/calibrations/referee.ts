/** Runs the Monte Carlo referee beside the server, one after the other: it takes a core for itself. */
import type { CalibrationRecord } from '../metrology/record.ts';
import type { RefereeResult } from '../metrology/referee.ts';
import { startThread } from '../threads.ts';

const draw = (record: CalibrationRecord, index: number, seed: number): Promise<RefereeResult | null> =>
  new Promise((resolve, reject) => {
    const worker = startThread(new URL('./referee-worker.ts', import.meta.url), { record, index, seed });
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
