import type { TrialFacts } from './record.ts';

/** What a correction of a typing slip may replace. */
export const CORRECTABLE_FIELDS = [
  'emptyG',
  'filledG',
  'waterTemperatureC',
  'waterTemperatureHalfWidthC',
  'airTemperatureC',
  'airPressureHpa',
  'relativeHumidityPercent',
  'deliveryTimeS',
  'waitingTimeS',
  'openTimeS',
] as const;
export type CorrectableField = (typeof CORRECTABLE_FIELDS)[number];

export function isCorrectable(field: string): field is CorrectableField {
  return (CORRECTABLE_FIELDS as readonly string[]).includes(field);
}

/** The trial as it counts: the last correction of each field in place of what was typed; the trial itself otherwise. */
export function usedFacts(trial: TrialFacts): TrialFacts {
  if (trial.corrections == null || trial.corrections.length === 0) return trial;
  const replaced: Partial<Record<CorrectableField, string>> = {};
  for (const { field, value } of trial.corrections) {
    if (isCorrectable(field)) replaced[field] = value;
  }
  return { ...trial, ...replaced };
}
