import { WEIGHTS_DENSITY } from '../constants.ts';
import type { Influences, Reader } from './influences.ts';

/** What is known of the density of the solid that was weighed, and of the air. */
export type SolidDensity =
  | { known: 'density'; key: string; kgPerM3: number; airKgPerM3: number }
  /** Nobody knows: the correction is between nothing and that of a light solid. */
  | { known: 'range'; key: string }
  /** A solution as a whole: as dense as water, give or take. */
  | { known: 'solution'; airKgPerM3: number }
  /** As textbooks do it: no correction. */
  | { known: 'off' };

/** Correction for a solid nobody knows the density of, 0 to 600 parts in a million (common practice, no source). */
export const UNKNOWN_CORRECTION = 300e-6;
/** Half-width of a density from a handbook, as a share (common practice, no source). */
const DENSITY_SHARE = 0.02;
/** Density of a solution weighed as a whole, and its half-width as a share (common practice, no source). */
export const SOLUTION_KG_PER_M3 = 1000;
const SOLUTION_SHARE = 0.1;
/** Half-width of the density of the air in a room, as a share (common practice, no source). */
const AIR_SHARE = 0.05;

/**
 * Factor from the reading of a balance to the mass of a solid, (1 − ρa/ρb)/(1 − ρa/ρs).
 * @param solidKgPerM3 density of the solid, above that of air
 * @source oiml-d-28-2004, conventional value of the result of weighing in air
 */
function solidBuoyancyFactor(airKgPerM3: number, solidKgPerM3: number): number {
  return (1 - airKgPerM3 / WEIGHTS_DENSITY.value) / (1 - airKgPerM3 / solidKgPerM3);
}

/**
 * The factor at the densities as they are known, without their uncertainty.
 * @source oiml-d-28-2004, conventional value of the result of weighing in air
 */
export function buoyancyFactor(density: SolidDensity): number {
  if (density.known === 'off') return 1;
  if (density.known === 'range') return 1 + UNKNOWN_CORRECTION;
  return solidBuoyancyFactor(density.airKgPerM3, density.known === 'solution' ? SOLUTION_KG_PER_M3 : density.kgPerM3);
}

/**
 * Reader of the buoyancy factor: densities within 2 % and 5 % where the solid's is known, else 1 + 300e-6 ± 300e-6. A
 * solution counts as 1000 kg/m3 within 10 %.
 * @source oiml-d-28-2004, conventional value of the result of weighing in air
 */
export function airFactor(influences: Influences, density: SolidDensity): Reader {
  if (density.known === 'off') return () => 1;
  const rectangular = { shape: 'rectangular', degreesOfFreedom: null } as const;
  if (density.known === 'range') {
    const correction = influences.take({
      ...rectangular,
      key: `${density.key}:buoyancy`,
      label: 'buoyancy of the solid',
      value: UNKNOWN_CORRECTION,
      unit: '1',
      spread: UNKNOWN_CORRECTION,
      source: 'density of the solid not known',
      assumed: true,
    });
    return (values) => 1 + correction(values);
  }
  const { airKgPerM3 } = density;
  const body = influences.take(
    density.known === 'solution'
      ? {
          ...rectangular,
          key: 'whole:density',
          label: 'density of the solution',
          value: SOLUTION_KG_PER_M3,
          unit: 'kg/m3',
          spread: SOLUTION_SHARE * SOLUTION_KG_PER_M3,
          source: 'as water, within 10 %',
          assumed: true,
        }
      : {
          ...rectangular,
          key: `${density.key}:density`,
          label: 'density of the solid',
          value: density.kgPerM3,
          unit: 'kg/m3',
          spread: DENSITY_SHARE * density.kgPerM3,
          source: 'typed or handbook, within 2 %',
          assumed: false,
        },
  );
  const air = influences.take({
    ...rectangular,
    key: 'air:density',
    label: 'density of the air',
    value: airKgPerM3,
    unit: 'kg/m3',
    spread: AIR_SHARE * airKgPerM3,
    source: 'room air, within 5 %',
    assumed: true,
  });
  return (values) => solidBuoyancyFactor(air(values), body(values));
}
