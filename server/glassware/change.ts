/** What a change of a vessel makes of it, and what changed, field by field. */
import type { VesselChange } from './contract.ts';
import type { StoredVessel } from './store.ts';

const CHANGEABLE = [
  'tag',
  'kind',
  'nominalVolumeMl',
  'basis',
  'tolerance',
  'material',
  'expansionPerK',
  'referenceTemperatureC',
  'divisionMl',
  'marks',
  'neckDiameterMm',
  'expectedSpreadMl',
  'waitingTimeS',
  'serial',
  'maker',
  'location',
  'acquiredOn',
  'channels',
  'blowOut',
  'intervalMonths',
  'intervalReason',
  'inUse',
] as const;
const RECORDED = [...CHANGEABLE, 'note'] as const;

export const changedVessel = (present: StoredVessel, change: VesselChange, at: string, actor: string): StoredVessel => {
  const next: StoredVessel = { ...present };
  for (const field of CHANGEABLE)
    if (change[field] !== undefined) Object.assign(next, { [field]: change[field] === '' ? null : change[field] });
  return {
    ...next,
    version: present.version + 1,
    note: change.note ? change.note : present.note,
    reason: change.reason,
    recordedAt: at,
    recordedBy: actor,
  };
};

const asText = (value: unknown): string | null =>
  value === null || value === undefined ? null : typeof value === 'string' ? value : JSON.stringify(value);

export interface FieldChange {
  field: string;
  before: string | null;
  after: string | null;
}

export const fieldChanges = (before: StoredVessel, after: StoredVessel): FieldChange[] =>
  RECORDED.map((field) => ({ field, before: asText(before[field]), after: asText(after[field]) })).filter(
    (change) => change.before !== change.after,
  );

/** What a tolerance is looked up by: while none of it changes, a marked tolerance needs no second look. */
const JUDGED_BY = new Set(['kind', 'nominalVolumeMl', 'basis', 'tolerance', 'divisionMl']);

export const changesTolerance = (changes: readonly FieldChange[]): boolean =>
  changes.some((change) => JUDGED_BY.has(change.field));
