/** A trial is recorded: its row, and the entry that tells of it with the formulas in force. */
import type { Writing } from '../db/write.ts';
import { withoutGaps } from '../journal/values.ts';
import type { TrialBody } from './contract.ts';
import { FORMULAS, insertTrial } from './store-acts.ts';

interface Recorded {
  calibrationId: string;
  number: number;
  body: TrialBody;
  requestKey: string;
}

export const recordTrial = async ({ trx, at, actor, journal }: Writing, trial: Recorded): Promise<void> => {
  await insertTrial(trx, { ...trial, at, actor });
  const { calibrationId, number, body } = trial;
  journal({
    act: 'trial-recorded',
    object: `calibration/${calibrationId}`,
    before: null,
    after: withoutGaps({ number, ...body, formulas: FORMULAS }),
  });
};
