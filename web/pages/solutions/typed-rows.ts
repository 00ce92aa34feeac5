/** What was typed for a solution, as rows of name and value. */
import type {
  DilutionBody,
  SolidBody,
  StandardisationBody,
  SubstanceBody,
} from '../../../server/solutions/contract.ts';
import { recordText as words } from '../../messages/en-solution-record.ts';
import { substanceText } from '../../messages/en-solutions.ts';
import { shiftMark } from '../../parts/read-number.ts';

interface TypedRow {
  name: string;
  value: string;
  unit?: string;
}
type Typed = SolidBody | DilutionBody | StandardisationBody;

const PERCENT_PLACES = 2;
/** `0.995` as `99.5`; the digits typed where a per cent would need digits nobody typed. */
const percent = (fraction: string): { value: string; unit: string } => {
  const shifted = shiftMark(fraction, PERCENT_PLACES);
  return shifted === null ? { value: fraction, unit: 'g/g' } : { value: shifted, unit: '%' };
};

const ofSubstance = (
  { name, formula, purity, purityHalfWidth, lot, primaryStandard }: SubstanceBody,
  label: string = words.substance,
): TypedRow[] => [
  { name: label, value: name },
  { name: substanceText.formula, value: formula },
  { name: substanceText.purity, ...percent(purity) },
  { name: substanceText.purityHalfWidth, ...percent(purityHalfWidth) },
  { name: substanceText.primaryStandard, value: substanceText.primary[primaryStandard] },
  ...(lot ? [{ name: substanceText.lot, value: lot }] : []),
];

const temperature = ({ temperatureC }: { temperatureC: string }): TypedRow => ({
  name: words.temperature,
  value: temperatureC,
  unit: '°C',
});

function ofSolid(body: SolidBody): TypedRow[] {
  const { substance, target, weighing, madeUp } = body;
  return [
    ...ofSubstance(substance),
    { name: words.wanted, value: target.value, unit: target.unit },
    ...(weighing ? [{ name: words.weighed, value: weighing.massG, unit: 'g' }] : []),
    madeUp.by === 'mass' ? { name: words.solutionMass, value: madeUp.solutionG, unit: 'g' } : temperature(madeUp),
  ];
}

const ofDilution = (body: DilutionBody): TypedRow[] => [
  ...('name' in body.stock ? [{ name: words.stock, value: body.stock.name }] : []),
  temperature(body),
];

const ofStandardisation = (body: StandardisationBody): TypedRow[] => [
  { name: words.titrant, value: body.titrant.name },
  ...(body.titrant.formula === undefined ? [] : [{ name: words.titrantFormula, value: body.titrant.formula }]),
  ...('substance' in body.standard ? ofSubstance(body.standard.substance, words.standard) : []),
  { name: words.molesPerMole, value: body.molesPerMole },
  temperature(body),
];

/** @param solution as it was typed; the record carries it loosely */
export function typedRows(solution: { way: Typed['way'] }): TypedRow[] {
  const typed = typedOf(solution);
  switch (typed.way) {
    case 'solid':
      return ofSolid(typed);
    case 'dilution':
      return ofDilution(typed);
    case 'standardisation':
      return ofStandardisation(typed);
  }
}

/** As it was typed; the record carries it loosely. */
export const typedOf = (solution: { way: Typed['way'] }): Typed => solution as Typed;

/** The solution of the shelf that a dilution began with, or that a titrant was measured against. */
export function stockIdOf(solution: { way: Typed['way'] }): string | null {
  const typed = typedOf(solution);
  if (typed.way === 'dilution') return typed.stock.from === 'preparation' ? typed.stock.preparationId : null;
  if (typed.way === 'standardisation')
    return typed.standard.from === 'preparation' ? typed.standard.preparationId : null;
  return null;
}
