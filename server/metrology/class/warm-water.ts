import { massGFrom } from '../volume.ts';
import { waterDensityKgPerM3 } from '../water-density.ts';

/** One vessel filled once with cool and once with warm water, as the balance shows it. */
export interface WarmWater {
  coolG: number;
  warmG: number;
  /** Warm − cool of the weighings, g: what mass ÷ 1 g/mL takes for a change of the volume. */
  differenceG: number;
  /** The part that the water makes, g. */
  fromWaterG: number;
  /** The part that the widening of the vessel makes, g. */
  fromVesselG: number;
}

/**
 * What a vessel of a volume at its reference temperature weighs filled with cool and with warm water:
 * m = V/((1 − γ·(t − tref))·Z), the volume formula solved for the mass.
 * @param expansionPerK cubic expansion of the vessel, 0 or more
 * @param airKgPerM3 density of the air at the balance
 * @throws OutsideValidity for water below 0 °C and above 40 °C
 * @source iso-4787-2021, equation for the volume at the reference temperature
 */
export function warmWater(
  volumeMl: number,
  temperaturesC: { cool: number; warm: number; reference: number },
  expansionPerK: number,
  airKgPerM3: number,
): WarmWater {
  const { cool, warm, reference } = temperaturesC;
  const weighed = (waterC: number, vesselC: number) =>
    massGFrom(volumeMl, waterDensityKgPerM3(waterC), airKgPerM3, expansionPerK, vesselC, reference);
  const coolG = weighed(cool, cool);
  const warmG = weighed(warm, warm);
  const fromWaterG = weighed(warm, cool) - coolG;
  return { coolG, warmG, differenceG: warmG - coolG, fromWaterG, fromVesselG: warmG - coolG - fromWaterG };
}
