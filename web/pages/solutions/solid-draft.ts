/** A solution from a solid as typed, and as the body names it. */
import type { ConcentrationUnit } from '../../../server/metrology/solutions/solid.ts';
import type { FormulaReply } from '../../../server/solutions/contract.ts';
import { type KeepDraft, NOTHING_KEPT } from './keeping.ts';
import { FieldReader } from './reading.ts';
import {
  NO_WEIGHING,
  readTemperatures,
  readWeighing,
  type TemperatureDraft,
  USUAL_TEMPERATURE,
  type WeighingDraft,
} from './setting-draft.ts';
import { nameOf, NO_SUBSTANCE, readSubstance, type SubstanceDraft } from './substance-draft.ts';
import { NO_VESSEL, readVessel, type Tagged, type VesselDraft } from './tagged.ts';

export interface SolidDraft {
  substance: SubstanceDraft;
  targetValue: string;
  targetUnit: ConcentrationUnit;
  flask: VesselDraft;
  solutionG: string;
  temperatures: TemperatureDraft;
  weighing: WeighingDraft;
  accuracyPercent: string;
  massG: string;
  keep: KeepDraft;
}

export const EMPTY_SOLID: SolidDraft = {
  substance: NO_SUBSTANCE,
  targetValue: '',
  targetUnit: 'mol/L',
  flask: NO_VESSEL,
  solutionG: '',
  temperatures: USUAL_TEMPERATURE,
  weighing: NO_WEIGHING,
  accuracyPercent: '',
  massG: '',
  keep: NOTHING_KEPT,
};

/** The next solution has mostly the same room and the same balance. */
export const nextSolid = ({ temperatures, weighing }: SolidDraft): SolidDraft => ({
  ...EMPTY_SOLID,
  temperatures,
  weighing,
});

const BY_MASS: readonly ConcentrationUnit[] = ['g/g', 'mg/kg'];
export const isByMass = (unit: ConcentrationUnit): boolean => BY_MASS.includes(unit);

export const titleOf = (draft: SolidDraft, known: FormulaReply['known'] | undefined): string => {
  const name = nameOf(draft.substance, known);
  return name === '' || draft.targetValue.trim() === ''
    ? ''
    : `${name} ${draft.targetValue.trim()} ${draft.targetUnit}`;
};

/** @returns the body with its problems; without a mass typed it is a plan */
export function readSolid(draft: SolidDraft, known: FormulaReply['known'] | undefined, tagged: Tagged) {
  const reader = new FieldReader();
  const { targetUnit } = draft;
  const madeUp = isByMass(targetUnit)
    ? { by: 'mass', solutionG: reader.number('madeUp/solutionG', draft.solutionG, 'g') }
    : {
        by: 'volume',
        ...readVessel(reader, 'madeUp', draft.flask, tagged),
        ...readTemperatures(reader, 'madeUp/', draft.temperatures),
      };
  const body = {
    way: 'solid',
    substance: readSubstance(reader, 'substance', draft.substance, known),
    target: { value: reader.number('target/value', draft.targetValue), unit: targetUnit },
    madeUp,
    ...readWeighing(reader, draft.weighing),
    ...reader.optional('accuracyPercent', 'accuracyPercent', draft.accuracyPercent, '%'),
  };
  const isPlanReadable = Object.keys(reader.problems).length === 0;
  const massG = draft.massG.trim() === '' ? null : reader.number('weighing/massG', draft.massG, 'g');
  const isReadable = Object.keys(reader.problems).length === 0;
  return {
    reader,
    plan: body,
    whole: massG === null ? null : { ...body, weighing: { massG } },
    isPlanReadable,
    isReadable,
  };
}
