import { airDensityKgPerM3 } from './air-density.ts';
import { SIMPLE_WATER_DENSITY, WEIGHTS_DENSITY } from './constants.ts';
import { waterDensityKgPerM3 } from './water-density.ts';

const RHO_B = WEIGHTS_DENSITY.value;

/**
 * Factor from apparent mass of water to volume at the water's temperature, mL/g.
 * Z = 1000·(1 − ρa/ρb)/(ρw − ρa), densities in kg/m3.
 * @source iso-4787-2021, equation for the volume at the reference temperature
 */
export function massToVolumeFactor(waterKgPerM3: number, airKgPerM3: number, weightsKgPerM3 = RHO_B): number {
  return (1000 * (1 - airKgPerM3 / weightsKgPerM3)) / (waterKgPerM3 - airKgPerM3);
}

/**
 * Factor from the volume at the water's temperature to that at the reference temperature, 1 − γ·(tw − tref).
 * @source iso-4787-2021, equation for the volume at the reference temperature
 */
export function expansionFactor(expansionPerK: number, waterTemperatureC: number, referenceC: number): number {
  return 1 - expansionPerK * (waterTemperatureC - referenceC);
}

/**
 * Volume at the reference temperature in mL, from densities: V = m·Z·(1 − γ·(tw − tref)).
 * @source iso-4787-2021, equation for the volume at the reference temperature
 */
export function volumeMlFrom(
  massG: number,
  waterKgPerM3: number,
  airKgPerM3: number,
  expansionPerK: number,
  waterTemperatureC: number,
  referenceC: number,
): number {
  return (
    massG * massToVolumeFactor(waterKgPerM3, airKgPerM3) * expansionFactor(expansionPerK, waterTemperatureC, referenceC)
  );
}

export interface WeighedWater {
  massG: number;
  waterTemperatureC: number;
  airTemperatureC: number;
  airPressureHpa: number;
  relativeHumidityPercent: number;
  expansionPerK: number;
  referenceTemperatureC: number;
}

/**
 * Volume at the reference temperature in mL of pure water weighed in air, straight from numbers.
 * @source iso-4787-2021, equation for the volume at the reference temperature
 * @throws OutsideValidity outside the ranges of the water and air formulas
 */
export function volumeAtReference(water: WeighedWater): number {
  return volumeMlFrom(
    water.massG,
    waterDensityKgPerM3(water.waterTemperatureC),
    airDensityKgPerM3(water.airTemperatureC, water.airPressureHpa, water.relativeHumidityPercent),
    water.expansionPerK,
    water.waterTemperatureC,
    water.referenceTemperatureC,
  );
}

/**
 * Apparent mass in g that a volume at the reference temperature weighs: the inverse of `volumeMlFrom`.
 * @source iso-4787-2021, equation for the volume at the reference temperature, solved for the mass
 */
export function massGFrom(
  volumeMl: number,
  waterKgPerM3: number,
  airKgPerM3: number,
  expansionPerK: number,
  waterTemperatureC: number,
  referenceC: number,
): number {
  const factor = massToVolumeFactor(waterKgPerM3, airKgPerM3);
  return volumeMl / (factor * expansionFactor(expansionPerK, waterTemperatureC, referenceC));
}

/**
 * Volume in use at another temperature: V(t) = V(ref)·(1 + γ·(t − tref)); also the change of reference temperature.
 * @source iso-4787-2021, volume at a temperature other than the reference
 */
export function volumeMlAt(volumeMl: number, expansionPerK: number, temperatureC: number, referenceC: number): number {
  return volumeMl * (1 + expansionPerK * (temperatureC - referenceC));
}

/**
 * Volume in mL by simple division, one gram of water taken as one millilitre.
 * @source common-practice, mass divided by 1 g/mL
 */
export function simpleVolumeMl(massG: number): number {
  return massG / SIMPLE_WATER_DENSITY.value;
}
