/** Stored instruments as the wire shows them. */
import type { Instrument } from './contract.ts';
import type { StoredInstrument } from './store.ts';

export const instrumentOnWire = (stored: StoredInstrument, today: string): Instrument => ({
  ...stored.facts,
  id: stored.id,
  version: stored.version,
  inUse: stored.inUse,
  overdue: stored.facts.dueOn !== undefined && stored.facts.dueOn < today,
  recordedAt: stored.recordedAt,
  recordedBy: stored.recordedBy,
});
