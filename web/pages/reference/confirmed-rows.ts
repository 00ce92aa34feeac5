/** Rows of the tolerance tables and the confirmations that belong to them. */
import { limitText, NO_CLASS } from '../../../server/metrology/tolerance.ts';
import type { ToleranceRowOnWire } from '../../../server/reference/contract.ts';
import type { Confirmation, ConfirmationBody } from '../../../server/tolerances/contract.ts';
import { confirmationText as words } from '../../messages/en-confirmation.ts';

type Row = Pick<
  ToleranceRowOnWire,
  | 'standard'
  | 'edition'
  | 'kind'
  | 'class'
  | 'nominalVolumeMl'
  | 'divisionMl'
  | 'toleranceMl'
  | 'tolerancePercent'
  | 'randomMl'
>;

const decimalText = (value: number | null): string | null => (value === null ? null : String(value));

/** What names a row to the server. */
export const rowKey = ({ standard, edition, kind, class: name, nominalVolumeMl, divisionMl }: Row) => ({
  standard,
  edition,
  kind: kind as ConfirmationBody['kind'],
  class: name,
  nominalVolumeMl: decimalText(nominalVolumeMl),
  divisionMl: decimalText(divisionMl),
});

/** The latest confirmation of this row; one of another limit than the table has now counts no longer. */
export const confirmationOf = (row: Row, confirmations: readonly Confirmation[]): Confirmation | undefined =>
  confirmations
    .filter(
      (one) =>
        one.standard === row.standard &&
        one.edition === row.edition &&
        one.kind === row.kind &&
        one.class === row.class &&
        one.nominalVolumeMl === row.nominalVolumeMl &&
        one.divisionMl === row.divisionMl &&
        one.limit === limitText(row),
    )
    .reduce<Confirmation | undefined>((last, one) => (last === undefined || one.at > last.at ? one : last), undefined);

/** The row in one line. */
export function rowWords(row: Row): string {
  const rest = [
    row.class === NO_CLASS ? null : words.class(row.class),
    row.nominalVolumeMl === null ? words.anySize : words.size(String(row.nominalVolumeMl)),
    row.divisionMl === null ? null : words.division(String(row.divisionMl)),
  ];
  return words.row(row.standard, row.edition, rest.filter((part) => part !== null).join(', '), limitText(row));
}
