import type { Basis, ToleranceFacts, VesselKind } from '../record.ts';
import {
  findTolerance,
  rowName,
  rowOf,
  rowsOfStandard,
  rowToleranceMl,
  sameStandardRows,
  toleranceMlAt,
} from '../tolerance.ts';
import type { ToleranceRow } from '../tolerance.ts';
import type { ClassLimit } from './data.ts';

/** The international standard of a kind of ware, taken where the ware itself names none. */
const STANDARDS: Partial<Record<VesselKind, string>> = {
  'volumetric-flask': 'ISO 1042',
  'single-volume-pipette': 'ISO 648',
  'graduated-pipette': 'ISO 835',
  burette: 'ISO 385',
  'measuring-cylinder': 'ISO 4788',
  beaker: 'ISO 3819',
};

/** Ware on the bench, as far as its limits depend on it. */
export interface Ware {
  kind: VesselKind;
  nominalMl: number;
  basis: Basis;
  divisionMl?: number | null;
  tolerance?: ToleranceFacts | null;
}

function fits(row: ToleranceRow, ware: Ware): boolean {
  return (
    row.kind === ware.kind &&
    (row.nominalMl === null || row.nominalMl === ware.nominalMl) &&
    (row.basis === 'either' || row.basis === ware.basis) &&
    (row.divisionMl === null || ware.divisionMl == null || row.divisionMl === ware.divisionMl)
  );
}

/** Rows of the latest edition of the kind's own standard. */
function usualRows(rows: readonly ToleranceRow[], ware: Ware): ToleranceRow[] {
  const standard = STANDARDS[ware.kind];
  const fitting = standard === undefined ? [] : rowsOfStandard(rows, standard).filter((row) => fits(row, ware));
  const latest = fitting
    .map((row) => row.edition)
    .sort()
    .at(-1);
  return fitting.filter((row) => row.edition === latest);
}

/**
 * What the classes of a standard and a mark on the ware allow the vessel to be off, tightest first, the mark last. The
 * standard is the one named, else the international one of the kind in its latest edition. A class whose limit hangs on
 * a division that is not known is left out.
 * @source iso-384-2015, classes and limits are those of the standard of each vessel
 */
export function limitsOf(rows: readonly ToleranceRow[], ware: Ware): ClassLimit[] {
  const { kind, nominalMl, basis, divisionMl, tolerance = null } = ware;
  const nominalVolumeMl = `${nominalMl}`;
  const vessel = { kind, nominalVolumeMl, basis, divisionMl: divisionMl == null ? null : `${divisionMl}`, tolerance };
  const named = rowOf(findTolerance(rows, vessel));
  const candidates = named === null ? usualRows(rows, ware) : sameStandardRows(rows, vessel, named, nominalMl);
  const limits = [...new Set(candidates.map((row) => row.class))].flatMap((name): ClassLimit[] => {
    const own = candidates.filter((row) => row.class === name);
    const [first] = own;
    const allowed = [...new Set(own.map((row) => rowToleranceMl(vessel, row, nominalMl)))];
    const [toleranceMl = null, second] = allowed;
    if (first === undefined || toleranceMl === null || second !== undefined) return [];
    return [{ name, source: rowName(first), toleranceMl }];
  });
  limits.sort((one, other) => one.toleranceMl - other.toleranceMl);
  const marked = toleranceMlAt(vessel, null, nominalMl);
  return marked === null
    ? limits
    : [...limits, { name: 'marked', source: 'marked on the vessel', toleranceMl: marked }];
}
