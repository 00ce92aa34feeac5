import type { Dilution, Stock } from './dilute.ts';
import { dilutionModels } from './dilute.ts';
import type { SolutionModel } from './influences.ts';
import type { SolidSolution } from './solid.ts';
import { solidModel } from './solid.ts';
import type { Standardisation, TitrationStandard } from './standardise.ts';
import { standardisationModel } from './standardise.ts';

/** A solution made before, with how it was made. */
export interface MadeBefore {
  known: 'preparation';
  /** `preparation:` and what names it. */
  key: string;
  recipe: Recipe;
}

export type DilutionRecipe = Omit<Dilution, 'stock'> & { stock: Exclude<Stock, { known: 'model' }> | MadeBefore };
export type StandardisationRecipe = Omit<Standardisation, 'standard'> & {
  standard: Exclude<TitrationStandard, { known: 'model' }> | MadeBefore;
};

/** All that a result is computed from, as plain data: kept, it gives the same model again. */
export type Recipe =
  | { way: 'solid'; solid: SolidSolution }
  | { way: 'dilution'; dilution: DilutionRecipe }
  | { way: 'standardisation'; standardisation: StandardisationRecipe };

/** Temperature the concentration of a recipe is quoted at, °C; null where it is a mass in a mass. */
export function quotedTemperatureC(recipe: Recipe): number | null {
  if (recipe.way === 'dilution') return recipe.dilution.quotedC;
  if (recipe.way === 'standardisation') return recipe.standardisation.temperature.valueC;
  const { madeUp } = recipe.solid;
  return madeUp.by === 'volume' ? madeUp.quotedC : null;
}

function withStock(dilution: DilutionRecipe): Dilution {
  const { stock } = dilution;
  if (stock.known !== 'preparation') return { ...dilution, stock };
  const quoted = quotedTemperatureC(stock.recipe);
  return {
    ...dilution,
    stock: { known: 'model', key: stock.key, model: recipeModel(stock.recipe) },
    ...(quoted === null ? {} : { stockQuotedC: quoted }),
  };
}

function withStandard(work: StandardisationRecipe): Standardisation {
  const { standard } = work;
  if (standard.known !== 'preparation') return { ...work, standard };
  const quotedC = quotedTemperatureC(standard.recipe) ?? work.temperature.valueC;
  return { ...work, standard: { known: 'model', key: standard.key, model: recipeModel(standard.recipe), quotedC } };
}

/** What a recipe gives: models after each step of a dilution, else one; results of single titrations. */
export interface RecipeModels {
  models: SolutionModel[];
  singles: number[] | null;
}

/**
 * Models of a recipe. A solution made before brings its own influences along, so that a vessel, a balance or an element
 * in both acts once.
 * @throws RangeError as the models of the three ways do
 * @source jcgm-100-2008, 5.2.2 and F.1.2.3 (what is shared is correlated)
 */
export function recipeModels(recipe: Recipe): RecipeModels {
  if (recipe.way === 'solid') return { models: [solidModel(recipe.solid)], singles: null };
  if (recipe.way === 'dilution') return { models: dilutionModels(withStock(recipe.dilution)), singles: null };
  const model = standardisationModel(withStandard(recipe.standardisation));
  return { models: [model], singles: model.singles };
}

/**
 * The model of the final result of a recipe.
 * @throws RangeError as the models of the three ways do
 * @source jcgm-100-2008, 5.1.2 and 5.2.2
 */
export function recipeModel(recipe: Recipe): SolutionModel {
  const last = recipeModels(recipe).models.at(-1);
  if (!last) throw new RangeError('a recipe has a step');
  return last;
}
