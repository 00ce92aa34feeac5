/** A titrant standardised against a solid or a solution. */
import { numberOf, stepOf } from '../metrology/decimal.ts';
import type { TypedDigits } from '../metrology/solutions/explain-parts.ts';
import type { StandardisationRecipe } from '../metrology/solutions/recipe.ts';
import { FEWEST_REPLICATES, type Titrand, type Titration, titrationApart } from '../metrology/solutions/standardise.ts';
import { isApproximate } from '../metrology/solutions/substance.ts';
import type { WeighedPortion } from '../metrology/solutions/weighing.ts';
import type { Caution } from './contract-cautions.ts';
import type { StandardisationBody } from './contract.ts';
import { readFormula } from './formula.ts';
import type { Gathering } from './gathering.ts';
import type { Resolved } from './resolved.ts';
import { knownSubstance } from './substances.ts';
import { balanceOf, correctionOf, findBalance, solidOf, temperatureOf } from './weighed.ts';

type TitrationBody = StandardisationBody['titrations'][number];

interface Standard {
  standard: StandardisationRecipe['standard'];
  approximate: boolean;
  cautions: readonly Caution[];
  typed: TypedDigits;
  titrandOf: (titration: TitrationBody, pointer: string) => Promise<Titrand | null>;
}

const solidStandard = async (
  gathering: Gathering,
  body: StandardisationBody,
  substance: Extract<StandardisationBody['standard'], { from: 'solid' }>['substance'],
  altitudeM: string | null,
): Promise<Standard> => {
  const { solid, cautions } = await solidOf(gathering, substance, body, { pointer: '#/standard/substance', altitudeM });
  const balance = await findBalance(gathering, body);
  const weighing = balanceOf(balance, body.adjustedToday);
  return {
    standard: { known: 'solid', solid },
    approximate: isApproximate(solid.primaryStandard, solid.purity),
    cautions,
    typed: { purity: substance.purity, water: substance.waterMassFraction },
    titrandOf: async ({ massG, pipette }, pointer) => {
      if (pipette !== undefined) gathering.refuse(`${pointer}/pipette`, 'A solid standard is weighed, not pipetted.');
      if (massG === undefined) return gathering.refuse(`${pointer}/massG`, 'The mass of the standard is missing.');
      const readingG = numberOf(massG);
      const correctionG = correctionOf(gathering, balance, readingG);
      const portion: WeighedPortion = { ...weighing, key: 'portion', readingG, correctionG, stepG: stepOf(massG) };
      return { by: 'mass', portion };
    },
  };
};

const preparedStandard = async (gathering: Gathering, preparationId: string): Promise<Standard | null> => {
  const pointer = '#/standard/preparationId';
  const found = await gathering.preparation(preparationId, pointer);
  if (!found) return null;
  const { number, result } = found.stored;
  if (result.unit !== 'mol/L')
    return gathering.refuse(pointer, `${number} is stated in ${result.unit}; a standard solution is in mol/L.`);
  return {
    standard: found.made,
    approximate: result.approximate,
    cautions: [],
    typed: { stock: `preparation ${number}` },
    titrandOf: async ({ massG, pipette }, at) => {
      if (massG !== undefined) gathering.refuse(`${at}/massG`, 'A standard solution is pipetted, not weighed.');
      if (pipette === undefined)
        return gathering.refuse(`${at}/pipette`, 'The pipette of the standard solution is missing.');
      const vessel = await gathering.vesselAt(pipette, 'deliver', `${at}/pipette`);
      return vessel && { by: 'volume', pipette: vessel };
    },
  };
};

const titrationsOf = async (
  gathering: Gathering,
  body: StandardisationBody,
  known: Standard | null,
): Promise<Titration[]> => {
  const titrations: Titration[] = [];
  for (const [index, titration] of body.titrations.entries()) {
    const pointer = `#/titrations/${index}`;
    const titrand = (await known?.titrandOf(titration, pointer)) ?? null;
    const [from, to] = [numberOf(titration.buretteFromMl), numberOf(titration.buretteToMl)];
    const delivered = await gathering.burette(body.buretteId, from, to, pointer);
    if (to > from && to - from <= numberOf(body.endPointMl))
      gathering.refuse(`${pointer}/buretteToMl`, 'The blank alone takes as much: nothing is left for the standard.');
    if (titrand && delivered) titrations.push({ titrand, delivered });
  }
  return titrations;
};

const cautionsOfTitrant = async (
  gathering: Gathering,
  { titrant }: StandardisationBody,
): Promise<readonly Caution[]> => {
  if (titrant.formula === undefined) return [];
  const read = await readFormula(titrant.formula);
  if ('refused' in read) gathering.refuse('#/titrant/formula', read.refused);
  return 'refused' in read ? [] : (knownSubstance(read.formula)?.cautions ?? []);
};

const typedReadings = ({ titrations }: StandardisationBody): TypedDigits =>
  Object.fromEntries(titrations.map(({ massG }, index) => [`mass ${index + 1}`, massG]));

/** @param singles results of single titrations, mol/L */
export const tellOfApart = (gathering: Gathering, singles: readonly number[]): void => {
  const place = titrationApart(singles);
  if (place === null) return;
  const single = Number((singles[place] ?? NaN).toPrecision(4));
  gathering.say(
    'titration-apart',
    `Titration ${place + 1}, ${single} mol/L, lies apart from the others. Look for a cause; it counts as long as it stands here.`,
  );
};

const tellOfFew = (gathering: Gathering, count: number, repeatabilityPercent: number): void => {
  if (count >= FEWEST_REPLICATES) return;
  const counts =
    repeatabilityPercent > 0
      ? `the repeatability of ${repeatabilityPercent} % counts in its place`
      : 'no repeatability was given, so nothing counts for it';
  gathering.say('few-titrations', `${count} of ${FEWEST_REPLICATES} titrations: their spread is not seen, ${counts}.`);
};

export const resolveStandardisation = async (
  gathering: Gathering,
  body: StandardisationBody,
  altitudeM: string | null,
): Promise<Resolved> => {
  const { standard: named } = body;
  const known =
    named.from === 'preparation'
      ? await preparedStandard(gathering, named.preparationId)
      : await solidStandard(gathering, body, named.substance, altitudeM);
  const titrations = await titrationsOf(gathering, body, known);
  const own = await cautionsOfTitrant(gathering, body);
  gathering.settle();
  if (!known) throw new Error('a standard that cannot be used was refused');
  tellOfFew(gathering, titrations.length, numberOf(body.repeatabilityPercent));
  const standardisation: StandardisationRecipe = {
    standard: known.standard,
    titrations,
    molesPerMole: numberOf(body.molesPerMole),
    endPointMl: numberOf(body.endPointMl),
    endPointHalfWidthMl: numberOf(body.endPointHalfWidthMl),
    repeatabilityRelative: numberOf(body.repeatabilityPercent) / 100,
    temperature: temperatureOf(body),
  };
  return {
    recipe: { way: 'standardisation', standardisation },
    planned: false,
    approximate: known.approximate,
    cautions: [...known.cautions, ...own],
    toWeigh: null,
    typed: {
      ...known.typed,
      ...typedReadings(body),
      temperature: body.temperatureC,
      'end-point': body.endPointMl,
      'moles-per-mole': body.molesPerMole,
    },
  };
};
