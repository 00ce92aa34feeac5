/** The steps at the bench in words, in the order in which they are done. */
import { fixed, significant } from '../../metrology/display.ts';
import type { Caution } from '../contract-cautions.ts';
import type { SolidBody, SolutionResult } from '../contract.ts';
import type { BenchStep } from './bench-sheet.ts';
import { cautionsAt } from './caution-steps.ts';

const sentences = (...some: string[]): string => some.filter((one) => one !== '').join(' ');
const step = (reading: string, ...some: string[]): BenchStep => ({ what: sentences(...some), reading });

/** How often a stoppered flask is turned over is common practice, no source. */
const MIX = 'Stopper it and turn it over ten times or more.';
const BOTTLE = 'Move it into a clean, dry bottle and label it.';

export interface AtMark {
  tag: string;
  ml: string;
}
interface TransferStep {
  deliveries: readonly AtMark[];
  madeUpIn: AtMark;
}

const vesselWords = ({ tag, ml }: AtMark): string => `${tag} (${ml} mL)`;
const toTheMark = (flask: AtMark, temperatureC: string): BenchStep[] => [
  step(
    '°C:',
    `Let it come to ${temperatureC} °C. Set the mark of ${vesselWords(flask)} with water, the eye level with it.`,
  ),
  step('', MIX),
];

/** What the balance is to show; as many digits as it has. */
const toWeighWords = ({ toWeigh }: SolutionResult, decimals: number): string =>
  toWeigh === null ? '' : `${fixed(toWeigh.readingG, decimals)} g`;

export const solidSteps = (
  { substance, madeUp }: SolidBody,
  result: SolutionResult,
  about: { flask: AtMark | null; decimals: number },
): BenchStep[] => {
  const { cautions } = result;
  const { flask, decimals } = about;
  const weigh = `Weigh ${toWeighWords(result, decimals)} of ${substance.name}`;
  const minding = cautionsAt('weighing', cautions);
  if (madeUp.by === 'mass' || flask === null) {
    const wholeG = madeUp.by === 'mass' ? madeUp.solutionG : '';
    return [
      step('g:', `${weigh} into a dry bottle that was tared.`, minding),
      step('g:', `Add water until the solution weighs ${wholeG} g.`, cautionsAt('making-up', cautions)),
      step('', 'Close it and mix until all is dissolved. Label it.'),
    ];
  }
  return [
    step('g:', `${weigh} into a beaker.`, minding),
    step('', 'Dissolve it in less water than the flask holds.', cautionsAt('making-up', cautions)),
    step('', `Rinse all of it over into ${flask.tag}; fill with water to a little below the mark.`),
    ...toTheMark(flask, madeUp.temperatureC),
    step('', BOTTLE),
  ];
};

interface Transfers {
  steps: readonly TransferStep[];
  /** What the first step is taken from. */
  source: string;
  temperatureC: string;
  cautions: readonly Caution[];
  /** Concentrations foreseen after each step; none where they are not known. */
  foreseen: readonly { value: number; unit: string; significantDigits: number }[];
}

export const transferSteps = ({ steps, source, temperatureC, cautions, foreseen }: Transfers): BenchStep[] =>
  steps.flatMap(({ deliveries, madeUpIn }, index): BenchStep[] => {
    const from = index === 0 ? source : `the solution of ${steps[index - 1]?.madeUpIn.tag ?? ''} before`;
    const into = vesselWords(madeUpIn);
    const acid = cautions.includes('acid-into-water') ? `Put some water into ${madeUpIn.tag} first.` : '';
    const after = foreseen[index];
    return [
      step(
        '',
        `Rinse ${deliveries.map(({ tag }) => tag).join(' and ')} with a little of ${from}; throw that away.`,
        index === 0 ? cautionsAt('making-up', cautions) : '',
      ),
      step('', acid, `Deliver ${deliveries.map(vesselWords).join(' and ')} of ${from} into ${into}.`),
      ...toTheMark(madeUpIn, temperatureC),
      ...(after
        ? [step('', `It now holds about ${significant(after.value, after.significantDigits)} ${after.unit}.`)]
        : []),
    ];
  });

/** Between which shares of its scale a burette is best read is common practice, no source. */
export const titrationSteps = (about: {
  burette: AtMark;
  titrant: string;
  standard: string;
  pipette: AtMark | null;
  cautions: readonly Caution[];
}): BenchStep[] => {
  const { burette, titrant, standard, pipette, cautions } = about;
  return [
    step('', `Rinse ${burette.tag} with ${titrant}, fill it, and let no bubble stay in the tip.`),
    pipette
      ? step('', `Deliver ${vesselWords(pipette)} of ${standard} into a flask for each titration.`)
      : step(
          '',
          `For each titration weigh so much ${standard} that ${burette.tag} delivers 60 to 90 % of its scale; dissolve it in water.`,
          cautionsAt('weighing', cautions),
        ),
    step('', `Read ${burette.tag}, titrate to the end point, wait, and read again.`, cautionsAt('making-up', cautions)),
  ];
};
