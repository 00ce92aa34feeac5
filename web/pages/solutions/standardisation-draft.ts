/** A standardisation as typed, and as the body names it. */
import type { FormulaReply } from '../../../server/solutions/contract.ts';
import { standardisationText as words } from '../../messages/en-solutions.ts';
import { readNumbered } from './dilution-draft.ts';
import { type KeepDraft, NOTHING_KEPT } from './keeping.ts';
import type { Numbered } from './numbered.ts';
import { FieldReader, filled, type Problems } from './reading.ts';
import { NO_WEIGHING, readTemperature, readWeighing, USUAL_TEMPERATURE, type WeighingDraft } from './setting-draft.ts';
import { NO_SUBSTANCE, readSubstance, type SubstanceDraft } from './substance-draft.ts';
import { NO_VESSEL, readVessel, readVesselId, type Tagged, type VesselDraft } from './tagged.ts';

export interface TitrationDraft {
  massG: string;
  buretteFromMl: string;
  buretteToMl: string;
}
export const NO_TITRATION: TitrationDraft = { massG: '', buretteFromMl: '', buretteToMl: '' };

export interface StandardisationDraft {
  titrantName: string;
  titrantFormula: string;
  standardFrom: 'solid' | 'preparation';
  substance: SubstanceDraft;
  number: string;
  pipette: VesselDraft;
  burette: VesselDraft;
  molesPerMole: string;
  endPointMl: string;
  endPointHalfWidthMl: string;
  repeatabilityPercent: string;
  temperatureC: string;
  temperatureHalfWidthC: string;
  weighing: WeighingDraft;
  titrations: TitrationDraft[];
  accuracyPercent: string;
  keep: KeepDraft;
}

export const EMPTY_STANDARDISATION: StandardisationDraft = {
  titrantName: '',
  titrantFormula: '',
  standardFrom: 'solid',
  substance: NO_SUBSTANCE,
  number: '',
  pipette: NO_VESSEL,
  burette: NO_VESSEL,
  molesPerMole: '1',
  endPointMl: '',
  endPointHalfWidthMl: '',
  repeatabilityPercent: '',
  temperatureC: USUAL_TEMPERATURE.temperatureC,
  temperatureHalfWidthC: USUAL_TEMPERATURE.temperatureHalfWidthC,
  weighing: NO_WEIGHING,
  titrations: [NO_TITRATION, NO_TITRATION, NO_TITRATION],
  accuracyPercent: '',
  keep: NOTHING_KEPT,
};

const isEmpty = ({ massG, buretteFromMl, buretteToMl }: TitrationDraft): boolean =>
  [massG, buretteFromMl, buretteToMl].every((typed) => typed.trim() === '');

/** Places of the rows in which something stands; those between and behind are no titrations. */
export const rowsUsed = ({ titrations }: StandardisationDraft): number[] =>
  titrations.flatMap((row, index) => (isEmpty(row) ? [] : [index]));

const hasProblem = (problems: Problems, within: string): boolean =>
  Object.keys(problems).some((field) => field.startsWith(within));

function readReadings(reader: FieldReader, at: string, typed: TitrationDraft, isWeighed: boolean) {
  const massG = isWeighed ? { massG: reader.number(`${at}/massG`, typed.massG, 'g') } : {};
  const buretteFromMl = reader.number(`${at}/buretteFromMl`, typed.buretteFromMl, 'mL');
  const buretteToMl = reader.number(`${at}/buretteToMl`, typed.buretteToMl, 'mL');
  if (buretteFromMl !== '' && buretteToMl !== '') {
    const usedMl = Number(buretteToMl) - Number(buretteFromMl);
    if (usedMl === 0) reader.refuseTyped(`${at}/buretteToMl`, words.nothingUsed);
    if (usedMl < 0) reader.refuseTyped(`${at}/buretteToMl`, words.endBelowStart);
  }
  return { ...massG, buretteFromMl, buretteToMl };
}

/** A place among the rows used as the place among those that were worked out; null where it was left out. */
export const atLive = (field: string, whole: readonly number[]): string | null => {
  const [, place = '', rest = ''] = /^titrations\/(\d+)(.*)$/.exec(field) ?? [];
  if (place === '') return field;
  // One pipette for all: what is wrong with it is told of the first.
  const index = rest.startsWith('/pipette') ? 0 : whole.indexOf(Number(place));
  return index < 0 ? null : `titrations/${index}${rest}`;
};

/**
 * @returns the body with its problems; `live`, the part of it that can be worked out, of the titrations `whole`; and the plan, which needs no titration yet. Rows without anything in them are left out, so that the place of a titration in
 * the body is one among `rowsUsed`.
 */
export function readStandardisation(
  draft: StandardisationDraft,
  known: FormulaReply['known'] | undefined,
  numbered: Numbered,
  tagged: Tagged,
) {
  const reader = new FieldReader();
  const isSolid = draft.standardFrom === 'solid';
  const rows = rowsUsed(draft);
  if (rows.length === 0) reader.refuse('titrations', words.noTitration);
  const pipette = isSolid ? null : readVessel(reader, 'pipette', draft.pipette, tagged);
  const titrations = rows.map((row, index) => {
    const typed = draft.titrations[row] ?? NO_TITRATION;
    const read = readReadings(reader, `titrations/${index}`, typed, isSolid);
    return pipette === null ? read : { ...read, pipette };
  });
  const whole = rows.flatMap((_, index) => (hasProblem(reader.problems, `titrations/${index}/`) ? [] : [index]));
  const setting = {
    way: 'standardisation' as const,
    titrant: {
      name: reader.text('titrant/name', draft.titrantName, words.titrantMissing),
      ...filled('formula', draft.titrantFormula),
    },
    standard: isSolid
      ? { from: 'solid', substance: readSubstance(reader, 'standard/substance', draft.substance, known) }
      : {
          from: 'preparation',
          preparationId: readNumbered(reader, 'standard/preparationId', draft.number, numbered),
        },
    buretteId: readVesselId(reader, 'buretteId', draft.burette, tagged),
    molesPerMole: reader.number('molesPerMole', draft.molesPerMole),
    ...reader.optional('endPointMl', 'endPointMl', draft.endPointMl, 'mL'),
    ...reader.optional('endPointHalfWidthMl', 'endPointHalfWidthMl', draft.endPointHalfWidthMl, 'mL'),
    ...reader.optional('repeatabilityPercent', 'repeatabilityPercent', draft.repeatabilityPercent, '%'),
    ...readTemperature(reader, '', draft),
    ...readWeighing(reader, isSolid ? draft.weighing : NO_WEIGHING),
    ...reader.optional('accuracyPercent', 'accuracyPercent', draft.accuracyPercent, '%'),
  };
  const plan = { ...setting, ...(pipette === null ? {} : { pipette }), replicates: draft.titrations.length };
  const isReady = whole.length > 0 && Object.keys(reader.problems).every((field) => field.startsWith('titrations/'));
  const live = isReady ? { ...setting, titrations: titrations.filter((_, index) => whole.includes(index)) } : null;
  return { reader, body: { ...setting, titrations }, live, whole, plan };
}
