/** Everything that can be wrong with a trial of a class before it is kept: refused, or asked, as at the bench. */
import { askUnlessConfirmed } from '../confirm.ts';
import { questionsForTrial, refusalsForTrial, type Question } from '../metrology/questions.ts';
import { invalid } from '../problem.ts';
import { trialFacts, type ClassReadings, type Ware } from './ware-facts.ts';

/** A group confirms by a touch: it writes no notes, so that nobody's name gets into one. */
const CONFIRMED_BY_TOUCH = 'confirmed';

const requireTemperature = (ware: Ware, readings: ClassReadings): void => {
  if (readings.waterTemperatureC !== null || ware.assumedWaterC !== null) return;
  throw invalid([
    {
      pointer: '#/waterTemperatureC',
      detail: 'Type the temperature of the water, or have one temperature set for the whole class.',
    },
  ]);
};

const questionsOf = (ware: Ware, readings: ClassReadings): Question[] =>
  questionsForTrial(ware.record, trialFacts(ware, readings), 1, ware.tolerance).filter(
    // The air is the experiment's, and was asked about when it was typed.
    ({ name }) => name === 'volume',
  );

/** @throws Problem `validation-failed`, `please-confirm` */
export const acceptReadings = (ware: Ware, readings: ClassReadings, confirm: readonly string[] | undefined): void => {
  requireTemperature(ware, readings);
  const refusals = refusalsForTrial(ware.record, trialFacts(ware, readings));
  if (refusals.length > 0) throw invalid(refusals);
  askUnlessConfirmed(questionsOf(ware, readings), { confirm, note: CONFIRMED_BY_TOUCH });
};

/**
 * As for a new trial; refusals and questions name the value field, and what was unusual before is not asked again.
 * @throws Problem `validation-failed`, `please-confirm`
 */
export const acceptCorrection = (
  ware: Ware,
  before: ClassReadings,
  after: ClassReadings,
  confirm: readonly string[] | undefined,
): void => {
  const atValue = <T extends { pointer: string }>(one: T): T => ({ ...one, pointer: '#/value' });
  const refusals = refusalsForTrial(ware.record, trialFacts(ware, after));
  if (refusals.length > 0) throw invalid(refusals.map(atValue));
  const asked = questionsOf(ware, before).map(({ detail }) => detail);
  const open = questionsOf(ware, after).filter(({ detail }) => !asked.includes(detail));
  askUnlessConfirmed(open.map(atValue), { confirm, note: CONFIRMED_BY_TOUCH });
};
