/** At which step of the work a caution is minded. */
import type { Caution } from '../contract-cautions.ts';
import { cautionWords } from './caution-words.ts';

type CautionStep = 'before' | 'weighing' | 'making-up' | 'after';

const STEP_OF: Record<Caution, CautionStep> = {
  'data-sheet-first': 'before',
  'goggles-and-gloves': 'before',
  'licensed-practice': 'before',
  toxic: 'before',
  corrosive: 'before',
  harmful: 'before',
  irritant: 'before',
  oxidiser: 'before',
  fumes: 'before',
  stains: 'before',
  'dry-before-weighing': 'weighing',
  'takes-up-air': 'weighing',
  'loses-water': 'weighing',
  'acid-into-water': 'making-up',
  'heat-of-dissolution': 'making-up',
  'dissolve-in-beaker': 'making-up',
  'cool-before-mark': 'making-up',
  'no-storage-in-flask': 'after',
  'keep-dark': 'after',
  environment: 'after',
};

/** Sentences for one step of the work. */
export const cautionsAt = (step: CautionStep, cautions: readonly Caution[]): string =>
  cautions
    .filter((one) => STEP_OF[one] === step)
    .map((one) => cautionWords[one])
    .join(' ');
