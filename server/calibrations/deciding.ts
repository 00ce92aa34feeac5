/** What becomes of a vessel that does not pass: taken down a class, taken out of use, sent back, or kept all the same. */
import type { Writing } from '../db/write.ts';
import type { DecisionBody } from '../glassware/contract-decisions.ts';
import { correctVessel } from '../glassware/correct.ts';
import type { VesselChange } from '../glassware/contract.ts';
import { insertDecision, type Downgrade } from '../glassware/store-decisions.ts';
import { findVessel, type StoredVessel } from '../glassware/store.ts';
import { withoutGaps } from '../journal/values.ts';
import { evaluate } from '../metrology/evaluate.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { asksForDecision } from '../metrology/verdict.ts';
import { invalid, notFound, Problem } from '../problem.ts';
import { findForResult, type PooledCalibration } from './store-pool.ts';

const calibrationOf = async (writing: Writing, vessel: StoredVessel, id: string): Promise<PooledCalibration> => {
  const stored = await findForResult(writing.trx, id);
  if (stored?.vessel.id !== vessel.id)
    throw invalid([{ pointer: '#/calibrationId', detail: `${vessel.tag} has no calibration with this id.` }]);
  if (stored.state === 'open' || stored.state === 'abandoned')
    throw new Problem('state-conflict', { detail: 'Decide when its measuring has ended.' });
  return stored;
};

/** No class is worked out from another: what was measured must pass the other class by the same rule. */
const downgradeTo = (vessel: StoredVessel, stored: PooledCalibration, to: string): Downgrade => {
  const refused = (detail: string) => invalid([{ pointer: '#/class', detail }]);
  const { tolerance } = vessel;
  if (tolerance?.class == null || tolerance.markedMl != null || tolerance.markedPercent != null)
    throw refused(`${vessel.tag} is judged by what is marked on it, which no class replaces.`);
  if (tolerance.class === to) throw refused(`${vessel.tag} is of class ${to} already.`);
  const asOther = { ...stored.record.vessel, tolerance: { ...tolerance, class: to } };
  const { verdict, points } = evaluate({ ...stored.record, vessel: asOther }, toleranceRows);
  const limits = evaluate(stored.record, toleranceRows).points.map(({ toleranceMl }) => toleranceMl ?? 0);
  if (points.some(({ toleranceMl }, index) => toleranceMl === null || toleranceMl <= (limits[index] ?? 0)))
    throw refused(`${tolerance.standard ?? ''} has no wider class ${to} for this vessel.`);
  if (verdict !== 'pass') throw refused(`${vessel.tag} does not pass class ${to} either, by what was measured.`);
  return { from: tolerance.class, to };
};

const changeBy = (vessel: StoredVessel, body: DecisionBody): VesselChange | null => {
  const { decision, reason } = body;
  if (decision === 'keep') return null;
  if (decision === 'downgrade') {
    const { standard, edition } = vessel.tolerance ?? {};
    return { tolerance: { standard: standard ?? undefined, edition: edition ?? undefined, class: body.class }, reason };
  }
  return vessel.inUse ? { inUse: false, reason } : null;
};

/** @throws Problem where there is nothing to decide, or where the class does not bear it */
export const decide = async (writing: Writing, vesselId: string, body: DecisionBody) => {
  const { trx, at, actor, journal } = writing;
  const vessel = await findVessel(trx, vesselId);
  if (!vessel) throw notFound('vessel');
  const stored = await calibrationOf(writing, vessel, body.calibrationId);
  const { verdict } = stored.frozen ?? evaluate(stored.record, toleranceRows);
  if (!asksForDecision(verdict))
    throw new Problem('state-conflict', { detail: 'There is nothing to decide: this calibration passes.' });
  const facts = body.class === undefined ? null : downgradeTo(vessel, stored, body.class);
  const { decision, calibrationId, reason } = body;
  const number = await insertDecision(trx, { vesselId, calibrationId, decision, facts, reason, at, by: actor });
  journal({
    act: 'vessel-decided',
    object: `vessel/${vesselId}`,
    before: null,
    after: withoutGaps({ number, calibrationId, decision, facts: facts && { ...facts }, reason }),
  });
  const change = changeBy(vessel, body);
  const after = change === null ? vessel : await correctVessel(writing, vessel, change);
  return { number, version: after.version, inUse: after.inUse };
};
