/** What a solution comes to: value, uncertainty, budget, findings, the way to the number. */
import { readLaboratory } from '../laboratory/store.ts';
import { decimalsFor } from '../metrology/display.ts';
import { explainSolution } from '../metrology/solutions/explain-solution.ts';
import { propagate, type Propagated } from '../metrology/solutions/propagate.ts';
import { quotedTemperatureC, recipeModels, type Recipe } from '../metrology/solutions/recipe.ts';
import { resolveStandardisation, tellOfApart } from './by-titration.ts';
import { cautionsFor } from './contract-cautions.ts';
import type { SolutionBody, SolutionResult } from './contract.ts';
import { resolveSolid } from './from-solid.ts';
import { resolveDilution } from './from-stock.ts';
import type { Gathering } from './gathering.ts';
import type { Resolved } from './resolved.ts';

const MOST_APPROXIMATE_DIGITS = 2;

/** Digits of a value whose last place is the second digit of its uncertainty. */
const significantDigits = ({ value, expanded }: Propagated, approximate: boolean): number => {
  const places = Math.floor(Math.log10(Math.abs(value))) + 1 + decimalsFor(expanded, 2);
  return Math.max(1, approximate ? Math.min(MOST_APPROXIMATE_DIGITS, places) : places);
};

const onWire = (found: Propagated, approximate: boolean) => ({
  value: found.value,
  unit: found.unit,
  expandedUncertainty: found.expanded,
  coverageFactor: found.coverageFactor,
  combinedUncertainty: found.combined,
  effectiveDegreesOfFreedom: found.degreesOfFreedom,
  relativePercent: (100 * found.expanded) / Math.abs(found.value),
  significantDigits: significantDigits(found, approximate),
});

const resolve = (gathering: Gathering, body: SolutionBody, altitudeM: string | null): Promise<Resolved> => {
  switch (body.way) {
    case 'solid':
      return resolveSolid(gathering, body, altitudeM);
    case 'dilution':
      return resolveDilution(gathering, body);
    case 'standardisation':
      return resolveStandardisation(gathering, body, altitudeM);
  }
};

const meets = (gathering: Gathering, accuracyPercent: string | undefined, relativePercent: number): boolean | null => {
  if (accuracyPercent === undefined) return null;
  const does = relativePercent <= Number(accuracyPercent);
  if (!does)
    gathering.say(
      'accuracy-not-met',
      `The expanded uncertainty is ${relativePercent.toPrecision(2)} %, above the ${accuracyPercent} % wanted.`,
    );
  return does;
};

const wayOf = (recipe: Recipe): Parameters<typeof cautionsFor>[0] =>
  recipe.way === 'solid' && recipe.solid.madeUp.by === 'mass' ? 'solid-by-mass' : recipe.way;

export interface Solved {
  result: SolutionResult;
  recipe: Recipe;
}

/**
 * The result of what somebody typed; nothing is stored.
 * @throws Problem with every field that cannot be taken, OutsideValidity beyond the range of a formula
 */
export const solve = async (gathering: Gathering, body: SolutionBody): Promise<Solved> => {
  const { altitudeM, defaults } = await readLaboratory(gathering.db);
  const { recipe, planned, approximate, cautions, toWeigh, typed } = await resolve(gathering, body, altitudeM);
  const coverageProbability = body.coverageProbability ?? defaults.coverageProbability;
  const { models, singles } = recipeModels(recipe);
  if (singles) tellOfApart(gathering, singles);
  const found = models.map((model) => propagate(model, Number(coverageProbability)));
  const last = found.at(-1);
  if (!last) throw new Error('a recipe has a step');
  const shown = onWire(last, approximate);
  const meetsAccuracy = meets(gathering, body.accuracyPercent, shown.relativePercent);
  if (approximate && !gathering.findings.some(({ code }) => code === 'stock-approximate'))
    gathering.say('approximate', 'No primary standard and no certificate: approximate until standardised.');
  const result: SolutionResult = {
    way: recipe.way,
    ...shown,
    coverageProbability,
    quotedAtC: quotedTemperatureC(recipe),
    planned,
    approximate,
    singles,
    steps: recipe.way === 'dilution' ? found.map((one) => onWire(one, approximate)) : null,
    toWeigh,
    vessels: gathering.vessels,
    budget: last.lines,
    meetsAccuracy,
    cautions: cautionsFor(wayOf(recipe), cautions),
    findings: gathering.findings,
    explanation: explainSolution(recipe, typed),
  };
  return { result, recipe };
};
