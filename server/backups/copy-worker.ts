/** Copies a logbook in a thread of its own: copying and checking are one long step each. */
import { parentPort, workerData } from 'node:worker_threads';
import { failedOf } from '../thread-failure.ts';
import { backUp } from './copy.ts';

const { logbook, file } = workerData as { logbook: string; file: string };
try {
  parentPort?.postMessage({ copied: await backUp(logbook, file) });
} catch (error) {
  parentPort?.postMessage({ failed: failedOf(error) });
}
