/** Draws in a thread of its own, so that no request waits for it. */
import { parentPort, workerData } from 'node:worker_threads';
import type { CalibrationRecord } from '../metrology/record.ts';
import { refereeOf, refereePoint } from '../metrology/referee.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';

const { record, index, seed } = workerData as { record: CalibrationRecord; index: number; seed: number };
const point = refereePoint(record, toleranceRows, index);
parentPort?.postMessage(point === null ? null : refereeOf(point, seed));
