import { balanceComponents, evaporationComponent, resolutionG } from './balance-components.ts';
import type { Component } from './component.ts';
import { lineOf } from './component.ts';
import { combinedUncertainty, coverageFactor, effectiveDegreesOfFreedom } from './coverage.ts';
import { airComponents, waterComponents } from './fluid-components.ts';
import type { MeanInputs } from './mean-inputs.ts';
import { meniscusComponent } from './meniscus.ts';
import { predictedRepeatability, repeatabilityComponent } from './repeatability.ts';
import type { Repeatability } from './repeatability.ts';
import type { BudgetLine, Finding } from './result.ts';
import { sensitivities } from './sensitivity.ts';
import type { Task } from './task.ts';
import { vesselComponents } from './vessel-components.ts';

/**
 * Everything uncertain about the mean of a point but its repeatability, in the order it is listed.
 * @source jcgm-100-2008, 4.3 and 5.1, one component for each input of the volume equation
 */
export function commonComponents(
  task: Task,
  inputs: MeanInputs,
  toleranceMl: number | null,
  findings: Finding[],
): Component[] {
  const { setup, instruments, mark } = task;
  const by = sensitivities(inputs);
  return [
    ...balanceComponents(instruments.balance, inputs, by, findings),
    ...waterComponents(instruments.thermometer, inputs, by),
    ...airComponents(instruments, inputs, by, setup.altitudeM !== null),
    ...vesselComponents(setup.expansion, inputs, by),
    meniscusComponent(mark, toleranceMl, inputs.conditions.meniscusRule ?? null, findings),
    evaporationComponent(inputs, by),
  ];
}

/**
 * Spread of one trial as balance and mark let foresee it; the balance repeats to one last digit where not known.
 * @source common-practice, repeatability of a balance about its last digit
 */
export function foreseenRepeatability(task: Task, inputs: MeanInputs, toleranceMl: number | null): Repeatability {
  const { balance } = task.instruments;
  const repeatabilityG = balance.repeatabilityG ?? resolutionG(balance, inputs);
  return predictedRepeatability(repeatabilityG * inputs.perG, task.mark, toleranceMl, task.setup.record.vessel);
}

/** Uncertainty of the mean of a point. */
export interface Uncertainty {
  lines: BudgetLine[];
  combinedMl: number;
  /** null = infinite. */
  degreesOfFreedom: number | null;
  coverageFactor: number;
  expandedMl: number;
}

/**
 * Combines the lines of a budget: u_c, effective degrees of freedom, k at the coverage probability, U = k·u_c.
 * @source jcgm-100-2008, 5.1.2, G.4.1 and 6.2.1
 */
export function combineLines(lines: BudgetLine[], probability: number): Uncertainty {
  const combinedMl = combinedUncertainty(lines);
  const degreesOfFreedom = effectiveDegreesOfFreedom(lines);
  const factor = coverageFactor(probability, degreesOfFreedom);
  return { lines, combinedMl, degreesOfFreedom, coverageFactor: factor, expandedMl: factor * combinedMl };
}

/**
 * Budget and uncertainty of the mean of n trials with a given spread, beside components already worked out.
 * @source jcgm-100-2008, 5.1.2 and annex G
 */
export function meanUncertainty(
  common: readonly Component[],
  repeatability: Repeatability,
  n: number,
  probability: number,
): Uncertainty {
  const lines = [repeatabilityComponent(repeatability, n), ...common].map(lineOf);
  return combineLines(lines, probability);
}
