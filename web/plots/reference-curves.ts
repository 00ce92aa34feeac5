/** The curves of the reference room: quantities of the computation over one of their inputs. */
import { AIR_PRESSURE_RANGE_HPA, airDensityKgPerM3 } from '../../server/metrology/air-density.ts';
import { standardAtmosphereHpa } from '../../server/metrology/atmosphere.ts';
import { massGFrom, massToVolumeFactor, simpleVolumeMl } from '../../server/metrology/volume.ts';
import { WATER_RANGE_C, waterDensityKgPerM3 } from '../../server/metrology/water-density.ts';
import { type PlotPoint, sample } from './line-plot.ts';

/** kg/m³ over °C, the whole range of the formula. */
export const waterDensityCurve = (): PlotPoint[] => sample(waterDensityKgPerM3, WATER_RANGE_C[0], WATER_RANGE_C[1], 80);

/** kg/m³ over hPa. */
export const airDensityCurve = (temperatureC: number, humidityPercent: number): PlotPoint[] =>
  sample(
    (pressureHpa) => airDensityKgPerM3(temperatureC, pressureHpa, humidityPercent),
    AIR_PRESSURE_RANGE_HPA[0],
    AIR_PRESSURE_RANGE_HPA[1],
    50,
  );

/** Water temperatures people calibrate at, °C. */
export const WORKING_RANGE_C: readonly [number, number] = [10, 35];

/** mL/g over °C of the water, in air of one density. */
export const factorCurve = (airKgPerM3: number): PlotPoint[] =>
  sample((waterC) => massToVolumeFactor(waterDensityKgPerM3(waterC), airKgPerM3), ...WORKING_RANGE_C, 50);

export interface SimpleCost {
  volumeMl: number;
  airKgPerM3: number;
  expansionPerK: number;
  referenceC: number;
}

/**
 * What simple division makes of a vessel that truly holds `volumeMl` at the reference temperature: simple volume minus
 * true volume, in mL.
 */
export const simpleErrorMl = (cost: SimpleCost, waterC: number): number => {
  const { volumeMl, airKgPerM3, expansionPerK, referenceC } = cost;
  const massG = massGFrom(volumeMl, waterDensityKgPerM3(waterC), airKgPerM3, expansionPerK, waterC, referenceC);
  return simpleVolumeMl(massG) - volumeMl;
};

/** mL over °C of the water. */
export const simpleErrorCurve = (cost: SimpleCost): PlotPoint[] =>
  sample((waterC) => simpleErrorMl(cost, waterC), ...WORKING_RANGE_C, 50);

/** hPa over m, the heights a laboratory may stand at. */
export const atmosphereCurve = (): PlotPoint[] => sample(standardAtmosphereHpa, -430, 5000, 60);
