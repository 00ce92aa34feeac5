/** A cell whose readings are there becomes a trial: with the water of the round or of the sheet, and whatever stands in its way. */
import type { Round } from '../../../server/lots/contract-round.ts';
import type { TrialBody } from '../../../server/calibrations/contract.ts';
import type { ToleranceRow } from '../../../server/metrology/tolerance.ts';
import type { OutboxEntry, TypedTrial } from '../../outbox.ts';
import { readEntry } from '../bench/entry.ts';
import { type AtField, liveTrial } from '../bench/live.ts';
import { taskOf } from './grid-record.ts';
import type { GridRow } from './grid-rows.ts';
import { type RoundWater, withDryReading, withOwnWater, withWater } from './grid-trial.ts';

/** What stands in the way of keeping a trial: refused fields, and questions. */
export interface Asked {
  problems: Partial<Record<string, string>>;
  questions: readonly AtField[];
  /** Why it is not kept, where that is about no field. */
  said?: string;
}

/** Yes to the questions, and why. */
export interface Answer {
  confirm: string[];
  note: string;
}

export type Completed =
  | { outcome: 'half' }
  | { outcome: 'water-missing' }
  | { outcome: 'asked'; asked: Asked }
  | { outcome: 'complete'; typed: TypedTrial; body: TrialBody };

interface ToComplete {
  round: Round;
  pointMl: string;
  tolerances: readonly ToleranceRow[];
  row: GridRow;
  slot: number;
  entry: OutboxEntry;
  water: RoundWater | null;
  answer: Answer | null;
}

const withAnswer = (body: TrialBody, answer: Answer | null): TrialBody =>
  answer === null ? body : { ...body, confirm: answer.confirm as NonNullable<TrialBody['confirm']> };

export function completedTrial(given: ToComplete): Completed {
  const { round, pointMl, tolerances, row, slot, entry, water, answer } = given;
  const dry = withDryReading(round.wayOfWorking, row, slot, entry.typed);
  if (dry.emptyG.trim() === '' || dry.filledG.trim() === '') return { outcome: 'half' };
  const watered = round.origin === 'sheet' ? withOwnWater(dry) : withWater(dry, water, entry.id);
  if (watered === null) return { outcome: round.origin === 'sheet' ? 'half' : 'water-missing' };
  const typed = { ...watered, ...(answer ? { note: answer.note } : {}) };
  const read = readEntry({ pointMl, typed });
  if (read.body === null) return { outcome: 'asked', asked: { problems: read.problems, questions: [] } };
  const body = withAnswer(read.body, answer);
  const task = taskOf(round, row, tolerances);
  const { refusals, questions } = liveTrial(task.record, body, 1, task.tolerance);
  if (refusals.length === 0 && questions.length === 0) return { outcome: 'complete', typed, body };
  const problems = Object.fromEntries(refusals.map(({ field, detail }) => [field, detail]));
  return { outcome: 'asked', asked: { problems, questions } };
}

/** What the server said to an entry it did not take. */
export const askedByServer = ({ problem }: OutboxEntry): Asked | null =>
  // A server that is away has said nothing: the head of the page counts what waits for it.
  problem === null || problem.code === 'unreachable'
    ? null
    : {
        ...(problem.fields.length === 0 ? { said: problem.detail } : {}),
        problems: Object.fromEntries(
          problem.fields.filter((one) => !one.confirm).map(({ field, detail }) => [field, detail]),
        ),
        questions: problem.fields.filter((one) => one.confirm),
      };
