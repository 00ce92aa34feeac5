import type { Explanation } from '../explain.ts';
import { leaf } from '../explain.ts';
import {
  explainMass,
  explainMolarMass,
  explainPurity,
  explainTemperature,
  explainVolume,
  temperatureRatio,
  typedLeaf,
  volumeAtMl,
} from './explain-parts.ts';
import type { TypedDigits } from './explain-parts.ts';
import type { DilutionRecipe, Recipe, StandardisationRecipe } from './recipe.ts';
import { quotedTemperatureC, recipeModel, recipeModels } from './recipe.ts';
import type { Solid, SolidSolution } from './solid.ts';
import { MASS_SCALE } from './solid.ts';
import { molarMass } from './substance.ts';

function valueOf(recipe: Recipe): number {
  const model = recipeModel(recipe);
  return model.output(model.influences.map(({ value }) => value));
}

const GUIDE = { source: 'eurachem-cg-4-2012' } as const;

/** Moles, or mass of what is counted, that one gram of the solid brings, without its purity. */
function explainYield(solid: Solid, unit: SolidSolution['unit']): { formula: string; parts: Explanation[] } {
  const { counted, atoms } = solid;
  const times = leaf('z', 'counted in one formula', counted?.perFormula ?? 1, '1', {});
  if (unit === 'mol/L') {
    const molar = explainMolarMass(atoms);
    return counted ? { formula: 'z/M', parts: [times, molar] } : { formula: '1/M', parts: [molar] };
  }
  const scale = leaf('s', `g to ${unit}`, MASS_SCALE[unit], '1', {});
  if (!counted) return { formula: 's', parts: [scale] };
  const part = { ...explainMolarMass(counted.atoms, 'Mz'), label: 'molar mass of what is counted' };
  return { formula: 's·z·Mz/M', parts: [scale, times, part, explainMolarMass(atoms)] };
}

function explainSolid(making: SolidSolution, value: number, typed: TypedDigits): Explanation {
  const { solid, portion, madeUp, unit } = making;
  const gives = explainYield(solid, unit);
  const mass = explainMass(portion, solid.density, typed['mass']);
  const common = { symbol: 'c', label: 'concentration', value, unit, ...GUIDE, locator: 'example A1' };
  const parts = [mass, ...explainPurity(solid.purity, typed), ...gives.parts];
  if (madeUp.by === 'mass') {
    const whole = explainMass(madeUp.portion, madeUp.density ?? { known: 'off' }, typed['solution'], 'solution');
    return { ...common, formula: `m·P·(1 − w)·(${gives.formula})/ms`, parts: [...parts, whole] };
  }
  const { vessel, temperature, expansion, quotedC } = madeUp;
  return {
    ...common,
    formula: `1000·m·P·(1 − w)·(${gives.formula})·f/V`,
    parts: [
      ...parts,
      explainVolume(vessel, temperature, typed),
      explainTemperature(expansion, temperature, quotedC, typed),
    ],
  };
}

function explainStock({ stock }: DilutionRecipe, typed: TypedDigits): Explanation {
  const common = { symbol: 'c0', label: 'concentration of the stock' };
  if (stock.known === 'concentration') return typedLeaf('c0', common.label, stock.value, stock.unit, typed['stock']);
  if (stock.known === 'preparation') {
    const unit = recipeModel(stock.recipe).unit;
    return {
      ...common,
      formula: null,
      value: valueOf(stock.recipe),
      unit,
      parts: [],
      locator: typed['stock'] ?? stock.key,
    };
  }
  return {
    ...common,
    formula: '1000·ρ·w0/M',
    value: (1000 * stock.densityGPerMl * stock.massFraction) / molarMass(stock.atoms).gPerMol,
    unit: 'mol/L',
    parts: [
      typedLeaf('ρ', 'density of the stock', stock.densityGPerMl, 'g/mL', typed['density']),
      typedLeaf('w0', 'mass fraction of the stock', stock.massFraction, '1', typed['mass-fraction']),
      explainMolarMass(stock.atoms),
    ],
  };
}

/** The stock as it is when it is measured out. */
function explainPoured(dilution: DilutionRecipe, typed: TypedDigits): Explanation {
  const { stock, temperature, expansion } = dilution;
  const known = explainStock(dilution, typed);
  const quotedC = stock.known === 'preparation' ? quotedTemperatureC(stock.recipe) : (dilution.stockQuotedC ?? null);
  if (quotedC === null) return known;
  const ratio = temperatureRatio(expansion, temperature.valueC, quotedC);
  const factor = { ...explainTemperature(expansion, temperature, quotedC, {}), symbol: 'f0' };
  return {
    ...known,
    symbol: 'ct',
    label: 'stock at the temperature it is measured out',
    formula: 'c0/f0',
    value: (known.value ?? 0) / ratio,
    parts: [known, { ...factor, label: 'to the temperature the stock is quoted at' }],
  };
}

function explainDilution(dilution: DilutionRecipe, value: number, typed: TypedDigits): Explanation {
  const { steps, temperature, expansion, quotedC } = dilution;
  let before = explainPoured(dilution, typed);
  for (const [index, { deliveries, madeUpIn }] of steps.entries()) {
    const names = deliveries.map((_, time) => (deliveries.length === 1 ? 'Vd' : `Vd${time + 1}`));
    const delivered = deliveries.map((one, time) => explainVolume(one, temperature, typed, names[time]));
    const sum = deliveries.reduce((total, one) => total + volumeAtMl(one, temperature.valueC), 0);
    const formula = `${before.symbol}·${names.length === 1 ? 'Vd' : `(${names.join(' + ')})`}/Vm`;
    const { unit } = before;
    before = {
      symbol: `c${index + 1}`,
      label: `concentration after step ${index + 1}, at the temperature of filling`,
      formula,
      value: ((before.value ?? 0) * sum) / volumeAtMl(madeUpIn, temperature.valueC),
      unit,
      parts: [before, ...delivered, explainVolume(madeUpIn, temperature, typed, 'Vm')],
    };
  }
  return {
    symbol: 'c',
    label: 'concentration',
    formula: `${before.symbol}·f`,
    value,
    unit: before.unit,
    ...GUIDE,
    locator: 'appendix E.2',
    parts: [before, explainTemperature(expansion, temperature, quotedC, typed)],
  };
}

/** What one titration is worked out from; the standard first. */
function explainStandard(
  work: StandardisationRecipe,
  index: number,
  typed: TypedDigits,
): { formula: string; parts: Explanation[] } {
  const { standard, titrations, temperature } = work;
  const titrand = titrations[index]?.titrand;
  if (standard.known === 'solid' && titrand?.by === 'mass') {
    const { density, purity, atoms } = standard.solid;
    const mass = explainMass(titrand.portion, density, typed[`mass ${index + 1}`]);
    return {
      formula: '1000·n·m·P·(1 − w)/(M·(V − Ve))',
      parts: [mass, ...explainPurity(purity, typed), explainMolarMass(atoms)],
    };
  }
  const strength = standard.known === 'preparation' ? valueOf(standard.recipe) : 0;
  const locator = typed['stock'] ?? 'its own result';
  const parts = [leaf('cs', 'concentration of the standard solution', strength, 'mol/L', { locator })];
  if (titrand?.by === 'volume') parts.push(explainVolume(titrand.pipette, temperature, typed, 'Vp'));
  return { formula: 'n·cs·Vp/((V − Ve)·fs)', parts };
}

function explainStandardisation(work: StandardisationRecipe, value: number, typed: TypedDigits): Explanation {
  const { singles } = recipeModels({ way: 'standardisation', standardisation: work });
  const { standard, temperature } = work;
  const quotedC = standard.known === 'preparation' ? quotedTemperatureC(standard.recipe) : null;
  const parts = work.titrations.map(({ delivered }, index): Explanation => {
    const by = explainStandard(work, index, typed);
    const scale =
      quotedC === null ? [] : [{ ...explainTemperature({ by: 'water' }, temperature, quotedC, {}), symbol: 'fs' }];
    return {
      symbol: `c${index + 1}`,
      label: `result of titration ${index + 1}`,
      formula: by.formula,
      value: singles?.[index] ?? null,
      unit: 'mol/L',
      ...GUIDE,
      locator: 'example A2',
      parts: [
        typedLeaf('n', 'moles of titrant for one of the standard', work.molesPerMole, '1', typed['moles-per-mole']),
        ...by.parts,
        explainVolume(delivered, temperature, typed),
        typedLeaf('Ve', 'volume at the end point of a blank', work.endPointMl, 'mL', typed['end-point']),
        ...scale,
      ],
    };
  });
  const formula = parts.length === 1 ? 'c1' : `(${parts.map(({ symbol }) => symbol).join(' + ')})/${parts.length}`;
  return { symbol: 'c', label: 'concentration of the titrant', formula, value, unit: 'mol/L', parts };
}

/**
 * A concentration unfolded down to typed digits, calibrations and sources.
 * @param typed the digits somebody typed, by what they are
 * @throws RangeError as the models of the three ways do
 * @source eurachem-cg-4-2012, A1 and A2
 */
export function explainSolution(recipe: Recipe, typed: TypedDigits): Explanation {
  const value = valueOf(recipe);
  switch (recipe.way) {
    case 'solid':
      return explainSolid(recipe.solid, value, typed);
    case 'dilution':
      return explainDilution(recipe.dilution, value, typed);
    case 'standardisation':
      return explainStandardisation(recipe.standardisation, value, typed);
  }
}
