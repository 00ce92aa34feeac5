import { ATOMIC_WEIGHTS_SOURCE, atomicWeight } from './atomic-weights.ts';
import type { Influences, Reader } from './influences.ts';

/** Atoms in one formula unit. */
export interface AtomCount {
  symbol: string;
  count: number;
}

/**
 * Molar mass in g/mol with its standard uncertainty, each element once however often it stands in the formula.
 * @throws RangeError for an element without a standard atomic weight
 * @source ciaaw-2024, table of standard atomic weights; eurachem-cg-4-2012, A2.4 (atoms of one element correlated)
 */
export function molarMass(atoms: readonly AtomCount[]): { gPerMol: number; standardUncertainty: number } {
  let gPerMol = 0;
  let variance = 0;
  for (const { symbol, count } of atoms) {
    const weight = requireWeight(symbol);
    gPerMol += count * weight.value;
    variance += (count * weight.halfWidth) ** 2 / 3;
  }
  return { gPerMol, standardUncertainty: Math.sqrt(variance) };
}

function requireWeight(symbol: string): { value: number; halfWidth: number } {
  const weight = atomicWeight(symbol);
  if (!weight) throw new RangeError(`no standard atomic weight of ${symbol}`);
  return weight;
}

/**
 * Reader of a molar mass in g/mol; an element is one influence for all formulas of a solution.
 * @throws RangeError for an element without a standard atomic weight
 * @source ciaaw-2024, table of standard atomic weights
 */
export function takeMolarMass(influences: Influences, atoms: readonly AtomCount[]): Reader {
  const terms = atoms.map(({ symbol, count }) => {
    const { value, halfWidth } = requireWeight(symbol);
    const reader = influences.take({
      key: `atom:${symbol}`,
      label: `atomic weight of ${symbol}`,
      value,
      unit: 'g/mol',
      shape: 'rectangular',
      spread: halfWidth,
      degreesOfFreedom: null,
      source: ATOMIC_WEIGHTS_SOURCE.locator,
      assumed: false,
    });
    return { reader, count };
  });
  return (values) => {
    let sum = 0;
    for (const { reader, count } of terms) sum += count * reader(values);
    return sum;
  };
}

/** Whether a substance can be weighed as a standard. */
export type PrimaryStandard = 'yes' | 'no' | 'unknown';

/** What a bottle holds, as mass fractions. */
export interface Purity {
  /** Mass fraction of the substance in the dry solid, above 0 to 1. */
  massFraction: number;
  /** Half-width of a rectangular distribution. */
  halfWidth: number;
  /** A certificate states them; else somebody took them from the label. */
  certified: boolean;
  /** Mass fraction of water in the solid as weighed, from 0 to below 1. */
  waterMassFraction: number;
  waterHalfWidth: number;
}

/** Least half-width of the purity of what is no primary standard. */
export const APPROXIMATE_HALF_WIDTH = 0.02;

/**
 * A solution of this substance is approximate until it has been standardised.
 * @source common-practice, only primary standards are weighed to a concentration
 */
export function isApproximate(primaryStandard: PrimaryStandard, purity: Pick<Purity, 'certified'>): boolean {
  return primaryStandard !== 'yes' && !purity.certified;
}

/** Half-width that counts for a purity: 2 % at least where the solution is approximate. */
export function purityHalfWidth(primaryStandard: PrimaryStandard, purity: Purity): number {
  return isApproximate(primaryStandard, purity) ? Math.max(purity.halfWidth, APPROXIMATE_HALF_WIDTH) : purity.halfWidth;
}

/**
 * Reader of the share of a solid that is the substance, purity times what is not water.
 * @param key names the bottle; two weighings from one bottle share it
 * @source eurachem-cg-4-2012, A1.4 and A2.4, purity as rectangular
 */
export function takePurity(
  influences: Influences,
  key: string,
  purity: Purity,
  primaryStandard: PrimaryStandard,
): Reader {
  const halfWidth = purityHalfWidth(primaryStandard, purity);
  const common = { unit: '1', shape: 'rectangular', degreesOfFreedom: null } as const;
  const pure = influences.take({
    ...common,
    key: `${key}:purity`,
    label: 'purity of the solid',
    value: purity.massFraction,
    spread: halfWidth,
    source:
      halfWidth > purity.halfWidth ? 'no primary standard: 2 % at least' : purity.certified ? 'certificate' : 'label',
    assumed: halfWidth > purity.halfWidth,
  });
  const water = influences.take({
    ...common,
    key: `${key}:water`,
    label: 'water in the solid',
    value: purity.waterMassFraction,
    spread: purity.waterHalfWidth,
    source: 'typed',
    assumed: false,
  });
  return (values) => pure(values) * (1 - water(values));
}
