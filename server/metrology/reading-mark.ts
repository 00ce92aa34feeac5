import { numberOrNull } from './decimal.ts';
import type { Basis, VesselFacts } from './record.ts';
import { rowsOfStandard } from './tolerance.ts';
import type { ToleranceRow } from './tolerance.ts';
import { DEFAULTS } from './uncertainty-defaults.ts';

/** How the meniscus is set in a vessel. */
export type MarkStyle = 'ring' | 'scale' | 'broad' | 'none';

export interface ReadingMark {
  style: MarkStyle;
  /** Inner diameter where the meniscus stands, mm. */
  diameterMm: number | null;
  /** Where the diameter comes from, null where there is none. */
  diameterSource: 'vessel' | 'standard' | 'next ISO 1042 size' | 'usual bore' | null;
  divisionMl: number | null;
  basis: Basis;
}

const NECK_STANDARD = 'ISO 1042';
/** Nominal volume up to which a single-volume pipette has the smaller bore, mL. */
const SMALL_PIPETTE_ML = 10;

function styleOf(vessel: VesselFacts, diameterMm: number | null, divisionMl: number | null): MarkStyle {
  switch (vessel.kind) {
    case 'volumetric-flask':
    case 'single-volume-pipette':
      return 'ring';
    case 'graduated-pipette':
    case 'burette':
    case 'measuring-cylinder':
      return 'scale';
    case 'beaker':
    case 'conical-flask':
      return 'broad';
    case 'pycnometer':
    case 'piston-pipette':
      return 'none';
    case 'other':
      return divisionMl === null && diameterMm !== null ? 'ring' : 'scale';
  }
}

/** Largest neck that ISO 1042 allows for the smallest listed size that is not below the nominal volume. */
function nextNeckMm(rows: readonly ToleranceRow[], nominalMl: number): number | null {
  let size = Number.POSITIVE_INFINITY;
  let neck: number | null = null;
  for (const row of rowsOfStandard(rows, NECK_STANDARD)) {
    if (row.neckDiameterMaxMm === undefined || row.nominalMl === null) continue;
    if (row.nominalMl < nominalMl || row.nominalMl >= size) continue;
    size = row.nominalMl;
    neck = row.neckDiameterMaxMm;
  }
  return neck;
}

function diameterOf(
  vessel: VesselFacts,
  row: ToleranceRow | null,
  rows: readonly ToleranceRow[],
): Pick<ReadingMark, 'diameterMm' | 'diameterSource'> {
  const own = numberOrNull(vessel.neckDiameterMm);
  if (own !== null) return { diameterMm: own, diameterSource: 'vessel' };
  const ring = vessel.kind === 'volumetric-flask' || vessel.kind === 'single-volume-pipette';
  if (!ring) return { diameterMm: null, diameterSource: null };
  const standard = row?.neckDiameterMaxMm;
  if (standard !== undefined) return { diameterMm: standard, diameterSource: 'standard' };
  const nominal = Number(vessel.nominalVolumeMl);
  if (vessel.kind === 'single-volume-pipette') {
    const bore = nominal <= SMALL_PIPETTE_ML ? DEFAULTS.boreSmallMm : DEFAULTS.boreLargeMm;
    return { diameterMm: bore.value, diameterSource: 'usual bore' };
  }
  const neck = nextNeckMm(rows, nominal);
  return { diameterMm: neck, diameterSource: neck === null ? null : 'next ISO 1042 size' };
}

/** What is known of the mark of a vessel: its own facts first, then its standard's, then what is usual. */
export function readingMark(
  vessel: VesselFacts,
  basis: Basis,
  row: ToleranceRow | null,
  rows: readonly ToleranceRow[],
): ReadingMark {
  const { diameterMm, diameterSource } = diameterOf(vessel, row, rows);
  const divisionMl = numberOrNull(vessel.divisionMl) ?? row?.divisionMl ?? null;
  return { style: styleOf(vessel, diameterMm, divisionMl), diameterMm, diameterSource, divisionMl, basis };
}

/**
 * Volume of a height in the neck, mL per mm: π/4·d², d in mm.
 * @source iso-384-2015, relation of the tolerance to the inner diameter at the mark
 */
export function neckMlPerMm(diameterMm: number): number {
  return ((Math.PI / 4) * diameterMm * diameterMm) / 1000;
}
