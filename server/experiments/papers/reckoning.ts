/** One filling of the class to reckon with by hand, from its two readings to its volume. Pure. */
import { fixed, signed } from '../../metrology/display.ts';
import type { Trial } from './figure-texts.ts';
import { nameOf, type ShownRow } from './shown-rows.ts';

export interface Reckoning {
  ask: string;
  answer: string;
}

/** Digits behind the point of a density that keep a volume of some hundred mL right to 0.01 mL. */
const DENSITY_DECIMALS = 5;

/** Ware whose fillings lie closest together shows best what a correction does. */
const closest = (rows: readonly ShownRow[]): ShownRow | undefined => {
  const spread = ({ figures }: ShownRow): number => figures.relative.sdPercent ?? Number.POSITIVE_INFINITY;
  return [...rows].filter(({ counted }) => counted.length > 0).sort((one, other) => spread(one) - spread(other))[0];
};

const ofFilling = (row: ShownRow, trial: Trial): Reckoning[] => {
  const { readingDecimals: decimals, ware } = row;
  const { massG, balanceCorrectionG, simpleVolumeMl, densityVolumeMl, volumeMl, usedWaterTemperatureC } = trial;
  // As many digits as the mass is told with, and one more, so that it adds up.
  const correction =
    balanceCorrectionG === 0
      ? ''
      : ` The certificate of the balance adds ${signed(balanceCorrectionG, decimals + 1)} g to the difference.`;
  const density = fixed(massG / densityVolumeMl, DENSITY_DECIMALS);
  const water = trial.waterTemperatureC ?? String(usedWaterTemperatureC);
  const simple = fixed(simpleVolumeMl, decimals);
  const rounded = (value: number): number => Number(value.toFixed(decimals));
  return [
    {
      ask: `Group ${trial.group}, ${nameOf(ware)}: empty ${trial.emptyG} g, filled ${trial.filledG} g.${correction} What is the mass of the water?`,
      answer: `${fixed(massG, decimals)} g`,
    },
    { ask: 'Take a gram for a millilitre. What volume is that?', answer: `${simple} mL` },
    {
      ask: `The water had ${water} °C, where a millilitre of it has ${density} g. What volume is that?`,
      answer: `${fixed(densityVolumeMl, decimals)} mL`,
    },
    {
      ask: `Corrected also for the air and the glass it is ${fixed(volumeMl, decimals)} mL. How much does a gram for a millilitre leave out?`,
      answer: `${signed(rounded(volumeMl) - rounded(simpleVolumeMl), decimals)} mL`,
    },
  ];
};

/** None where nothing counts. */
export const reckoningsOf = (rows: readonly ShownRow[]): Reckoning[] => {
  const row = closest(rows);
  const [trial] = row?.counted ?? [];
  return row === undefined || trial === undefined ? [] : ofFilling(row, trial);
};
