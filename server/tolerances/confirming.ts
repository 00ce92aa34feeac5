/** A keeper says to have seen the value of a tolerance row in the standard itself. */
import type { Writing } from '../db/write.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { limitText, type ToleranceRow } from '../metrology/tolerance.ts';
import { Problem } from '../problem.ts';
import type { Confirmation, ConfirmationBody } from './contract.ts';
import { insertConfirmation } from './store.ts';

const numberOrNull = (text: string | null): number | null => (text === null ? null : Number(text));

export const rowNamed = (body: Omit<ConfirmationBody, 'whereSeen'>): ToleranceRow | undefined =>
  toleranceRows.find(
    (row) =>
      row.standard === body.standard &&
      row.edition === body.edition &&
      row.kind === body.kind &&
      row.class === body.class &&
      row.nominalMl === numberOrNull(body.nominalVolumeMl) &&
      row.divisionMl === numberOrNull(body.divisionMl),
  );

const nameOf = (row: ToleranceRow): string =>
  [row.standard, row.edition, row.kind, row.class, row.nominalMl ?? '', row.divisionMl ?? ''].join('|');

/** @throws Problem `state-conflict` when somebody else confirmed the row in the same moment */
export const confirmTolerance = async (
  { trx, at, actor, journal }: Writing,
  row: ToleranceRow,
  whereSeen: string,
): Promise<Confirmation> => {
  const { standard, edition, kind, nominalMl: nominalVolumeMl, divisionMl } = row;
  const key = { standard, edition, kind, class: row.class, nominalVolumeMl, divisionMl };
  const given = { ...key, limit: limitText(row), whereSeen, at, by: actor };
  if (!(await insertConfirmation(trx, given)))
    throw new Problem('state-conflict', {
      detail: 'This row was confirmed a moment ago. Look at that before confirming it again.',
    });
  const text = (size: number | null): string | null => (size === null ? null : String(size));
  journal({
    act: 'tolerance-confirmed',
    object: `tolerance/${nameOf(row)}`,
    before: null,
    after: {
      ...key,
      nominalVolumeMl: text(nominalVolumeMl),
      divisionMl: text(divisionMl),
      limit: given.limit,
      whereSeen,
    },
  });
  return given;
};
