import type { InstrumentNumbers } from '../../../server/metrology/instrument-numbers.ts';
import type { Solid } from '../../../server/metrology/solutions/solid.ts';
import type { LiquidTemperature, VesselInUse } from '../../../server/metrology/solutions/vessel-in-use.ts';
import type { WeighedPortion } from '../../../server/metrology/solutions/weighing.ts';

export const BALANCE: InstrumentNumbers['balance'] = {
  named: true,
  resolutionG: 0.0001,
  repeatabilityG: 0.0001,
  linearityG: 0.0002,
  driftRelative: null,
  expandedG: null,
  expandedRelative: null,
  coverageFactor: 2,
  degreesOfFreedom: null,
  covers: [],
};

export function portion(readingG: number, more: Partial<WeighedPortion> = {}): WeighedPortion {
  return {
    key: 'portion',
    readingG,
    stepG: 0.0001,
    balance: BALANCE,
    balanceKey: 'balance',
    balanceTag: 'balance',
    adjustedToday: true,
    statedUncertaintyG: null,
    ...more,
  };
}

/** Glass that does not expand, read by the eye that calibrated it, each filling alike: textbooks' ware. */
export function vessel(tag: string, nominalMl: number, more: Partial<VesselInUse> = {}): VesselInUse {
  return {
    key: `vessel:${tag}`,
    tag,
    measured: null,
    nominalMl,
    toleranceMl: null,
    classed: true,
    spread: { sdMl: 0, degreesOfFreedom: null },
    otherPersonMl: 0,
    expansion: { value: 0, relativeHalfWidth: 0 },
    referenceC: 20,
    ...more,
  };
}

export function room(valueC: number, halfWidthC: number): LiquidTemperature {
  return { key: 'room', valueC, halfWidthC };
}

export const KHP: Solid = {
  key: 'khp',
  atoms: [
    { symbol: 'K', count: 1 },
    { symbol: 'H', count: 5 },
    { symbol: 'C', count: 8 },
    { symbol: 'O', count: 4 },
  ],
  counted: null,
  purity: { massFraction: 1, halfWidth: 0.0005, certified: true, waterMassFraction: 0, waterHalfWidth: 0 },
  primaryStandard: 'yes',
  density: { known: 'off' },
};
