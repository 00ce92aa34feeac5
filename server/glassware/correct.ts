/** A vessel's revision: what is wrong with it or asked about it, its row, and its entry in the journal. */
import { askUnlessConfirmed } from '../confirm.ts';
import type { Writing } from '../db/write.ts';
import { questionsForVessel } from '../metrology/questions.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { changedVessel, changesTolerance, fieldChanges } from './change.ts';
import type { VesselChange } from './contract.ts';
import { duplicateTag, refuseUnfit } from './register.ts';
import { reviseVessel, vesselWithTag, type StoredVessel } from './store.ts';

/** @throws Problem where it cannot be so, or where something must be confirmed first */
export const correctVessel = async (
  { trx, at, actor, journal }: Writing,
  present: StoredVessel,
  change: VesselChange,
): Promise<StoredVessel> => {
  const stored = changedVessel(present, change, at, actor);
  const changes = fieldChanges(present, stored);
  refuseUnfit(stored);
  const holder = await vesselWithTag(trx, stored.tag);
  if (holder !== null && holder !== stored.id) throw duplicateTag(stored.tag);
  if (changesTolerance(changes)) askUnlessConfirmed(questionsForVessel(toleranceRows, stored), change);
  await reviseVessel(trx, stored);
  journal({
    act: 'vessel-corrected',
    object: `vessel/${stored.id}`,
    before: Object.fromEntries(changes.map(({ field, before }) => [field, before])),
    after: {
      ...Object.fromEntries(changes.map(({ field, after }) => [field, after])),
      version: stored.version,
      reason: change.reason,
      ...(change.confirm ? { confirm: change.confirm } : {}),
    },
  });
  return stored;
};
