import type { TrialBody } from '../../../server/calibrations/contract.ts';
import { OutsideValidity } from '../../../server/metrology/outside-validity.ts';
import { openQuestions, questionsForTrial, refusalsForTrial } from '../../../server/metrology/questions.ts';
import type { CalibrationRecord } from '../../../server/metrology/record.ts';
import type { TrialResult } from '../../../server/metrology/result.ts';
import type { OutboxEntry } from '../../outbox.ts';
import type { ToleranceRow } from '../../../server/metrology/tolerance.ts';
import { evaluateTrial } from '../../../server/metrology/trial.ts';

/** Volumes of the trials on their way, by the id of the entry; one no formula covers is left out. */
export function volumesOf(
  record: CalibrationRecord,
  pending: readonly OutboxEntry[],
  row: ToleranceRow | null,
): ReadonlyMap<string, number> {
  const first = record.trials.length + 1;
  return new Map(
    pending.flatMap(({ id, body }, index) => {
      const volumeMl = body && liveTrial(record, body, first + index, row).result?.volumeMl;
      return volumeMl == null ? [] : [[id, volumeMl] as const];
    }),
  );
}

/** A question or a refusal at a field of the trial. */
export interface AtField {
  field: string;
  detail: string;
  confirm?: string;
}

/** What the readings typed so far give. */
export interface LiveTrial {
  result: TrialResult | null;
  /** Not kept as they are. */
  refusals: AtField[];
  /** Kept after a yes and a note. */
  questions: AtField[];
}

export const NOTHING_LIVE: LiveTrial = { result: null, refusals: [], questions: [] };

const fieldOf = (pointer: string): string => pointer.replace(/^#\//, '');

/** Volume of a trial before it is saved, and what the server would say to it. */
export function liveTrial(
  record: CalibrationRecord,
  body: TrialBody,
  number: number,
  row: ToleranceRow | null,
): LiveTrial {
  const refusals = refusalsForTrial(record, body).map(({ pointer, detail }) => ({ field: fieldOf(pointer), detail }));
  if (refusals.length > 0) return { result: null, refusals, questions: [] };
  try {
    const questions = openQuestions(questionsForTrial(record, body, number, row), body.confirm, body.note);
    return {
      result: evaluateTrial(record, body, number, row),
      refusals,
      questions: questions.map(({ name, pointer, detail }) => ({ field: fieldOf(pointer), detail, confirm: name })),
    };
  } catch (error) {
    if (error instanceof OutsideValidity)
      return { result: null, refusals: [{ field: 'waterTemperatureC', detail: error.message }], questions: [] };
    throw error;
  }
}
