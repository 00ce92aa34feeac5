import { numberOf, numberOrNull } from './decimal.ts';
import type { Basis, DecimalText, ToleranceFacts, VesselFacts, VesselKind } from './record.ts';
import { NO_CLASS } from './tolerance-row.ts';
import type { MarkedVessel, ToleranceRow } from './tolerance-row.ts';
import { SIEVES, wantedBy } from './tolerance-sieves.ts';

export { NO_CLASS };
export type { MarkedVessel, ToleranceRow };

export type ToleranceMatch =
  /** No tolerance is declared. */
  | { outcome: 'none' }
  /** One row fits. `marked` when a value on the vessel judges in its place. */
  | { outcome: 'found'; row: ToleranceRow; marked: boolean }
  /** A value is marked and no row is named, or none fits the named class at this size. */
  | { outcome: 'marked'; row: null; marked: true }
  /** Two rows or more are left; the division decides. */
  | { outcome: 'ambiguous'; rows: readonly ToleranceRow[]; pointer: '#/divisionMl'; detail: string }
  /** Nothing fits; `pointer` names the field that ruled the last rows out. */
  | { outcome: 'unknown'; pointer: string; detail: string };

function isMarked(tolerance: ToleranceFacts): boolean {
  return tolerance.markedMl != null || tolerance.markedPercent != null;
}

function isNamed(tolerance: ToleranceFacts): boolean {
  return tolerance.standard != null && tolerance.standard !== '';
}

const byStandard = new WeakMap<readonly ToleranceRow[], Map<string, ToleranceRow[]>>();

/** Rows of one standard; the index is built once for each table. */
export function rowsOfStandard(rows: readonly ToleranceRow[], standard: string): readonly ToleranceRow[] {
  let index = byStandard.get(rows);
  if (index === undefined) {
    index = new Map();
    for (const row of rows) {
      const group = index.get(row.standard);
      if (group === undefined) index.set(row.standard, [row]);
      else group.push(row);
    }
    byStandard.set(rows, index);
  }
  return index.get(standard) ?? [];
}

/**
 * The row of a named standard, edition and class that holds for a vessel. Key: standard, edition, kind, class,
 * nominal volume, division; volumes compare as numbers. With a marked value a missing row is no obstacle.
 * @source iso-384-2015, classes and limits are those of the standard of each vessel
 */
export function findTolerance(rows: readonly ToleranceRow[], vessel: MarkedVessel): ToleranceMatch {
  const tolerance = vessel.tolerance;
  if (tolerance == null) return { outcome: 'none' };
  const marked = isMarked(tolerance);
  if (!isNamed(tolerance)) return marked ? { outcome: 'marked', row: null, marked: true } : { outcome: 'none' };
  let left = rowsOfStandard(rows, tolerance.standard ?? '');
  if (left.length === 0) {
    if (marked) return { outcome: 'marked', row: null, marked: true };
    const detail = `${tolerance.standard} is not among the tables. Type the tolerance marked on the vessel.`;
    return { outcome: 'unknown', pointer: '#/tolerance/standard', detail };
  }
  const wanted = wantedBy(vessel, tolerance);
  for (const sieve of SIEVES) {
    const next = left.filter((row) => sieve.fits(row, wanted));
    if (next.length === 0) {
      if (marked) return { outcome: 'marked', row: null, marked: true };
      const known = [...new Set(left.map(sieve.show))].join(', ');
      return { outcome: 'unknown', pointer: sieve.pointer, detail: `${sieve.missing(wanted)}. Known: ${known}.` };
    }
    left = next;
  }
  const [row, second] = left;
  if (row === undefined || second !== undefined) {
    const divisions = left.map((one) => `${one.divisionMl} mL`).join(' or ');
    const detail = `${tolerance.standard} has different limits for each division. Which is it: ${divisions}?`;
    return { outcome: 'ambiguous', rows: left, pointer: '#/divisionMl', detail };
  }
  return { outcome: 'found', row, marked };
}

/** Vessels with a list of marks, whose limits in per cent are of the point under test. */
export function perCentOfPoint(kind: VesselKind): boolean {
  return kind === 'beaker' || kind === 'conical-flask';
}

function perCentMl(vessel: Pick<VesselFacts, 'kind' | 'nominalVolumeMl'>, percent: number, pointMl: number): number {
  return ((perCentOfPoint(vessel.kind) ? pointMl : numberOf(vessel.nominalVolumeMl)) * percent) / 100;
}

/** Limit of one row in mL at a test point, or null where the row gives none. */
export function rowToleranceMl(
  vessel: Pick<VesselFacts, 'kind' | 'nominalVolumeMl'>,
  row: ToleranceRow,
  pointMl: number,
): number | null {
  if (row.toleranceMl !== null) return row.toleranceMl;
  return row.tolerancePercent === null ? null : perCentMl(vessel, row.tolerancePercent, pointMl);
}

/**
 * The tolerance in mL that judges a test point: the value marked on the vessel wins, else the row; null for neither.
 * Per cent is of the point for beakers and conical flasks, of the nominal volume otherwise.
 */
export function toleranceMlAt(vessel: MarkedVessel, row: ToleranceRow | null, pointMl: number): number | null {
  const markedMl = numberOrNull(vessel.tolerance?.markedMl);
  if (markedMl !== null) return markedMl;
  const markedPercent = numberOrNull(vessel.tolerance?.markedPercent);
  if (markedPercent !== null) return perCentMl(vessel, markedPercent, pointMl);
  return row === null ? null : rowToleranceMl(vessel, row, pointMl);
}

/** The row of a match, where there is one. */
export function rowOf(match: ToleranceMatch): ToleranceRow | null {
  return match.outcome === 'found' ? match.row : null;
}

/** Where the judging tolerance comes from, in words: `marked on the vessel`, `ISO 1042:1998 class A`; null for none. */
export function toleranceSource(match: ToleranceMatch): string | null {
  if (match.outcome === 'marked' || (match.outcome === 'found' && match.marked)) return 'marked on the vessel';
  return match.outcome === 'found' ? rowName(match.row) : null;
}

/** `ISO 1042:1998 class A`, `ASTM E288 (E288-10) class B`, `ISO 3819`. */
export function rowName(row: ToleranceRow): string {
  const edition = /^\d{4}$/.test(row.edition)
    ? `:${row.edition}`
    : row.edition === 'unknown'
      ? ''
      : ` (${row.edition})`;
  return `${row.standard}${edition}${row.class === NO_CLASS ? '' : ` class ${row.class}`}`;
}

/** The limit of a row as a keeper confirms it: `0.1 mL`, `5 %`, or `0.008 mL, random 0.003 mL` of a piston pipette. */
export function limitText(row: {
  toleranceMl: number | null;
  tolerancePercent: number | null;
  randomMl?: number | null | undefined;
}): string {
  const limit = row.toleranceMl === null ? `${row.tolerancePercent} %` : `${row.toleranceMl} mL`;
  return row.randomMl == null ? limit : `${limit}, random ${row.randomMl} mL`;
}

/** Every class of the standard and edition of a row that lists the same vessel, tightest first at this point. */
export function sameStandardRows(
  rows: readonly ToleranceRow[],
  vessel: MarkedVessel,
  row: ToleranceRow,
  pointMl: number,
): ToleranceRow[] {
  const limit = (one: ToleranceRow) => rowToleranceMl(vessel, one, pointMl) ?? Number.POSITIVE_INFINITY;
  return rowsOfStandard(rows, row.standard)
    .filter(
      (one) =>
        one.edition === row.edition &&
        one.kind === row.kind &&
        one.basis === row.basis &&
        one.nominalMl === row.nominalMl &&
        one.divisionMl === row.divisionMl,
    )
    .sort((first, second) => limit(first) - limit(second));
}

export interface ToleranceChoice {
  standard: string;
  edition: string;
  classes: string[];
  /** Nominal volumes with the divisions listed for each; empty divisions where the division does not matter. */
  sizes: { nominalMl: number; divisionsMl: number[] }[];
  bases: (Basis | 'either')[];
}

function addUnique<T>(list: T[], value: T): void {
  if (!list.includes(value)) list.push(value);
}

/** What the tables offer for a kind of vessel, for a form: standards and editions with classes, sizes, divisions. */
export function toleranceChoices(rows: readonly ToleranceRow[], kind: VesselKind): ToleranceChoice[] {
  const choices: ToleranceChoice[] = [];
  for (const row of rows) {
    if (row.kind !== kind) continue;
    let choice = choices.find((one) => one.standard === row.standard && one.edition === row.edition);
    if (choice === undefined) {
      choice = { standard: row.standard, edition: row.edition, classes: [], sizes: [], bases: [] };
      choices.push(choice);
    }
    addUnique(choice.classes, row.class);
    addUnique(choice.bases, row.basis);
    if (row.nominalMl === null) continue;
    let size = choice.sizes.find((one) => one.nominalMl === row.nominalMl);
    if (size === undefined) {
      size = { nominalMl: row.nominalMl, divisionsMl: [] };
      choice.sizes.push(size);
    }
    if (row.divisionMl !== null) addUnique(size.divisionsMl, row.divisionMl);
  }
  for (const choice of choices) choice.sizes.sort((first, second) => first.nominalMl - second.nominalMl);
  return choices;
}

/** A marked value more than twice or less than half the table's, as a sentence; null when it is not unusual. */
export function unusualMark(vessel: MarkedVessel, row: ToleranceRow | null, typed: DecimalText): string | null {
  const nominal = numberOf(typed);
  const table = row === null ? null : rowToleranceMl(vessel, row, nominal);
  const marked = toleranceMlAt(vessel, null, nominal);
  if (row === null || table === null || marked === null) return null;
  if (marked <= 2 * table && marked >= table / 2) return null;
  return `Marked ±${marked} mL, but ${rowName(row)} gives ±${table} mL. Is the marked value right?`;
}
