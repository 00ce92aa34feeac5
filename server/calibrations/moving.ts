/** A step of a calibration from one state to another, with its entry in the journal. */
import type { Writing } from '../db/write.ts';
import { refreshDue } from '../glassware/store-due.ts';
import { hashOf } from '../journal/hash-of.ts';
import { withoutGaps } from '../journal/values.ts';
import type { CalibrationState } from './contract.ts';
import { insertAct } from './store-acts.ts';
import type { StoredCalibration } from './store.ts';

interface Step {
  act: string;
  state: CalibrationState;
  vesselVersion: number | null;
  reason: string | null;
  /** What the act settled or signed; kept with it, and told to the journal by its hash. Undefined where it never has any. */
  facts?: object | null;
}

export const moveCalibration = async (
  { trx, at, actor, journal }: Writing,
  stored: Pick<StoredCalibration, 'id' | 'state' | 'version'> & {
    vessel: Pick<StoredCalibration['vessel'], 'id'>;
    acts: readonly unknown[];
  },
  step: Step,
): Promise<{ status: 201; body: { id: string; state: CalibrationState; version: number } }> => {
  await insertAct(trx, { calibrationId: stored.id, number: stored.acts.length + 1, facts: null, ...step, at, actor });
  await refreshDue(trx, stored.vessel.id);
  const signed = step.facts !== undefined && step.facts !== null && 'meaning' in step.facts ? step.facts : {};
  journal({
    act: step.act,
    object: `calibration/${stored.id}`,
    before: { state: stored.state },
    after: withoutGaps({
      state: step.state,
      reason: step.reason ?? undefined,
      vesselVersion: step.vesselVersion ?? undefined,
      ...signed,
      ...(step.facts === undefined ? {} : { factsHash: step.facts && hashOf(step.facts) }),
    }),
  });
  return { status: 201, body: { id: stored.id, state: step.state, version: stored.version + 1 } };
};
