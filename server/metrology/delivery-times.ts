import type { ToleranceRow } from './tolerance-row.ts';

/** Shortest and longest time of delivery, s; without `max` any longer time will do. */
export interface DeliveryLimits {
  min: number;
  max?: number;
}

/** Fastest outflow that the pharmacopoeia allows, mL/s. */
const FASTEST_ML_PER_S = 0.5;
const PHARMACOPOEIA = 'USP <31>';

/**
 * How long a vessel takes to deliver by its standard: the times of its row, which are of the whole volume, else of the
 * pharmacopoeia the outflow of at most 0.5 mL/s over what is delivered.
 * @param deliveredMl volume of the test point, mL
 * @param nominalMl nominal volume, mL
 * @returns seconds; null where the standard of the row states none, or the row's time is not of this volume
 * @source iso-4787-2021, delivery and waiting times are those of the standard of the vessel
 * @source usp-31-2006, outflow of burettes and pipettes
 */
export function deliveryLimitsS(
  row: ToleranceRow | null,
  deliveredMl: number,
  nominalMl: number,
): DeliveryLimits | null {
  if (row === null) return null;
  if (row.deliveryTimeS !== undefined) return deliveredMl === nominalMl ? row.deliveryTimeS : null;
  return row.standard === PHARMACOPOEIA ? { min: deliveredMl / FASTEST_ML_PER_S } : null;
}
