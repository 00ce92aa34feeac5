/** Plans as the logbook keeps them, read once: every entry of a class asks for the plan of its experiment again. */
import { keptPlan, type ExperimentPlan } from './contract.ts';

/** One school has a few lessons at a time; a district some dozens. */
const MOST_KEPT = 64;
const plans = new Map<string, ExperimentPlan>();

const frozen = <T>(value: T): T => {
  if (typeof value !== 'object' || value === null) return value;
  for (const part of Object.values(value)) frozen(part);
  return Object.freeze(value);
};

/**
 * The plan that this text holds; the same frozen object for the same text.
 * @throws ZodError for a text that is no plan
 */
export const planOf = (text: string): ExperimentPlan => {
  const known = plans.get(text);
  if (known) return known;
  const plan = frozen(keptPlan.parse(JSON.parse(text)));
  const oldest = plans.keys().next().value;
  if (plans.size >= MOST_KEPT && oldest !== undefined) plans.delete(oldest);
  plans.set(text, plan);
  return plan;
};
