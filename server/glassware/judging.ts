/** What tolerance judges a vessel, and where it comes from. */
import { numberOf } from '../metrology/decimal.ts';
import type { VesselFacts } from '../metrology/record.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { findTolerance, rowToleranceMl, toleranceMlAt } from '../metrology/tolerance.ts';
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
