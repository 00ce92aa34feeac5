import { Influences } from './influences.ts';
import { propagate } from './propagate.ts';
import { takeVolume } from './vessel-in-use.ts';
import type { VesselInUse } from './vessel-in-use.ts';

export interface TwoDeliveries {
  first: VesselInUse;
  second: VesselInUse;
  /** Standard uncertainty of both together, mL. */
  uncertaintyMl: number;
}

/** The probability does not matter: only the standard uncertainty is taken. */
const PROBABILITY = 0.95;

/** Standard uncertainty in mL of both deliveries together; the same vessel twice errs twice alike. */
function together(first: VesselInUse, second: VesselInUse): number {
  const influences = new Influences();
  const atReference = (): number => first.referenceC;
  const one = takeVolume(influences, first, 'first', atReference);
  const other = takeVolume(influences, second, 'second', atReference);
  const model = {
    unit: 'mL',
    influences: influences.list,
    output: (values: ArrayLike<number>) => one(values) + other(values),
  };
  return propagate(model, PROBABILITY).combined;
}

/**
 * Ways to deliver one volume by two one-mark vessels, or by one of them twice, the least uncertain first.
 * @param vessels one-mark vessels to deliver, with the volume of their mark
 * @source jcgm-100-2008, 5.2.2, what both deliveries share adds up, what each has of its own in quadrature
 */
export function twoDeliveries(vessels: readonly VesselInUse[], volumeMl: number): TwoDeliveries[] {
  const found: TwoDeliveries[] = [];
  vessels.forEach((first, index) => {
    for (const second of vessels.slice(index)) {
      if (Math.abs(first.nominalMl + second.nominalMl - volumeMl) > 1e-9 * volumeMl) continue;
      found.push({ first, second, uncertaintyMl: together(first, second) });
    }
  });
  return found.sort((one, other) => one.uncertaintyMl - other.uncertaintyMl);
}
