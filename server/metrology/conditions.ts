import type { CalibrationRecord, ConditionFacts } from './record.ts';

const NOTHING: ConditionFacts = {};

/** Conditions with the last trial before they were read; the first stage holds from the beginning. */
export interface ConditionStage {
  afterTrial: number;
  facts: ConditionFacts;
}

/** What is known in `later` replaces what was known before; what it leaves open stays. */
function overlay(before: ConditionFacts, later: ConditionFacts): ConditionFacts {
  const known = Object.entries(later).filter(([, value]) => value != null);
  return { ...before, ...Object.fromEntries(known) };
}

/** The conditions of a calibration and each reading of the air after them, in the order they came into force. */
export function conditionStages(record: CalibrationRecord): ConditionStage[] {
  const stages: ConditionStage[] = [{ afterTrial: -1, facts: record.conditions ?? NOTHING }];
  const readings = [...(record.conditionReadings ?? [])].sort((first, second) => first.afterTrial - second.afterTrial);
  for (const { afterTrial, recordedAt: _when, ...facts } of readings) {
    const before = stages[stages.length - 1]?.facts ?? NOTHING;
    stages.push({ afterTrial, facts: overlay(before, facts) });
  }
  return stages;
}

/** The conditions in force at a trial: the latest read before it. */
export function conditionsAt(stages: readonly ConditionStage[], trialNumber: number): ConditionFacts {
  for (let index = stages.length - 1; index > 0; index -= 1) {
    const stage = stages[index];
    if (stage !== undefined && stage.afterTrial < trialNumber) return stage.facts;
  }
  return stages[0]?.facts ?? NOTHING;
}
