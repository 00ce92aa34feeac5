import { coverageFactor, effectiveDegreesOfFreedom } from '../coverage.ts';
import type { DrawnModel, DrawnPart } from '../monte-carlo.ts';
import { influenceUncertainty } from './influences.ts';
import type { Influence, InfluenceShape, SolutionModel } from './influences.ts';

/** One line of the budget of a solution. */
export interface SolutionLine {
  key: string;
  label: string;
  value: number;
  unit: string;
  standardUncertainty: number;
  distribution: InfluenceShape | 't' | 'none';
  /** null = infinite. */
  degreesOfFreedom: number | null;
  /** Change of the result for one unit of the influence. */
  sensitivity: number;
  /** In the unit of the result. */
  contribution: number;
  /** Share of the combined variance, 0 to 1. */
  share: number;
  source: string;
  assumed: boolean;
}

export interface Propagated {
  value: number;
  unit: string;
  lines: SolutionLine[];
  combined: number;
  /** null = infinite. */
  degreesOfFreedom: number | null;
  coverageFactor: number;
  coverageProbability: number;
  expanded: number;
}

/** Step for an influence without spread, as a share of its value. */
const EXACT_STEP = 1e-6;

function sensitivityOf(model: SolutionModel, values: Float64Array, index: number, uncertainty: number): number {
  const at = values[index] as number;
  const step = uncertainty > 0 ? uncertainty : Math.max(Math.abs(at), 1) * EXACT_STEP;
  values[index] = at + step;
  const above = model.output(values);
  values[index] = at - step;
  const below = model.output(values);
  values[index] = at;
  return (above - below) / (2 * step);
}

function distributionOf({ shape, spread, degreesOfFreedom }: Influence): SolutionLine['distribution'] {
  if (spread === 0) return 'none';
  return shape === 'normal' && degreesOfFreedom !== null ? 't' : shape;
}

/**
 * Result of a model with its budget: sensitivities by central differences one standard uncertainty wide, u_c as the
 * root of the sum of squares, k from Student's t at the effective degrees of freedom.
 * @param probability coverage probability, above 0 and below 1
 * @source jcgm-100-2008, 5.1.2, 5.1.3 (note 2), G.4.1; eurachem-cg-4-2012, appendix E.2 (spreadsheet method)
 */
export function propagate(model: SolutionModel, probability: number): Propagated {
  const values = Float64Array.from(model.influences, ({ value }) => value);
  const value = model.output(values);
  const lines = model.influences.map((influence, index): SolutionLine => {
    const { key, label, unit, degreesOfFreedom, source, assumed } = influence;
    const standardUncertainty = influenceUncertainty(influence);
    const sensitivity = sensitivityOf(model, values, index, standardUncertainty);
    const contribution = Math.abs(sensitivity) * standardUncertainty;
    const distribution = distributionOf(influence);
    const line = { key, label, value: influence.value, unit, standardUncertainty, distribution, degreesOfFreedom };
    return { ...line, sensitivity, contribution, share: 0, source, assumed };
  });
  const variance = lines.reduce((sum, { contribution }) => sum + contribution ** 2, 0);
  for (const line of lines) line.share = variance === 0 ? 0 : line.contribution ** 2 / variance;
  const combined = Math.sqrt(variance);
  // The formula of effective degrees of freedom is the same in every unit.
  const degreesOfFreedom = effectiveDegreesOfFreedom(
    lines.map((line) => ({ contributionMl: line.contribution, degreesOfFreedom: line.degreesOfFreedom })),
  );
  const factor = coverageFactor(probability, degreesOfFreedom);
  const expanded = factor * combined;
  const { unit } = model;
  const coverage = { coverageFactor: factor, coverageProbability: probability, expanded };
  return { value, unit, lines, combined, degreesOfFreedom, ...coverage };
}

function partsOf(influence: Influence, input: number): DrawnPart[] {
  const { shape, spread, degreesOfFreedom } = influence;
  if (spread === 0) return [];
  if (shape === 'rectangular') return [{ shape, spread, input }];
  if (shape === 'triangular') {
    // A triangle is the sum of two rectangles of half its width.
    const half: DrawnPart = { shape: 'rectangular', spread: spread / 2, input };
    return [half, half];
  }
  return degreesOfFreedom === null
    ? [{ shape: 'normal', spread, input }]
    : [{ shape: 'student', spread, degreesOfFreedom, input }];
}

/**
 * The same model to draw from: every influence once a draw, however many steps share it.
 * @source jcgm-101-2008, 6.4 (distributions of the inputs), 7.2 to 7.4 (drawing and evaluating)
 */
export function drawnModel(model: SolutionModel): DrawnModel {
  const best = model.influences.map(({ value }) => value);
  const row = new Float64Array(best.length);
  return {
    inputs: best.length,
    parts: model.influences.flatMap(partsOf),
    evaluate: (deviations, values) => {
      for (let draw = 0; draw < values.length; draw += 1) {
        for (let input = 0; input < row.length; input += 1) {
          row[input] = (best[input] as number) + ((deviations[input] as Float64Array)[draw] as number);
        }
        values[draw] = model.output(row);
      }
    },
  };
}
