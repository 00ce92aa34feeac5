/** Checks a whole journal in a thread of its own. */
import { parentPort, workerData } from 'node:worker_threads';
import { connect } from '../db/connection.ts';
import { failedOf } from '../thread-failure.ts';
import { checkMoment } from './verify.ts';

const { file } = workerData as { file: string };
try {
  const handle = connect(file, { readOnly: true });
  try {
    const total = Number(handle.prepare('select count(*) from journal_entry').pluck().get());
    parentPort?.postMessage({ done: 0, total });
    const result = checkMoment(handle, { onProgress: (done) => parentPort?.postMessage({ done, total }) });
    parentPort?.postMessage({ result });
  } finally {
    handle.close();
  }
} catch (error) {
  parentPort?.postMessage({ failed: failedOf(error) });
}
