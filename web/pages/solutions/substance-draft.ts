/** A solid as typed, and as the body names it. */
import type { FormulaReply, SubstanceBody } from '../../../server/solutions/contract.ts';
import { substanceText as words } from '../../messages/en-solutions.ts';
import { type FieldReader, filled } from './reading.ts';

export interface SubstanceDraft {
  formula: string;
  name: string;
  /** Empty: as known of the formula. */
  primaryStandard: SubstanceBody['primaryStandard'] | '';
  purityPercent: string;
  purityHalfWidthPercent: string;
  purityCertified: boolean;
  waterPercent: string;
  waterHalfWidthPercent: string;
  densityKgPerM3: string;
  lot: string;
  countedFormula: string;
  countedPer: string;
}

export const NO_SUBSTANCE: SubstanceDraft = {
  formula: '',
  name: '',
  primaryStandard: '',
  purityPercent: '100',
  purityHalfWidthPercent: '0.5',
  purityCertified: false,
  waterPercent: '',
  waterHalfWidthPercent: '',
  densityKgPerM3: '',
  lot: '',
  countedFormula: '',
  countedPer: '1',
};

export const nameOf = (draft: SubstanceDraft, known: FormulaReply['known'] | undefined): string =>
  draft.name.trim() || (known?.name ?? draft.formula.trim());

export const primaryStandardOf = (draft: SubstanceDraft, known: FormulaReply['known'] | undefined) =>
  draft.primaryStandard || (known?.primaryStandard ?? 'unknown');

/** @param at place of the substance in the body */
export function readSubstance(
  reader: FieldReader,
  at: string,
  draft: SubstanceDraft,
  known: FormulaReply['known'] | undefined,
) {
  const { purityPercent, purityHalfWidthPercent, countedFormula } = draft;
  return {
    name: nameOf(draft, known),
    formula: reader.text(`${at}/formula`, draft.formula, words.formulaMissing),
    primaryStandard: primaryStandardOf(draft, known),
    purity: reader.fraction(`${at}/purity`, purityPercent),
    purityHalfWidth: reader.fraction(`${at}/purityHalfWidth`, purityHalfWidthPercent),
    purityCertified: draft.purityCertified,
    ...reader.optionalFraction('waterMassFraction', `${at}/waterMassFraction`, draft.waterPercent),
    ...reader.optionalFraction('waterHalfWidth', `${at}/waterHalfWidth`, draft.waterHalfWidthPercent),
    ...reader.optional('densityKgPerM3', `${at}/densityKgPerM3`, draft.densityKgPerM3, 'kg/m3'),
    ...filled('lot', draft.lot),
    ...(countedFormula.trim() === '' ? {} : { counted: counted(reader, at, draft) }),
  };
}

const counted = (reader: FieldReader, at: string, { countedFormula, countedPer }: SubstanceDraft) => {
  if (!/^\s*\d{1,3}\s*$/.test(countedPer)) reader.refuseTyped(`${at}/counted/perFormula`, words.countedWhole);
  return { formula: countedFormula.trim(), perFormula: Number(countedPer) };
};
