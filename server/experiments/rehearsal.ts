/**
 * A made-up class, to rehearse with: readings as a class could have typed them, drawn from a seed. How far each kind of
 * ware is off, and how far groups and fillings differ, are shares of the nominal volume that look like a classroom;
 * common practice, no source.
 */
import { numberOf } from '../metrology/decimal.ts';
import type { VesselKind } from '../metrology/record.ts';
import { RandomStream } from '../metrology/random-stream.ts';
import { massGFrom } from '../metrology/volume.ts';
import { waterDensityKgPerM3 } from '../metrology/water-density.ts';
import type { ExperimentPlan, WareRow } from './contract.ts';
import { wareOf, wareToleranceMl } from './ware-facts.ts';

interface Shares {
  bias: number;
  betweenGroups: number;
  withinGroup: number;
}

const CAREFUL: Shares = { bias: -0.0003, betweenGroups: 0.0004, withinGroup: 0.0005 };
const GRADUATED: Shares = { bias: -0.002, betweenGroups: 0.002, withinGroup: 0.002 };
const SHARES: Record<VesselKind, Shares> = {
  'volumetric-flask': CAREFUL,
  'single-volume-pipette': CAREFUL,
  pycnometer: CAREFUL,
  'piston-pipette': { bias: 0.001, betweenGroups: 0.002, withinGroup: 0.002 },
  burette: { bias: -0.0008, betweenGroups: 0.001, withinGroup: 0.001 },
  'graduated-pipette': GRADUATED,
  'measuring-cylinder': { bias: -0.008, betweenGroups: 0.006, withinGroup: 0.006 },
  beaker: { bias: 0.03, betweenGroups: 0.03, withinGroup: 0.02 },
  'conical-flask': { bias: 0.03, betweenGroups: 0.03, withinGroup: 0.02 },
  other: GRADUATED,
};
/** Drops differ more than a scale is read. */
const DROPS: Shares = { bias: -0.06, betweenGroups: 0.03, withinGroup: 0.02 };

const WATER_C = 21;
const AIR_KG_PER_M3 = 1.2;
const EXPANSION_PER_K = 18e-6;
const SENSITIVE_STEP_G = 0.01;

export interface MadeUpTrial {
  row: string;
  emptyG: string;
  filledG: string;
  waterTemperatureC: string;
}
export interface MadeUpGroup {
  predictions: { row: string; volumeMl: string; withinMl: string }[];
  trials: MadeUpTrial[];
}

const decimalsOfStep = (stepG: number): number => Math.max(0, Math.round(-Math.log10(stepG)));

const finestStepG = ({ balances }: ExperimentPlan): number =>
  Math.min(
    ...balances.map(({ resolutionG }) => (resolutionG === undefined ? SENSITIVE_STEP_G : numberOf(resolutionG))),
  );

const volumesMl = (row: WareRow, vesselBias: number, draw: RandomStream): number[] => {
  const nominal = numberOf(row.nominalVolumeMl);
  const shares = row.drops === undefined ? SHARES[row.kind] : DROPS;
  const group = vesselBias + shares.betweenGroups * draw.normal();
  return Array.from(
    { length: row.trialsPerGroup },
    () => nominal * (1 + shares.bias + group + shares.withinGroup * draw.normal()),
  );
};

const trialOf = (row: WareRow, volumeMl: number, decimals: number, draw: RandomStream): MadeUpTrial => {
  const waterC = row.waterTemperatureC === undefined ? WATER_C + draw.uniform() : numberOf(row.waterTemperatureC);
  const nominal = numberOf(row.nominalVolumeMl);
  const referenceC = numberOf(row.referenceTemperatureC);
  const empty = 20 + 0.6 * nominal + draw.uniform();
  const water = waterDensityKgPerM3(waterC);
  const mass = massGFrom(volumeMl, water, AIR_KG_PER_M3, EXPANSION_PER_K, waterC, referenceC);
  return {
    row: row.key,
    emptyG: empty.toFixed(decimals),
    filledG: (empty + mass).toFixed(decimals),
    waterTemperatureC: waterC.toFixed(1),
  };
};

/** What a group may have foreseen: the nominal volume, and twice the limit of the vessel or a tenth. */
const predictionOf = (row: WareRow): MadeUpGroup['predictions'][number] => {
  const toleranceMl = wareToleranceMl(wareOf({ conditions: {}, balances: [] }, row, null));
  const nominal = numberOf(row.nominalVolumeMl);
  return {
    row: row.key,
    volumeMl: row.nominalVolumeMl,
    withinMl: (toleranceMl === null ? nominal / 10 : 2 * toleranceMl).toPrecision(2),
  };
};

/** The same seed makes the same class. @param groups how many */
export const madeUpClass = (plan: ExperimentPlan, groups: number, seed: number): MadeUpGroup[] => {
  const draw = new RandomStream(seed);
  const decimals = decimalsOfStep(finestStepG(plan));
  // Rows of a crossed design are vessels of one kind: each is off by itself.
  const vesselBias = plan.rows.map(
    (row) => SHARES[row.kind].bias * draw.normal() * (plan.design === 'crossed' ? 2 : 0),
  );
  return Array.from({ length: groups }, () => ({
    predictions: plan.asks.prediction ? plan.rows.map(predictionOf) : [],
    trials: plan.rows.flatMap((row, index) =>
      volumesMl(row, vesselBias[index] ?? 0, draw).map((volumeMl) => trialOf(row, volumeMl, decimals, draw)),
    ),
  }));
};
