import { WEIGHTS_DENSITY } from './constants.ts';
import { expansionFactor } from './volume.ts';
import type { MeanInputs } from './mean-inputs.ts';

/** Change of the volume in mL for one unit of each input. */
export interface Sensitivities {
  perG: number;
  perWaterK: number;
  perWaterKgPerM3: number;
  perAirKgPerM3: number;
  perWeightsKgPerM3: number;
  /** Per 1/K of the expansion coefficient. */
  perExpansion: number;
  /** Per K by which the vessel is warmer than the water. */
  perVesselK: number;
}

/**
 * Partial derivatives of the volume equation in closed form, at the mean values of a point.
 * ∂V/∂m = V/m; ∂V/∂ρw = −V/(ρw − ρa); ∂V/∂ρa = V·(1/(ρw − ρa) − 1/(ρb − ρa)); ∂V/∂ρb = V·ρa/(ρb·(ρb − ρa));
 * ∂V/∂tw = V·(−γ/C − ρw′/(ρw − ρa)) and ∂V/∂γ = −V·(tw − tref)/C with C = 1 − γ·(tw − tref).
 * @source jcgm-100-2008, 5.1.3, applied to the volume equation of ISO 4787
 */
export function sensitivities(inputs: MeanInputs): Sensitivities {
  const { volumeMl: v, waterKgPerM3, expansionPerK, waterC, referenceC } = inputs;
  const air = inputs.air.densityKgPerM3;
  const weights = WEIGHTS_DENSITY.value;
  const c = expansionFactor(expansionPerK, waterC, referenceC);
  const lift = waterKgPerM3 - air;
  return {
    perG: inputs.perG,
    perWaterK: v * (-expansionPerK / c - inputs.waterPerK / lift),
    perWaterKgPerM3: -v / lift,
    perAirKgPerM3: v * (1 / lift - 1 / (weights - air)),
    perWeightsKgPerM3: (v * air) / (weights * (weights - air)),
    perExpansion: (-v * (waterC - referenceC)) / c,
    perVesselK: -v * expansionPerK,
  };
}
