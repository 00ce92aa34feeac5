/** What tolerance judges a vessel, where it comes from, and what must be asked or refused before it is kept. */
import { numberOf } from '../metrology/decimal.ts';
import type { VesselFacts } from '../metrology/record.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { findTolerance, rowToleranceMl, toleranceMlAt } from '../metrology/tolerance.ts';
import { type FieldProblem } from '../problem.ts';
import type { ToleranceSource } from './contract.ts';

export interface JudgingTolerance {
  toleranceMl: number | null;
  toleranceSource: ToleranceSource;
}

/** The tolerance at the nominal volume and its origin; a vessel whose row cannot be found has none. */
export const judgingTolerance = (vessel: VesselFacts): JudgingTolerance => {
  const match = findTolerance(toleranceRows, vessel);
  const row = match.outcome === 'found' ? match.row : null;
  const nominal = numberOf(vessel.nominalVolumeMl);
  const marked = match.outcome === 'marked' || (match.outcome === 'found' && match.marked);
  return {
    toleranceMl: toleranceMlAt(vessel, row, nominal),
    toleranceSource: {
      from: marked ? 'marked' : row ? 'table' : 'none',
      standard: vessel.tolerance?.standard ?? null,
      edition: vessel.tolerance?.edition ?? null,
      class: vessel.tolerance?.class ?? null,
      tableToleranceMl: row ? rowToleranceMl(vessel, row, nominal) : null,
      verification: row?.verification ?? null,
      readInStandard: row?.readInStandard ?? null,
    },
  };
};

/** Kinds that may go without a tolerance: they are used with their own measured volume. */
const WITHOUT_TOLERANCE = new Set(['pycnometer', 'other']);

/** Fields of a vessel that cannot be taken as they are. Pointers are of a vessel body. */
export const vesselRefusals = (vessel: VesselFacts): FieldProblem[] => {
  const refusals: FieldProblem[] = [];
  if (!vessel.tolerance && !WITHOUT_TOLERANCE.has(vessel.kind))
    refusals.push({
      pointer: '#/tolerance',
      detail: 'Name the class and standard of this vessel, or the tolerance marked on it.',
    });
  const match = findTolerance(toleranceRows, vessel);
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
