/** A vessel comes into the register: what is wrong with it or asked about it, its rows, and its entry in the journal. */
import { askUnlessConfirmed } from '../confirm.ts';
import type { Writing } from '../db/write.ts';
import { withoutGaps } from '../journal/values.ts';
import { questionsForVessel } from '../metrology/questions.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { refusalsForVessel } from '../metrology/vessel-refusals.ts';
import { invalid, Problem } from '../problem.ts';
import type { VesselBody } from './contract.ts';
import { insertVessel, newVessel, vesselWithTag, type StoredVessel } from './store.ts';

export const duplicateTag = (tag: string): Problem => {
  const detail = `The tag ${tag} belongs, or once belonged, to another vessel.`;
  return new Problem('duplicate', { detail, errors: [{ pointer: '#/tag', detail }] });
};

export const refuseUnfit = (stored: StoredVessel): void => {
  const refusals = refusalsForVessel(toleranceRows, stored);
  if (refusals.length > 0) throw invalid(refusals);
};

/** Its rows and its entry, once nothing stands in the way. */
export const enterVessel = async ({ trx, journal }: Writing, stored: StoredVessel, body: VesselBody): Promise<void> => {
  await insertVessel(trx, stored);
  const after = withoutGaps(stored.lotId === null ? body : { ...body, lotId: stored.lotId });
  journal({ act: 'vessel-registered', object: `vessel/${stored.id}`, before: null, after });
};

/** @throws Problem where it cannot be registered so, or where something must be confirmed first */
export const registerVessel = async (writing: Writing, body: VesselBody, id: string): Promise<StoredVessel> => {
  const { trx, at, actor } = writing;
  const stored = newVessel(body, { id, at, actor });
  refuseUnfit(stored);
  if (await vesselWithTag(trx, body.tag)) throw duplicateTag(body.tag);
  askUnlessConfirmed(questionsForVessel(toleranceRows, stored), body);
  await enterVessel(writing, stored, body);
  return stored;
};
