import type { Basis, VesselKind } from '../record.ts';

/** What a standard, a mark or a teacher allows a vessel to be off, ± mL. */
export interface ClassLimit {
  /** `A`, `AS`, `B`, `-` for a standard without classes, `marked` for what stands on the ware. */
  name: string;
  /** In words, for example `ISO 1042:1998 class A`. */
  source: string;
  toleranceMl: number;
}

/** One group of students with its trials, in the order they were weighed. */
export interface ClassGroup {
  key: string;
  trialsMl: readonly number[];
  /** Number of each trial as it was recorded; left out: 1, 2, 3 … */
  numbers?: readonly number[];
}

/** Number of a trial of a group, from its place among those that count. */
export const numberAt = ({ numbers }: Pick<ClassGroup, 'numbers'>, index: number): number =>
  numbers?.[index] ?? index + 1;

/** One row of the board: a kind of ware, or one vessel that many hands fill. */
export interface ClassRow {
  key: string;
  kind: VesselKind;
  nominalMl: number;
  /** Weighed full (contain) or poured out and weighed (deliver). */
  basis: Basis;
  /** Tolerance stated for this very ware, mL; null for none. */
  toleranceMl: number | null;
  /** Tolerance printed on the ware, ± per cent of the nominal volume. */
  markedPercent?: number | null;
  /** Limits of the classes of its standard. */
  limits?: readonly ClassLimit[];
  /** Last digit of a weighing as volume, mL; within three of them nothing is suspect. */
  lastDigitMl?: number;
  groups: readonly ClassGroup[];
}
