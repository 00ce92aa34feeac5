/** A delivery is accepted, sent back or to be tested piece by piece; one decision for many vessels that do not pass. */
import { decide } from '../calibrations/deciding.ts';
import { abandonCalibration } from '../calibrations/steps.ts';
import { loadCalibrations } from '../calibrations/store.ts';
import type { Writing } from '../db/write.ts';
import { correctVessel } from '../glassware/correct.ts';
import { findVessel } from '../glassware/store.ts';
import { withoutGaps } from '../journal/values.ts';
import { asksForDecision } from '../metrology/verdict.ts';
import { invalid, notFound, Problem, type FieldProblem } from '../problem.ts';
import type { LotCounts, LotDecisionBody, VesselDecisionsBody } from './contract-decision.ts';
import type { LotVessel, LotWithVessels } from './contract.ts';
import { insertLotDecision } from './store-decisions.ts';
import { openCalibrationsOf } from './store-rounds.ts';
import type { StoredLot } from './store.ts';
import { isOutOfUse, isTested, lotOnWire } from './view.ts';

const countsOf = ({ vessels }: LotWithVessels): LotCounts => {
  const tested = vessels.filter(isTested);
  return {
    vessels: vessels.length,
    tested: tested.length,
    notPassing: tested.filter(({ latest }) => asksForDecision(latest?.verdict ?? null)).length,
    outOfUse: vessels.filter(isOutOfUse).length,
  };
};

/** What is still at the bench ends, what does not pass is decided about, everything leaves use. */
const sendBack = async (writing: Writing, vessel: LotVessel, reason: string): Promise<void> => {
  const open = await loadCalibrations(writing.trx, await openCalibrationsOf(writing.trx, vessel.id), { trials: false });
  for (const stored of open.values()) await abandonCalibration(writing, stored, reason);
  if (vessel.asksForDecision && vessel.latest !== null) {
    await decide(writing, vessel.id, { decision: 'send-back', calibrationId: vessel.latest.id, reason });
    return;
  }
  const stored = await findVessel(writing.trx, vessel.id);
  if (!stored) throw notFound('vessel');
  await correctVessel(writing, stored, { inUse: false, reason });
};

/** @throws Problem where the plan tests more vessels than the lot has */
export const decideLot = async (writing: Writing, lot: StoredLot, body: LotDecisionBody) => {
  const { trx, at, actor, journal } = writing;
  const standing = await lotOnWire(trx, lot);
  const counts = countsOf(standing);
  const { decision, reason } = body;
  const plan = body.plan ?? null;
  const most = `The delivery has ${counts.vessels} vessels.`;
  if (plan !== null && plan.sampleSize > counts.vessels)
    throw invalid([{ pointer: '#/plan/sampleSize', detail: most }]);
  if (plan !== null && plan.limiting > counts.vessels) throw invalid([{ pointer: '#/plan/limiting', detail: most }]);
  const number = await insertLotDecision(trx, { lotId: lot.id, decision, plan, counts, reason, at, by: actor });
  journal({
    act: 'lot-decided',
    object: `lot/${lot.id}`,
    before: null,
    after: withoutGaps({ number, decision, plan: plan && { ...plan }, counts: { ...counts }, reason }),
  });
  const leaving = decision === 'reject' ? standing.vessels.filter((vessel) => !isOutOfUse(vessel)) : [];
  for (const vessel of leaving) await sendBack(writing, vessel, reason);
  return { number, outOfUse: leaving.map(({ id }) => id) };
};

const askedAmong = (vessels: readonly LotVessel[], lot: StoredLot, named: string[] | undefined): LotVessel[] => {
  const asked = vessels.filter((vessel) => vessel.asksForDecision);
  if (named === undefined) {
    if (asked.length > 0) return asked;
    const detail = `No vessel of ${lot.name} waits for a decision.`;
    throw new Problem('state-conflict', { detail });
  }
  const refused: FieldProblem[] = [];
  const chosen = named.flatMap((vesselId, index) => {
    const pointer = `#/vesselIds/${index}`;
    const vessel = vessels.find(({ id }) => id === vesselId);
    if (!vessel) refused.push({ pointer, detail: `There is no vessel with the id ${vesselId} in ${lot.name}.` });
    else if (named.indexOf(vesselId) !== index) refused.push({ pointer, detail: `${vessel.tag} is named twice.` });
    else if (!vessel.asksForDecision) refused.push({ pointer, detail: `${vessel.tag} waits for no decision.` });
    return vessel ?? [];
  });
  if (refused.length > 0) throw invalid(refused);
  return chosen;
};

/** The same for each of them, all or none: what does not bear the class is named, vessel by vessel. */
export const decideVessels = async (writing: Writing, lot: StoredLot, body: VesselDecisionsBody) => {
  const { vesselIds, ...decision } = body;
  const { vessels } = await lotOnWire(writing.trx, lot);
  const refused: FieldProblem[] = [];
  const decided: { id: string; tag: string; number: number; inUse: boolean }[] = [];
  for (const { id, tag, latest } of askedAmong(vessels, lot, vesselIds)) {
    try {
      const { number, inUse } = await decide(writing, id, { ...decision, calibrationId: latest?.id ?? '' });
      decided.push({ id, tag, number, inUse });
    } catch (error) {
      if (!(error instanceof Problem) || error.code !== 'validation-failed') throw error;
      refused.push(...(error.extras.errors ?? []));
    }
  }
  if (refused.length > 0) throw invalid(refused);
  return { decision: decision.decision, vessels: decided };
};
