import type { BudgetLine } from './result.ts';

/** Every component of the budget, in the order it is listed. */
export const COMPONENT_NAMES = [
  'repeatability',
  'balance-resolution',
  'balance-linearity',
  'balance-calibration',
  'balance-drift',
  'water-temperature',
  'water-density',
  'water-purity',
  'air-temperature',
  'air-pressure',
  'air-humidity',
  'air-density-formula',
  'weights-density',
  'expansion',
  'vessel-temperature',
  'meniscus',
  'evaporation',
] as const;
export type ComponentName = (typeof COMPONENT_NAMES)[number];

/** One independent influence: standard deviation of a normal, half-width of a rectangular distribution. */
export interface Part {
  shape: 'normal' | 'rectangular';
  spread: number;
}

/** An input of the measurement with all that makes it uncertain. */
export interface Component {
  component: ComponentName;
  /** Best value of the input, null where it has none; `unit` is its unit and that of the parts. */
  value: number | null;
  unit: string;
  parts: readonly Part[];
  /** mL per unit. */
  sensitivity: number;
  /** null = infinite. */
  degreesOfFreedom: number | null;
  source: string;
  assumed: boolean;
}

export function normal(standardDeviation: number): Part {
  return { shape: 'normal', spread: standardDeviation };
}

export function rectangular(halfWidth: number): Part {
  return { shape: 'rectangular', spread: halfWidth };
}

/**
 * Standard uncertainty of one influence, in its own unit: half-width over √3 for a rectangular distribution.
 * @source jcgm-100-2008, 4.3.7
 */
export function standardUncertaintyOf(part: Part): number {
  return part.shape === 'normal' ? part.spread : part.spread / Math.sqrt(3);
}

/**
 * Standard uncertainty of independent influences together: the root of the sum of their squares.
 * @source jcgm-100-2008, 5.1.2
 */
export function combine(parts: readonly Part[]): number {
  if (parts.length === 0) return 0;
  const [only] = parts;
  if (parts.length === 1 && only !== undefined) return standardUncertaintyOf(only);
  let sum = 0;
  for (const part of parts) sum += standardUncertaintyOf(part) ** 2;
  return Math.sqrt(sum);
}

function distributionOf(component: Component, standardUncertainty: number): BudgetLine['distribution'] {
  if (standardUncertainty === 0) return 'none';
  if (component.component === 'repeatability') return 't';
  const [first] = component.parts;
  if (component.parts.length === 1 && first !== undefined) return first.shape;
  const alike = component.parts.every((part) => part.shape === first?.shape && part.spread === first.spread);
  return alike && first !== undefined ? first.shape : 'normal';
}

/** A component as a line of the budget. */
export function lineOf(component: Component): BudgetLine {
  const standardUncertainty = combine(component.parts);
  return {
    component: component.component,
    value: component.value,
    unit: component.unit,
    standardUncertainty,
    distribution: distributionOf(component, standardUncertainty),
    degreesOfFreedom: component.degreesOfFreedom,
    sensitivity: component.sensitivity,
    contributionMl: Math.abs(component.sensitivity) * standardUncertainty,
    source: component.source,
    assumed: component.assumed,
  };
}
