import type { TrialOnWire } from '../../../server/calibrations/contract.ts';
import { decimalsOf } from '../../parts/rounding.ts';

/** Decimals of the widest number in each column; all others stand on the same decimal mark. */
export interface MostDecimals {
  empty: number;
  filled: number;
  water: number;
}

type Readings = TrialOnWire['used'];

export const mostDecimals = (trials: readonly Readings[]): MostDecimals => {
  const most = (field: keyof Readings) => Math.max(0, ...trials.map((trial) => decimalsOf(trial[field])));
  return { empty: most('emptyG'), filled: most('filledG'), water: most('waterTemperatureC') };
};
