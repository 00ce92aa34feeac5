import type { DecimalText } from './record.ts';
import type { Finding, TrialResult } from './result.ts';

/** One quantity of the air as it is computed with. */
export interface AirQuantity {
  value: number;
  measured: boolean;
  correction: number;
}

export interface Air {
  temperatureC: AirQuantity;
  pressureHpa: AirQuantity;
  humidityPercent: AirQuantity;
  densityKgPerM3: number;
  /** Pressure of the water vapour in it, Pa; null where temperature or humidity was not measured. */
  vapourPressurePa: number | null;
  findings: readonly Finding[];
  /** Instruments without a table of corrections, with and without the water's thermometer; null for none. */
  uncorrected: Finding | null;
  uncorrectedWithoutWater: Finding | null;
  /** The same for a trial's result; trials in the same air share it. */
  used: TrialResult['air'];
}

/** What a trial itself says of the air; it wins over the conditions. */
export interface OwnAir {
  airTemperatureC?: DecimalText | null | undefined;
  airPressureHpa?: DecimalText | null | undefined;
  relativeHumidityPercent?: DecimalText | null | undefined;
}
