/** A dilution as typed, and as the body names it. */
import type { DilutionBody, StockBody } from '../../../server/solutions/contract.ts';
import { dilutionText as words, substanceText } from '../../messages/en-solutions.ts';
import { type KeepDraft, NOTHING_KEPT } from './keeping.ts';
import type { Numbered } from './numbered.ts';
import { FieldReader, type Problems } from './reading.ts';
import { readTemperatures, type TemperatureDraft, USUAL_TEMPERATURE } from './setting-draft.ts';
import { NO_VESSEL, readVessel, type Tagged, type VesselDraft } from './tagged.ts';

type StockUnit = Extract<StockBody, { from: 'certificate' }>['unit'];

export interface StockDraft {
  from: StockBody['from'];
  number: string;
  name: string;
  value: string;
  unit: StockUnit;
  expandedUncertainty: string;
  coverageFactor: string;
  formula: string;
  densityGPerMl: string;
  densityHalfWidth: string;
  massFractionPercent: string;
  massFractionHalfWidthPercent: string;
}

export interface StepDraft {
  deliveries: VesselDraft[];
  madeUpIn: VesselDraft;
}

export interface DilutionDraft {
  stock: StockDraft;
  steps: StepDraft[];
  temperatures: TemperatureDraft;
  accuracyPercent: string;
  keep: KeepDraft;
}

export const NO_STOCK: StockDraft = {
  from: 'preparation',
  number: '',
  name: '',
  value: '',
  unit: 'mol/L',
  expandedUncertainty: '',
  coverageFactor: '2',
  formula: '',
  densityGPerMl: '',
  densityHalfWidth: '',
  massFractionPercent: '',
  massFractionHalfWidthPercent: '',
};
export const EMPTY_STEP: StepDraft = { deliveries: [NO_VESSEL], madeUpIn: NO_VESSEL };
export const EMPTY_DILUTION: DilutionDraft = {
  stock: NO_STOCK,
  steps: [EMPTY_STEP],
  temperatures: USUAL_TEMPERATURE,
  accuracyPercent: '',
  keep: NOTHING_KEPT,
};

export const tagsOf = ({ steps }: DilutionDraft): string[] =>
  steps.flatMap(({ deliveries, madeUpIn }) => [...deliveries, madeUpIn].map(({ tag }) => tag));

/** Moves a step; the others keep their order. */
export const moved = (steps: readonly StepDraft[], from: number, to: number): StepDraft[] => {
  const rest = steps.filter((_, index) => index !== from);
  const step = steps[from];
  return step ? [...rest.slice(0, to), step, ...rest.slice(to)] : rest;
};

function readStock(reader: FieldReader, draft: StockDraft, numbered: Numbered): object {
  const at = 'stock/';
  if (draft.from === 'preparation')
    return { from: 'preparation', preparationId: readNumbered(reader, `${at}preparationId`, draft.number, numbered) };
  const name = reader.text(`${at}name`, draft.name, words.nameMissing);
  if (draft.from === 'certificate')
    return {
      from: 'certificate',
      name,
      value: reader.number(`${at}value`, draft.value),
      unit: draft.unit,
      expandedUncertainty: reader.number(`${at}expandedUncertainty`, draft.expandedUncertainty),
      coverageFactor: reader.number(`${at}coverageFactor`, draft.coverageFactor),
    };
  return {
    from: 'label',
    name,
    formula: reader.text(`${at}formula`, draft.formula, substanceText.formulaMissing),
    densityGPerMl: reader.number(`${at}densityGPerMl`, draft.densityGPerMl, 'g/mL'),
    densityHalfWidth: reader.number(`${at}densityHalfWidth`, draft.densityHalfWidth, 'g/mL'),
    massFraction: reader.fraction(`${at}massFraction`, draft.massFractionPercent),
    massFractionHalfWidth: reader.fraction(`${at}massFractionHalfWidth`, draft.massFractionHalfWidthPercent),
  };
}

/** A solution of the shelf by its number, as the body names it. */
export function readNumbered(reader: FieldReader, field: string, typed: string, numbered: Numbered): string {
  if (typed.trim() === '') return reader.refuse(field, words.numberMissing);
  if (numbered === undefined) return reader.wait(field, words.numberPending);
  return numbered === null ? reader.refuse(field, words.numberUnknown(typed.trim())) : numbered.id;
}

/** How many steps from the first on are named as a whole: what the others come to is not known yet. */
const stepsReady = (count: number, problems: Problems): number => {
  const broken = Array.from({ length: count }, (_, index) => index).find((index) =>
    Object.keys(problems).some((field) => field.startsWith(`steps/${index}/`)),
  );
  return broken ?? count;
};

/** @returns the body with its problems, and the part of it that can be worked out; null where there is none yet */
export function readDilution(draft: DilutionDraft, numbered: Numbered, tagged: Tagged) {
  const reader = new FieldReader();
  const steps = draft.steps.map(({ deliveries, madeUpIn }, index) => ({
    deliveries: deliveries.map((one, place) => readVessel(reader, `steps/${index}/deliveries/${place}`, one, tagged)),
    madeUpIn: readVessel(reader, `steps/${index}/madeUpIn`, madeUpIn, tagged),
  }));
  const body = {
    way: 'dilution' as const,
    stock: readStock(reader, draft.stock, numbered),
    steps,
    ...readTemperatures(reader, '', draft.temperatures),
    ...reader.optional('accuracyPercent', 'accuracyPercent', draft.accuracyPercent, '%'),
  };
  const ready = stepsReady(steps.length, reader.problems);
  const isReady = ready > 0 && Object.keys(reader.problems).every((field) => field.startsWith('steps/'));
  return { reader, body, ready, live: isReady ? { ...body, steps: steps.slice(0, ready) } : null };
}

/** What the plan of a series hands over, in the shape of the body. */
export interface HandedOver {
  stock?: Partial<StockBody>;
  steps: DilutionBody['steps'];
  title?: string;
}

/** The number with which a stock of the shelf and the tags with which vessels stand in the form are looked up before. */
export function draftOf(
  { stock, steps, title }: HandedOver,
  stockNumber: string | null,
  tagOf: (vesselId: string) => string,
): Partial<DilutionDraft> {
  const vessel = ({ vesselId, pointMl }: HandedOver['steps'][number]['madeUpIn']): VesselDraft => ({
    tag: tagOf(vesselId),
    pointMl: pointMl ?? '',
  });
  return {
    stock: stockDraftOf(stock ?? {}, stockNumber),
    steps: steps.map(({ deliveries, madeUpIn }) => ({
      deliveries: deliveries.map(vessel),
      madeUpIn: vessel(madeUpIn),
    })),
    keep: { ...NOTHING_KEPT, title: title ?? '' },
  };
}

const percentOf = (fraction: string): string => String(Number((100 * Number(fraction)).toPrecision(12)));

function stockDraftOf(stock: Partial<StockBody>, stockNumber: string | null): StockDraft {
  if ('preparationId' in stock) return { ...NO_STOCK, number: stockNumber ?? '' };
  if ('densityGPerMl' in stock || 'formula' in stock) {
    const { massFraction, massFractionHalfWidth, ...plain } = stock as Extract<StockBody, { from: 'label' }>;
    return {
      ...NO_STOCK,
      ...plain,
      from: 'label',
      massFractionPercent: percentOf(massFraction),
      massFractionHalfWidthPercent: percentOf(massFractionHalfWidth),
    };
  }
  return 'value' in stock ? { ...NO_STOCK, ...stock, from: 'certificate' } : NO_STOCK;
}
