/** A vessel looked over before its first trial; a damaged one leaves the bench and the shelf in the same write. */
import { abandonCalibration } from '../calibrations/steps.ts';
import { loadCalibrations } from '../calibrations/store.ts';
import type { Writing } from '../db/write.ts';
import { correctVessel } from '../glassware/correct.ts';
import { findVessel } from '../glassware/store.ts';
import { withoutGaps } from '../journal/values.ts';
import { invalid, notFound, Problem } from '../problem.ts';
import type { InspectionBody } from './contract.ts';
import { insertInspection } from './store-inspections.ts';
import { openCalibrationsOf } from './store-rounds.ts';

/** Why a damaged vessel leaves, in the words the record keeps. */
const damageOf = ({ findings, note }: InspectionBody): string => {
  const seen = [findings.chips ? 'chipped' : '', findings.cracks ? 'cracked' : ''].filter((word) => word !== '');
  const what = seen.length === 0 ? 'damaged' : seen.join(' and ');
  return `Looked over and found ${what}.${note ? ` ${note.replaceAll(/\s+/g, ' ')}` : ''}`.slice(0, 500);
};

export const inspect = async (writing: Writing, vesselId: string, body: InspectionBody) => {
  const { trx, at, actor, journal } = writing;
  const vessel = await findVessel(trx, vesselId);
  if (!vessel) throw notFound('vessel');
  if (!vessel.inUse)
    throw new Problem('state-conflict', { detail: `${vessel.tag} is out of use; put it back into use first.` });
  const open = await openCalibrationsOf(trx, vesselId);
  const { calibrationId } = body;
  if (calibrationId !== undefined && !open.includes(calibrationId)) {
    const detail = `${vessel.tag} has no open calibration with this id.`;
    throw invalid([{ pointer: '#/calibrationId', detail }]);
  }
  const said = { findings: body.findings, outcome: body.outcome, note: body.note || null };
  const inspection = { ...said, vesselId, calibrationId: calibrationId ?? null, at, by: actor };
  const number = await insertInspection(trx, inspection);
  journal({
    act: 'vessel-inspected',
    object: `vessel/${vesselId}`,
    before: null,
    after: withoutGaps({ ...said, number, calibrationId: inspection.calibrationId }),
  });
  if (body.outcome === 'damaged') {
    const reason = damageOf(body);
    const loaded = await loadCalibrations(trx, open, { trials: false });
    for (const stored of loaded.values()) await abandonCalibration(writing, stored, reason);
    await correctVessel(writing, vessel, { inUse: false, reason });
  }
  return { number, abandoned: body.outcome === 'damaged' ? open : [] };
};
