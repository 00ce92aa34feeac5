import { airFactor } from './solid-buoyancy.ts';
import type { SolidDensity } from './solid-buoyancy.ts';
import type { InstrumentNumbers } from '../instrument-numbers.ts';
import { DEFAULTS } from '../uncertainty-defaults.ts';
import type { Influence, Influences, Reader } from './influences.ts';

/** A portion weighed as the difference of two readings, or weighed into a tared vessel. */
export interface WeighedPortion {
  /** Names this weighing among those of a solution. */
  key: string;
  /** Difference of the readings, or what a tared balance showed, g. */
  readingG: number;
  /** What the balance's certificate adds to that, g; missing in what was recorded before. */
  correctionG?: number;
  /** Last digit of the readings, where the balance does not name its own. */
  stepG: number;
  balance: InstrumentNumbers['balance'];
  balanceKey: string;
  balanceTag: string;
  adjustedToday: boolean;
  /** The standard uncertainty as somebody states it; then the balance adds nothing of its own. */
  statedUncertaintyG: number | null;
}

function triangular(key: string, label: string, halfWidth: number, source: string, assumed: boolean): Influence {
  const spread = { shape: 'triangular', spread: halfWidth, degreesOfFreedom: null } as const;
  return { key, label, value: 0, unit: 'g', ...spread, source, assumed };
}

/** Two readings of the same half-width make a triangle twice as wide. */
function readingInfluences(portion: WeighedPortion): Influence[] {
  const { key, balance, balanceTag, stepG } = portion;
  const covers = (influence: string): boolean =>
    (balance.expandedG !== null || balance.expandedRelative !== null) && balance.covers.includes(influence);
  const step = balance.resolutionG ?? stepG;
  const linearity = balance.linearityG ?? DEFAULTS.linearitySteps.value * step;
  const influences: Influence[] = [];
  if (!covers('resolution')) {
    const source = balance.resolutionG === null ? 'last digit of the reading' : balanceTag;
    influences.push(
      triangular(`${key}:digits`, 'last digits of the balance', step, source, balance.resolutionG === null),
    );
  }
  if (!covers('linearity')) {
    const source = balance.linearityG === null ? 'default, two last digits' : balanceTag;
    influences.push(
      triangular(`${key}:linearity`, 'linearity of the balance', 2 * linearity, source, balance.linearityG === null),
    );
  }
  const repeatability = balance.repeatabilityG ?? step;
  influences.push({
    key: `${key}:repeatability`,
    label: 'repeatability of the balance',
    value: 0,
    unit: 'g',
    shape: 'normal',
    spread: Math.SQRT2 * repeatability,
    degreesOfFreedom: balance.repeatabilityG === null ? DEFAULTS.predictedDegreesOfFreedom.value : null,
    source: balance.repeatabilityG === null ? 'one last digit' : balanceTag,
    assumed: balance.repeatabilityG === null,
  });
  return influences;
}

/** The slope of the balance, the same in all its weighings. */
function slopeInfluence(portion: WeighedPortion): Influence {
  const { balance, balanceKey, balanceTag, readingG, adjustedToday } = portion;
  const certified = balance.expandedG !== null || balance.expandedRelative !== null;
  const common = { key: `${balanceKey}:slope`, label: `calibration of ${balanceTag}`, value: 0, unit: '1' };
  if (certified) {
    const expanded = (balance.expandedG ?? 0) / readingG + (balance.expandedRelative ?? 0);
    const spread = { shape: 'normal', spread: expanded / balance.coverageFactor } as const;
    return { ...common, ...spread, degreesOfFreedom: balance.degreesOfFreedom, source: 'certificate', assumed: false };
  }
  const halfWidth = adjustedToday ? DEFAULTS.calibrationAdjusted.value : DEFAULTS.calibration.value;
  const source = adjustedToday ? 'default, adjusted on the day' : 'default';
  return { ...common, shape: 'rectangular', spread: halfWidth, degreesOfFreedom: null, source, assumed: true };
}

/**
 * Mass of a portion in g: reading with the correction of the balance's certificate, its slope and digits, buoyancy of
 * what was weighed. The slope is one influence for all weighings on one balance; the uncertainty of the certificate
 * stands in it.
 * @source jcgm-100-2008, 4.3 and 5.1; oiml-d-28-2004, buoyancy against weights of 8000 kg/m3
 */
export function takeMass(influences: Influences, portion: WeighedPortion, density: SolidDensity): Reader {
  const { key, readingG, correctionG = 0, statedUncertaintyG } = portion;
  const stated = statedUncertaintyG !== null;
  const reading = influences.take({
    key: `${key}:mass`,
    label: 'mass weighed',
    value: readingG,
    unit: 'g',
    shape: 'normal',
    spread: statedUncertaintyG ?? 0,
    degreesOfFreedom: null,
    source: stated ? 'stated' : 'reading',
    assumed: false,
  });
  const buoyancy = airFactor(influences, density);
  if (stated) return (values) => (reading(values) + correctionG) * buoyancy(values);
  const errors = readingInfluences(portion).map((influence) => influences.take(influence));
  const slope = influences.take(slopeInfluence(portion));
  return (values) => {
    let mass = (reading(values) + correctionG) * (1 + slope(values));
    for (const error of errors) mass += error(values);
    return mass * buoyancy(values);
  };
}

/** Least repeatability that may be claimed, in last digits. */
const LEAST_REPEATABILITY_STEPS = 0.41;
/** Twice the repeatability may be this share of the load. */
const WEIGHING_SHARE = 0.001;

/**
 * Smallest load in g a balance weighs to 0.10 %: 2000 times its repeatability, which counts as 0.41 last digits at
 * least; the repeatability is one last digit where it is not known.
 * @source usp-41-2013, repeatability
 */
export function minimumLoadG(
  balance: Pick<InstrumentNumbers['balance'], 'repeatabilityG' | 'resolutionG'>,
): number | null {
  const { repeatabilityG, resolutionG } = balance;
  const repeatability = repeatabilityG ?? resolutionG;
  if (repeatability === null) return null;
  return (2 * Math.max(repeatability, LEAST_REPEATABILITY_STEPS * (resolutionG ?? 0))) / WEIGHING_SHARE;
}
