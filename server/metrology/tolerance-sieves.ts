import { numberOf, numberOrNull } from './decimal.ts';
import type { Basis, ToleranceFacts, VesselKind } from './record.ts';
import { NO_CLASS } from './tolerance-row.ts';
import type { MarkedVessel, ToleranceRow } from './tolerance-row.ts';

/** What a vessel asks of a row, parsed once. */
interface Wanted {
  standard: string;
  edition: string | null | undefined;
  kind: VesselKind;
  class: string;
  nominalMl: number;
  basis: Basis;
  divisionMl: number | null;
  vessel: MarkedVessel;
}

/** One question after another; the first that leaves nothing tells which field stands in the way. */
interface Sieve {
  pointer: string;
  fits: (row: ToleranceRow, wanted: Wanted) => boolean;
  show: (row: ToleranceRow) => string;
  missing: (wanted: Wanted) => string;
}

export const SIEVES: readonly Sieve[] = [
  {
    pointer: '#/tolerance/edition',
    fits: (row, wanted) => row.edition === wanted.edition,
    show: (row) => row.edition,
    missing: ({ standard, edition }) => `${standard} is not known in the edition ${edition ?? 'left out'}`,
  },
  {
    pointer: '#/kind',
    fits: (row, wanted) => row.kind === wanted.kind,
    show: (row) => row.kind,
    missing: ({ standard }) => `${standard} has no limits for this kind of vessel`,
  },
  {
    pointer: '#/tolerance/class',
    fits: (row, wanted) => row.class === wanted.class,
    show: (row) => (row.class === NO_CLASS ? 'no class' : row.class),
    missing: (wanted) => {
      const name = wanted.class === NO_CLASS ? 'row without a class' : `class ${wanted.class}`;
      return `${wanted.standard} has no ${name} here`;
    },
  },
  {
    pointer: '#/nominalVolumeMl',
    fits: (row, wanted) => row.nominalMl === null || row.nominalMl === wanted.nominalMl,
    show: (row) => `${row.nominalMl} mL`,
    missing: ({ standard, vessel }) => `${standard} lists no ${vessel.nominalVolumeMl} mL`,
  },
  {
    pointer: '#/basis',
    fits: (row, wanted) => row.basis === 'either' || row.basis === wanted.basis,
    show: (row) => `to ${row.basis}`,
    missing: ({ standard, basis }) => `${standard} has no such vessel to ${basis}`,
  },
  {
    pointer: '#/divisionMl',
    fits: ({ divisionMl }, wanted) =>
      divisionMl === null || wanted.divisionMl === null || divisionMl === wanted.divisionMl,
    show: (row) => `${row.divisionMl} mL`,
    missing: ({ standard, vessel }) => `${standard} lists no division of ${vessel.divisionMl ?? 'this size'} mL here`,
  },
];

/** The questions a vessel with a named tolerance puts to a table. */
export function wantedBy(vessel: MarkedVessel, named: ToleranceFacts): Wanted {
  return {
    standard: named.standard ?? '',
    edition: named.edition,
    kind: vessel.kind,
    class: named.class == null || named.class === '' ? NO_CLASS : named.class,
    nominalMl: numberOf(vessel.nominalVolumeMl),
    basis: vessel.basis,
    divisionMl: numberOrNull(vessel.divisionMl),
    vessel,
  };
}
