import type { ComponentName } from '../component.ts';
import type { BudgetLine } from '../result.ts';

/** What a budget owes to instruments that may have been the same on both occasions. */
export type SharedInstrument = 'balance' | 'thermometer';

/** The mean of one point on one occasion, with what says which of its components came anew that day. */
export interface Occasion {
  meanMl: number;
  budget: readonly BudgetLine[];
  /** Standard uncertainty in K of the thermometer's scale, the certificate's part of `water-temperature`; 0 for none. */
  thermometerScaleC: number;
  /** Which instrument with which certificate; null where none was named: then nothing is known to be shared. */
  certificates: Readonly<Record<SharedInstrument, string | null>>;
  /** Who set the meniscus. */
  people: readonly string[];
}

/** One component as far as the two occasions do not share it, mL. */
export interface IndependentPart {
  component: ComponentName;
  earlierMl: number;
  laterMl: number;
}

export interface Change {
  /** Later minus earlier mean, mL. */
  changeMl: number;
  /** Standard uncertainty of the change from what is independent, mL. */
  standardUncertaintyMl: number;
  /** E_Δ; null where nothing independent is uncertain. */
  normalisedChange: number | null;
  parts: IndependentPart[];
}

const ALWAYS: readonly ComponentName[] = [
  'repeatability',
  'balance-resolution',
  'air-temperature',
  'air-pressure',
  'air-humidity',
];
/** Belong to the balance as its certificate found it. */
const OF_THE_BALANCE: readonly ComponentName[] = ['balance-linearity', 'balance-calibration', 'balance-drift'];

function contributionMl(occasion: Occasion, component: ComponentName): number {
  return occasion.budget.find((line) => line.component === component)?.contributionMl ?? 0;
}

/** Last digit and gradient of the water's temperature; the scale of the same thermometer is common to both days. */
function waterMl(occasion: Occasion, shared: boolean): number {
  const line = occasion.budget.find((one) => one.component === 'water-temperature');
  if (line === undefined) return 0;
  const scale = shared ? occasion.thermometerScaleC : 0;
  const ofTheDay = Math.sqrt(Math.max(0, line.standardUncertainty ** 2 - scale ** 2));
  return Math.abs(line.sensitivity) * ofTheDay;
}

function sameCertificate(earlier: Occasion, later: Occasion, instrument: SharedInstrument): boolean {
  const certificate = earlier.certificates[instrument];
  return certificate !== null && certificate === later.certificates[instrument];
}

function samePeople(earlier: Occasion, later: Occasion): boolean {
  const [first, second] = [new Set(earlier.people), new Set(later.people)];
  return first.size === second.size && [...first].every((person) => second.has(person));
}

/**
 * Change of a vessel between two calibrations of the same point: E_Δ = (V₂ − V₁)/(2·√(u₁² + u₂²)), with the components
 * alone that the two occasions do not share. Independent are repeatability, the balance's last digit, last digit and
 * gradient of the water temperature, and the air; the meniscus where another person set it; balance and thermometer
 * where the certificate changed. Formulas, glass and weights are the same both times and cancel. |E_Δ| above 1: the
 * change is more than the two results let expect.
 * @source jcgm-100-2008, 5.2.2, inputs common to two results cancel in their difference; twice u as in 6.3.3
 */
export function changeBetween(earlier: Occasion, later: Occasion): Change {
  const names: ComponentName[] = [...ALWAYS];
  if (!samePeople(earlier, later)) names.push('meniscus');
  if (!sameCertificate(earlier, later, 'balance')) names.push(...OF_THE_BALANCE);
  const sharedScale = sameCertificate(earlier, later, 'thermometer');
  const parts: IndependentPart[] = names.map((component) => ({
    component,
    earlierMl: contributionMl(earlier, component),
    laterMl: contributionMl(later, component),
  }));
  parts.push({
    component: 'water-temperature',
    earlierMl: waterMl(earlier, sharedScale),
    laterMl: waterMl(later, sharedScale),
  });
  const variance = parts.reduce((sum, part) => sum + part.earlierMl ** 2 + part.laterMl ** 2, 0);
  const standardUncertaintyMl = Math.sqrt(variance);
  const changeMl = later.meanMl - earlier.meanMl;
  return {
    changeMl,
    standardUncertaintyMl,
    normalisedChange: variance === 0 ? null : changeMl / (2 * standardUncertaintyMl),
    parts,
  };
}
