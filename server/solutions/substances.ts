/** Substances that schools and small laboratories make solutions of. */
import { CAUTIONS, type Caution } from './contract-cautions.ts';

export interface Substance {
  /** As `readFormula` writes it; the other ways it is usually written. */
  formulas: readonly string[];
  name: string;
  primaryStandard: 'yes' | 'no';
  /** Of the solid, or of the concentrated liquid, at room temperature. */
  densityKgPerM3: number | null;
  cautions: readonly Caution[];
}

const row = (
  formulas: string,
  name: string,
  primaryStandard: 'yes' | 'no',
  densityKgPerM3: number | null,
  cautions = '',
): Substance => ({
  formulas: formulas.split(' '),
  name,
  primaryStandard,
  densityKgPerM3,
  cautions: CAUTIONS.filter((caution) => cautions.split(' ').includes(caution)),
});

/**
 * Densities as handbooks of chemistry list them, from memory; the buoyancy correction takes them as known to 2 %. What
 * counts as a primary standard is common practice, no source.
 */
const SUBSTANCES: readonly Substance[] = [
  row('KHC8H4O4 C8H5KO4 C8H5O4K', 'potassium hydrogen phthalate', 'yes', 1636),
  row('Na2CO3', 'sodium carbonate', 'yes', 2540, 'irritant dry-before-weighing'),
  row('NaCl', 'sodium chloride', 'yes', 2165, 'dry-before-weighing'),
  row('KCl', 'potassium chloride', 'yes', 1988, 'dry-before-weighing'),
  row('K2Cr2O7', 'potassium dichromate', 'yes', 2676, 'toxic oxidiser environment licensed-practice'),
  row('KIO3', 'potassium iodate', 'yes', 3890, 'oxidiser'),
  row('AgNO3', 'silver nitrate', 'yes', 4350, 'corrosive oxidiser environment keep-dark stains'),
  row('H2C2O4·2H2O C2H2O4·2H2O', 'oxalic acid dihydrate', 'yes', 1653, 'harmful'),
  row('Na2C2O4', 'sodium oxalate', 'yes', 2340, 'harmful'),
  row('C7H6O2 C6H5COOH', 'benzoic acid', 'yes', 1266, 'irritant'),
  row('CaCO3', 'calcium carbonate', 'yes', 2710, 'dry-before-weighing'),
  row('CuSO4·5H2O', 'copper(II) sulfate pentahydrate', 'no', 2286, 'harmful environment loses-water'),
  row('ZnSO4·7H2O', 'zinc sulfate heptahydrate', 'no', 1970, 'harmful environment loses-water'),
  row('C12H22O11', 'sucrose', 'no', 1581),
  row('NaOH', 'sodium hydroxide', 'no', 2130, 'corrosive heat-of-dissolution takes-up-air'),
  row('HCl', 'hydrochloric acid', 'no', 1180, 'corrosive acid-into-water fumes'),
  row('H2SO4', 'sulfuric acid', 'no', 1840, 'corrosive acid-into-water heat-of-dissolution'),
  row('KMnO4', 'potassium permanganate', 'no', 2703, 'oxidiser harmful environment stains keep-dark'),
  row('Na2S2O3·5H2O', 'sodium thiosulfate pentahydrate', 'no', 1690, 'loses-water'),
  row('I2', 'iodine', 'no', 4933, 'harmful fumes stains keep-dark'),
  row('C10H14N2Na2O8·2H2O Na2C10H14N2O8·2H2O Na2H2C10H12N2O8·2H2O', 'disodium edetate dihydrate', 'no', null),
];

const BY_FORMULA = new Map(SUBSTANCES.flatMap((substance) => substance.formulas.map((one) => [one, substance])));

/** The substance that is written so; a formula with the same atoms may be another one. */
export const knownSubstance = (formula: string): Substance | null => BY_FORMULA.get(formula) ?? null;
