import { numberOf } from './decimal.ts';
import type { Refusal } from './questions.ts';
import type { VesselFacts } from './record.ts';
import { findTolerance } from './tolerance.ts';
import type { ToleranceRow } from './tolerance.ts';

/** Kinds that may go without a tolerance: they are used with their own measured volume. */
const WITHOUT_TOLERANCE = new Set(['pycnometer', 'other']);

/** Fields of a vessel that cannot be taken as they are. Pointers are of a vessel body. */
export const refusalsForVessel = (rows: readonly ToleranceRow[], vessel: VesselFacts): Refusal[] => {
  const refusals: Refusal[] = [];
  if (!vessel.tolerance && !WITHOUT_TOLERANCE.has(vessel.kind))
    refusals.push({
      pointer: '#/tolerance',
      detail: 'Name the class and standard of this vessel, or the tolerance marked on it.',
    });
  const match = findTolerance(rows, vessel);
  if (match.outcome === 'ambiguous' || match.outcome === 'unknown')
    refusals.push({ pointer: match.pointer, detail: match.detail });
  if (vessel.material === 'other' && (vessel.expansionPerK === null || vessel.expansionPerK === undefined))
    refusals.push({
      pointer: '#/expansionPerK',
      detail: 'Type the cubic expansion coefficient per kelvin; for this material there is no usual value.',
    });
  const nominal = numberOf(vessel.nominalVolumeMl);
  if (vessel.divisionMl && numberOf(vessel.divisionMl) > nominal)
    refusals.push({ pointer: '#/divisionMl', detail: 'The division cannot be larger than the nominal volume.' });
  for (const [index, mark] of (vessel.marks ?? []).entries())
    if (numberOf(mark) > nominal)
      refusals.push({ pointer: `#/marks/${index}`, detail: `The mark ${mark} mL lies above the nominal volume.` });
  return refusals;
};
