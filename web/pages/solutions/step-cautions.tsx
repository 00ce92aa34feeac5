import type { Caution as CautionName } from '../../../server/solutions/contract-cautions.ts';
import { cautionsOfSolutions, cautionSteps } from '../../messages/en-solutions.ts';
import { Caution } from '../../parts/notice.tsx';

type Step = keyof typeof cautionSteps;

const STEP_OF: Record<CautionName, Step> = {
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

/** What holds for every solution, shown before anything is known of this one. */
export const ALWAYS: readonly CautionName[] = ['data-sheet-first', 'goggles-and-gloves'];

/** What can happen at one step of the work, in one box. */
export function StepCautions({ step, cautions }: { step: Step; cautions: readonly CautionName[] }) {
  const here = cautions.filter((one) => STEP_OF[one] === step);
  if (here.length === 0) return null;
  return <Caution title={cautionSteps[step]}>{here.map((one) => cautionsOfSolutions[one]).join(' ')}</Caution>;
}
