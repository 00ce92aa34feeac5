import type { Vessel } from '../../server/glassware/contract.ts';
import { vesselText } from '../messages/en-glassware.ts';
import { decimalsForTolerance, fixed } from './rounding.ts';

/** `±0.100 mL`, or that none is stated. */
export const toleranceWords = ({ toleranceMl }: Pick<Vessel, 'toleranceMl'>): string =>
  toleranceMl === null
    ? vesselText.noTolerance
    : vesselText.tolerance(fixed(toleranceMl, decimalsForTolerance(toleranceMl)));

/** Where the tolerance comes from and how well that is checked; empty without one. */
export function toleranceSourceWords({ toleranceSource: source }: Pick<Vessel, 'toleranceSource'>): string {
  if (source.from === 'none') return '';
  const named =
    source.standard === null
      ? null
      : vesselText.sourceTable(source.standard, source.edition ?? '', source.class ?? '-');
  const table = source.tableToleranceMl;
  if (source.from === 'marked')
    return named === null || table === null
      ? vesselText.sourceMarked
      : vesselText.sourceMarkedBeside(fixed(table, decimalsForTolerance(table)), named);
  const verification = source.verification === null ? null : vesselText.verification[source.verification];
  const notRead = source.readInStandard === false && source.verification !== 'from memory' ? vesselText.notRead : null;
  return [named, verification, notRead].filter((part) => part != null).join(' · ');
}
