/** A look at the journal that would keep a start waiting, in a thread of its own. */
import { parentPort, workerData } from 'node:worker_threads';
import { failedOf } from '../thread-failure.ts';
import { lookAt, type ToLookAt } from './look.ts';

try {
  parentPort?.postMessage({ looked: lookAt(workerData as ToLookAt) });
} catch (error) {
  parentPort?.postMessage({ failed: failedOf(error) });
}
