/** Whether a tolerance may judge on paper. */
import type { CalibrationRecord } from '../metrology/record.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { findTolerance, limitText, toleranceSource, type ToleranceRow } from '../metrology/tolerance.ts';
import type { Confirmation } from './contract.ts';
import type { ToleranceBasis } from '../certificates/issued.ts';

const confirms = (confirmation: Confirmation, row: ToleranceRow): boolean =>
  confirmation.standard === row.standard &&
  confirmation.edition === row.edition &&
  confirmation.kind === row.kind &&
  confirmation.class === row.class &&
  confirmation.nominalVolumeMl === row.nominalMl &&
  confirmation.divisionMl === row.divisionMl &&
  // A table that has changed since is another value, and nobody has seen that one.
  confirmation.limit === limitText(row);

/**
 * A verdict is printed when its tolerance is marked on the vessel, was read in the standard, or was confirmed by a
 * keeper who had the standard at hand.
 */
export const toleranceBasis = (
  record: CalibrationRecord,
  confirmations: readonly Confirmation[],
): { name: string | null; basis: ToleranceBasis } => {
  const match = findTolerance(toleranceRows, record.vessel);
  const name = toleranceSource(match);
  if ((record.basis ?? record.vessel.basis) !== record.vessel.basis) return { name, basis: { kind: 'none' } };
  // A mark on a piston pipette is its systematic limit; the random one beside it still comes from the table.
  if (match.outcome === 'marked' || (match.outcome === 'found' && match.marked && match.row.randomMl === undefined))
    return { name, basis: { kind: 'marked' } };
  if (match.outcome !== 'found') return { name, basis: { kind: 'none' } };
  if (match.row.readInStandard) return { name, basis: { kind: 'read-in-standard' } };
  const seen = confirmations.findLast((one) => confirms(one, match.row));
  if (!seen) return { name, basis: { kind: 'not-checked' } };
  return { name, basis: { kind: 'confirmed', whereSeen: seen.whereSeen, by: seen.by, at: seen.at } };
};

/** Bases on which a certificate prints a verdict. */
export const printsVerdict = (basis: ToleranceBasis): boolean =>
  basis.kind === 'marked' || basis.kind === 'read-in-standard' || basis.kind === 'confirmed';
