import { numberOf } from './decimal.ts';
import type { CorrectionPoint } from './record.ts';

/** A certificate's corrections by rising reading. */
export interface CorrectionTable {
  at: readonly number[];
  correction: readonly number[];
}

/** Null when the certificate gives none. */
export function correctionTable(points: readonly CorrectionPoint[] | null | undefined): CorrectionTable | null {
  if (points == null || points.length === 0) return null;
  const sorted = points
    .map((point) => ({ at: numberOf(point.at), correction: numberOf(point.correction) }))
    .sort((first, second) => first.at - second.at);
  return { at: sorted.map((point) => point.at), correction: sorted.map((point) => point.correction) };
}

export interface Correction {
  value: number;
  /** The reading lies outside the table; the end value was taken. */
  extrapolated: boolean;
  known: boolean;
}

const NONE_KNOWN: Correction = { value: 0, extrapolated: false, known: false };

/**
 * Correction at a reading, in the reading's unit: straight line between the neighbours in the table, the end value
 * outside it, 0 without a table.
 * @source common-practice, linear interpolation in a calibration certificate
 */
export function correctionAt(table: CorrectionTable | null, reading: number): Correction {
  if (table === null) return NONE_KNOWN;
  const { at, correction } = table;
  const last = at.length - 1;
  const lowest = at[0] ?? 0;
  const highest = at[last] ?? 0;
  if (reading <= lowest) return { value: correction[0] ?? 0, extrapolated: reading < lowest, known: true };
  if (reading >= highest) return { value: correction[last] ?? 0, extrapolated: reading > highest, known: true };
  const above = at.findIndex((value) => value >= reading);
  const [x0, x1] = [at[above - 1] ?? 0, at[above] ?? 0];
  const [y0, y1] = [correction[above - 1] ?? 0, correction[above] ?? 0];
  return { value: y0 + ((y1 - y0) * (reading - x0)) / (x1 - x0), extrapolated: false, known: true };
}
