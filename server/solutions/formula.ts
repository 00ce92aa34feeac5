/** A formula as somebody typed it, read into atoms. */
import { atomicWeight } from '../metrology/solutions/atomic-weights.ts';
import type { AtomCount } from '../metrology/solutions/substance.ts';

export interface ReadFormula {
  /** As it is written here: plain digits, `·` before what crystallises along. */
  formula: string;
  atoms: AtomCount[];
}
export type FormulaReading = ReadFormula | { refused: string };

const SUBSCRIPTS = '₀₁₂₃₄₅₆₇₈₉';
const DOTS = /[·•∙⋅*.]/;
const PART = /^(\d*)((?:[A-Z][a-z]?|[()]|\d+)+)$/;
const ELEMENTS = /[A-Z][a-z]?/g;
/** A count that is zero, begins with one or is larger than any formula's. */
const BAD_COUNT = /(?<!\d)(?:0\d*|\d{4,})/;

const normalised = (typed: string): string =>
  typed
    .replaceAll(/[₀-₉]/g, (digit) => String(SUBSCRIPTS.indexOf(digit)))
    .replaceAll('[', '(')
    .replaceAll(']', ')')
    .replaceAll(/\s/g, '');

const closes = (part: string): boolean => {
  let depth = 0;
  for (const sign of part) {
    if (sign === '(') depth += 1;
    if (sign === ')') depth -= 1;
    if (depth < 0) return false;
  }
  return depth === 0;
};

/** What is wrong with the signs of one part, before anything is counted. */
const refusalOf = (part: string, whole: string): string | null => {
  if (part === '') return 'There is nothing on one side of the dot. Write it as in CuSO4·5H2O.';
  if (/^\d+$/.test(part)) return 'Whole numbers only: write half a water as (CaSO4)2·H2O.';
  const strange = /[^A-Za-z\d()]/.exec(part);
  if (strange)
    return `${strange[0]} does not belong into a formula. Write it without charge or state, as in CuSO4·5H2O.`;
  if (!PART.test(part)) return `${whole} cannot be read. Elements begin with a capital letter, as in NaCl.`;
  if (BAD_COUNT.test(part)) return 'A number of atoms is a whole number from 1 to 999.';
  if (!closes(part)) return 'The brackets of the formula do not close.';
  if (part.includes('()') || /[(]\d/.test(part)) return 'Something is missing in the brackets.';
  const unknown = (part.match(ELEMENTS) ?? []).find((symbol) => atomicWeight(symbol) === null);
  return unknown === undefined ? null : `${unknown} is no element with a standard atomic weight.`;
};

/** Adds the atoms of one part. */
const addAtoms = async (counts: Map<string, number>, part: string): Promise<void> => {
  // Loaded at the first formula: it brings the isotopes of all elements along.
  const { MF } = await import('mf-parser');
  const [, times = '', body = ''] = PART.exec(part) ?? [];
  const { atoms } = new MF(body).getInfo();
  for (const [symbol, count] of Object.entries(atoms))
    counts.set(symbol, (counts.get(symbol) ?? 0) + count * Number(times || '1'));
};

/**
 * Reads `CuSO4·5H2O`, with `.` or `*` for the dot, subscripts or digits, round or square brackets. The signs are
 * checked here: the library passes over what it does not know, and takes a dot between digits for a decimal point.
 * @returns the atoms, or in plain words why it cannot be read
 */
export const readFormula = async (typed: string): Promise<FormulaReading> => {
  const text = normalised(typed);
  if (text === '') return { refused: 'The formula is empty.' };
  const parts = text.split(DOTS);
  const counts = new Map<string, number>();
  for (const part of parts) {
    const refused = refusalOf(part, typed.trim());
    if (refused !== null) return { refused };
    await addAtoms(counts, part);
  }
  const atoms = [...counts].map(([symbol, count]) => ({ symbol, count }));
  return { formula: parts.join('·'), atoms };
};
