/** Stored instruments as the wire shows them. */
import { subtractDecimals } from '../metrology/decimal.ts';
import type { Instrument, InstrumentCheck } from './contract.ts';
import type { StoredCheck, StoredInstrument } from './store.ts';

export const instrumentOnWire = (stored: StoredInstrument, today: string): Instrument => ({
  ...stored.facts,
  id: stored.id,
  version: stored.version,
  inUse: stored.inUse,
  overdue: stored.facts.dueOn !== undefined && stored.facts.dueOn < today,
  recordedAt: stored.recordedAt,
  recordedBy: stored.recordedBy,
});

export const checkOnWire = (check: StoredCheck): InstrumentCheck => ({
  ...check,
  difference: subtractDecimals(check.reading, check.referenceValue).text,
});
