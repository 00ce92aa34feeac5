/** Steps of a calibration that one vessel takes alone, or many of a lot together: each with its entry in the journal. */
import { askUnlessConfirmed } from '../confirm.ts';
import type { Writing } from '../db/write.ts';
import { setLatestCalibration } from '../glassware/store.ts';
import { withoutGaps } from '../journal/values.ts';
import { evaluate } from '../metrology/evaluate.ts';
import { questionsForAir, refusalsForAir } from '../metrology/questions.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { invalid } from '../problem.ts';
import type { ConditionsBody } from './contract.ts';
import { moveCalibration } from './moving.ts';
import { requireOpen, requireState } from './states.ts';
import { insertConditionReading } from './store-acts.ts';
import type { PooledCalibration } from './store-pool.ts';
import { latestCalibrationOf, type StoredCalibration } from './store.ts';

/** As many trials count as were planned at each point. */
export const isFulfilled = (stored: StoredCalibration): boolean => evaluate(stored.record, toleranceRows).final;

/** The calibration leaves the bench; leaving before the plan is fulfilled never goes without saying why. */
export const finishMeasuring = async (writing: Writing, stored: PooledCalibration, reason: string | undefined) => {
  requireState(stored.state, ['open'], 'only an open one can be finished');
  if (reason === undefined && !isFulfilled(stored)) {
    const detail = `Fewer trials count than the ${stored.record.plannedTrials} planned for each point. Say why it ends here.`;
    throw invalid([{ pointer: '#/reason', detail }]);
  }
  return moveCalibration(writing, stored, {
    act: 'calibration-measured',
    state: 'measured',
    vesselVersion: stored.vessel.version,
    reason: reason ?? null,
    facts: stored.pool && { pool: stored.pool },
  });
};

export const abandonCalibration = async (writing: Writing, stored: StoredCalibration, reason: string) => {
  const step = { act: 'calibration-abandoned', state: 'abandoned', vesselVersion: stored.vessel.version } as const;
  const saved = await moveCalibration(writing, stored, { ...step, reason });
  const latest = await latestCalibrationOf(writing.trx, stored.vessel.id);
  await setLatestCalibration(writing.trx, stored.vessel.id, latest);
  return saved;
};

/** Air read again: it holds for the trials that follow. */
export const readConditions = async (
  { trx, at, actor, journal }: Writing,
  stored: StoredCalibration,
  body: ConditionsBody,
): Promise<void> => {
  requireOpen(stored.state);
  const { confirm: _confirm, ...conditions } = body;
  const refusals = refusalsForAir(stored.record, conditions, '#');
  if (refusals.length > 0) throw invalid(refusals);
  askUnlessConfirmed(questionsForAir(stored.record, conditions, '#'), body);
  const number = stored.record.conditionReadings.length + 1;
  const afterTrial = stored.trialsRecorded;
  await insertConditionReading(trx, { calibrationId: stored.id, number, afterTrial, conditions, at, actor });
  journal({
    act: 'conditions-read',
    object: `calibration/${stored.id}`,
    before: null,
    after: withoutGaps({ afterTrial, ...conditions }),
  });
};
