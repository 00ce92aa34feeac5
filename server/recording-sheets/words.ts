/** Words of the sheets, as the screens use them; a test holds both equal. */
import type { VesselFacts, VesselKind } from '../metrology/record.ts';

export const cautionWords = {
  lookFirst: {
    title: 'Look first.',
    what: 'Check the vessel for chips, cracks and scratches before you handle it. Damaged ware is taken out of use, not calibrated; broken glass is never picked up by hand.',
  },
  pipetteCaution: {
    title: 'Never pipette by mouth.',
    what: 'Use a filler. Push it on near the end of the pipette, with the hand close to it, without force.',
  },
  buretteCaution: {
    title: 'Fill a burette below eye level.',
    what: 'Take it down, or the stand to the floor, stopcock closed and a beaker below; take the funnel off before you set zero.',
  },
  largeCaution: {
    title: 'Two hands for a litre and more.',
    what: 'Carry it by body and neck, with the stopper tied or out.',
  },
  spillCaution: {
    title: 'Water at the balance.',
    what: 'After a spill stop, keep wet hands off mains plugs and cables, and dry the balance with a cloth as its maker says. A wet floor is slippery.',
  },
};
export type CautionName = keyof typeof cautionWords;

export const OWN_RULES = 'The laboratory’s own rules come first.';

const PIPETTES: ReadonlySet<VesselKind> = new Set(['single-volume-pipette', 'graduated-pipette']);
const TWO_HANDS_FROM_ML = 1000;

/** What can happen with a vessel at the balance. */
export const cautionsFor = ({
  kind,
  nominalVolumeMl,
}: Pick<VesselFacts, 'kind' | 'nominalVolumeMl'>): CautionName[] => [
  'lookFirst',
  ...(PIPETTES.has(kind) ? (['pipetteCaution'] as const) : []),
  ...(kind === 'burette' ? (['buretteCaution'] as const) : []),
  ...(Number(nominalVolumeMl) >= TWO_HANDS_FROM_ML ? (['largeCaution'] as const) : []),
  'spillCaution',
];

/** Ticked before the first trial. */
export const INSPECTED = ['no chips', 'no cracks', 'clean: the water film closes', 'dry'] as const;

export const HEADS = {
  vessel: 'Vessel',
  point: 'Point mL',
  trial: 'Trial',
  fit: 'Fit',
  water: 'Water °C',
  delivery: 'Delivery s',
  waiting: 'Waiting s',
  note: 'Note',
} as const;

/** The two readings of a trial, by what is weighed. */
export const READINGS = {
  contain: { first: 'Empty g', second: 'Filled g' },
  deliver: { first: 'Before g', second: 'After g' },
  both: { first: 'Empty or before g', second: 'Filled or after g' },
} as const;

export const RULES =
  'Write what the displays show, with all digits. Strike a slip out with one line and write beside it. Then type the sheet into the record.';
export const RECEIVER = 'Before and after: readings of the receiver before and after the delivery.';
