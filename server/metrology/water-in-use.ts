import { numberOrNull } from './decimal.ts';
import type { ConditionFacts } from './record.ts';
import {
  DISSOLVED_AIR_PER_K,
  dissolvedAirKgPerM3,
  tapWaterFactor,
  waterDensityKgPerM3,
  waterDensityPerK,
} from './water-density.ts';

/**
 * Density of the water as it was used, kg/m3: pure, then dissolved air where set, then what tap water adds.
 * @source tanaka-2001, eq. (1) and (2)
 * @throws OutsideValidity below 0 °C and above 40 °C
 */
export function waterInUseKgPerM3(conditions: ConditionFacts, temperatureC: number): number {
  let density = waterDensityKgPerM3(temperatureC);
  if (conditions.dissolvedAir === true) density += dissolvedAirKgPerM3(temperatureC);
  if (conditions.waterGrade === 'tap') density *= tapWaterFactor(numberOrNull(conditions.conductivityUsPerCm));
  return density;
}

/**
 * Density of the water as it was used with its slope, kg/m3 and kg/m3 per K.
 * @source tanaka-2001, eq. (1) and (2), differentiated
 * @throws OutsideValidity below 0 °C and above 40 °C
 */
export function waterInUse(conditions: ConditionFacts, temperatureC: number): { density: number; perK: number } {
  const dissolved = conditions.dissolvedAir === true ? DISSOLVED_AIR_PER_K : 0;
  const tap = conditions.waterGrade === 'tap' ? tapWaterFactor(numberOrNull(conditions.conductivityUsPerCm)) : 1;
  return {
    density: waterInUseKgPerM3(conditions, temperatureC),
    perK: (waterDensityPerK(temperatureC) + dissolved) * tap,
  };
}
