import type { TypedDigits } from '../metrology/solutions/explain-parts.ts';
import type { Recipe } from '../metrology/solutions/recipe.ts';
import type { Caution } from './contract-cautions.ts';
import type { SolutionResult } from './contract.ts';

/** A recipe with what its result is to say beside the numbers. */
export interface Resolved {
  recipe: Recipe;
  planned: boolean;
  approximate: boolean;
  cautions: readonly Caution[];
  toWeigh: SolutionResult['toWeigh'];
  typed: TypedDigits;
}
