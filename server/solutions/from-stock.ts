/** A dilution, in one step or several. */
import { numberOf } from '../metrology/decimal.ts';
import type { DilutionRecipe } from '../metrology/solutions/recipe.ts';
import { isByVolume } from '../metrology/solutions/solid.ts';
import type { TypedDigits } from '../metrology/solutions/explain-parts.ts';
import type { Caution } from './contract-cautions.ts';
import type { DilutionBody, SolidBody, StockBody } from './contract.ts';
import { readFormula } from './formula.ts';
import type { Gathering } from './gathering.ts';
import type { Resolved } from './resolved.ts';
import { knownSubstance } from './substances.ts';
import { expansionOf, temperatureOf } from './weighed.ts';

/** Labels and certificates state a concentration or a density at room temperature. */
const STATED_AT_C = 20;

interface Stock {
  stock: DilutionRecipe['stock'];
  approximate: boolean;
  cautions: readonly Caution[];
  typed: TypedDigits;
}

const preparedStock = async (gathering: Gathering, preparationId: string): Promise<Stock | null> => {
  const pointer = '#/stock/preparationId';
  const found = await gathering.preparation(preparationId, pointer);
  if (!found) return null;
  const { number, result } = found.stored;
  if (!isByVolume(result.unit as SolidBody['target']['unit']))
    return gathering.refuse(pointer, `${number} is stated as a mass in a mass; a pipette measures out a volume.`);
  return {
    stock: found.made,
    approximate: result.approximate,
    cautions: result.cautions,
    typed: { stock: `preparation ${number}` },
  };
};

const certifiedStock = (named: Extract<StockBody, { from: 'certificate' }>): Stock => {
  const { value, unit, expandedUncertainty, coverageFactor } = named;
  return {
    stock: {
      known: 'concentration',
      key: 'stock',
      value: numberOf(value),
      unit,
      standardUncertainty: numberOf(expandedUncertainty) / numberOf(coverageFactor),
      degreesOfFreedom: null,
    },
    approximate: false,
    cautions: [],
    typed: { stock: value },
  };
};

const labelledStock = async (
  gathering: Gathering,
  named: Extract<StockBody, { from: 'label' }>,
): Promise<Stock | null> => {
  const read = await readFormula(named.formula);
  if ('refused' in read) return gathering.refuse('#/stock/formula', read.refused);
  const { densityGPerMl, densityHalfWidth, massFraction, massFractionHalfWidth } = named;
  return {
    stock: {
      known: 'density',
      key: 'stock',
      atoms: read.atoms,
      densityGPerMl: numberOf(densityGPerMl),
      densityHalfWidth: numberOf(densityHalfWidth),
      massFraction: numberOf(massFraction),
      massFractionHalfWidth: numberOf(massFractionHalfWidth),
    },
    approximate: true,
    cautions: knownSubstance(read.formula)?.cautions ?? [],
    typed: { density: densityGPerMl, 'mass-fraction': massFraction },
  };
};

/** What is diluted, as it can be computed with; null where it was refused. */
export const stockOf = (gathering: Gathering, stock: StockBody): Promise<Stock | null> | Stock => {
  if (stock.from === 'preparation') return preparedStock(gathering, stock.preparationId);
  return stock.from === 'certificate' ? certifiedStock(stock) : labelledStock(gathering, stock);
};

const stepsOf = async (gathering: Gathering, body: DilutionBody): Promise<DilutionRecipe['steps']> => {
  const steps = [];
  for (const [index, step] of body.steps.entries()) {
    const pointer = `#/steps/${index}`;
    const deliveries = [];
    for (const [time, delivery] of step.deliveries.entries()) {
      const vessel = await gathering.vesselAt(delivery, 'deliver', `${pointer}/deliveries/${time}`);
      if (vessel) deliveries.push(vessel);
    }
    const madeUpIn = await gathering.vesselAt(step.madeUpIn, 'contain', `${pointer}/madeUpIn`);
    const poured = deliveries.reduce((sum, { nominalMl }) => sum + nominalMl, 0);
    if (madeUpIn && poured > madeUpIn.nominalMl)
      gathering.refuse(`${pointer}/madeUpIn`, `${poured} mL do not go into ${madeUpIn.nominalMl} mL.`);
    if (madeUpIn) steps.push({ deliveries, madeUpIn });
  }
  return steps;
};

export const resolveDilution = async (gathering: Gathering, body: DilutionBody): Promise<Resolved> => {
  const known = await stockOf(gathering, body.stock);
  const steps = await stepsOf(gathering, body);
  gathering.settle();
  if (!known) throw new Error('a stock that cannot be used was refused');
  const dilution: DilutionRecipe = {
    stock: known.stock,
    steps,
    temperature: temperatureOf(body),
    expansion: expansionOf(body.expansionPerK),
    quotedC: numberOf(body.quotedAtC),
    stockQuotedC: STATED_AT_C,
  };
  const { approximate, cautions } = known;
  return {
    recipe: { way: 'dilution', dilution },
    planned: false,
    approximate,
    cautions,
    toWeigh: null,
    typed: {
      ...known.typed,
      temperature: body.temperatureC,
      quoted: body.quotedAtC,
      expansion: body.expansionPerK,
    },
  };
};
