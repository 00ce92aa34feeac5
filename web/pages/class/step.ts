import type { WareRowOnWire } from '../../../server/experiments/contract.ts';
import type { ClassTrial, GroupPage, Prediction } from '../../../server/experiments/contract-class.ts';
import { benchText, entryText } from '../../messages/en-class.ts';
import type { Waiting } from './memory.ts';

/** One row of the experiment with what this group has of it. */
export interface Step {
  row: WareRowOnWire;
  trials: readonly ClassTrial[];
  prediction: Prediction | null;
  waiting: readonly Waiting[];
  /** Foreseen, or past the point where it is asked for. */
  isForeseen: boolean;
  isDone: boolean;
}

export const stepsOf = ({ experiment, trials, predictions }: GroupPage, waiting: readonly Waiting[]): Step[] =>
  experiment.rows.map((row) => {
    const mine = trials.filter((trial) => trial.row === row.key);
    const unsent = waiting.filter((one) => one.row === row.key && !one.isFirst);
    const prediction = predictions.find((one) => one.row === row.key) ?? null;
    const weighed = mine.length + unsent.filter(({ kind }) => kind === 'trial').length;
    return {
      row,
      trials: mine,
      prediction,
      waiting: unsent,
      isForeseen:
        !experiment.asks.prediction ||
        prediction !== null ||
        weighed > 0 ||
        unsent.some(({ kind }) => kind === 'prediction'),
      isDone: weighed >= row.trialsPerGroup,
    };
  });

/** Name of a field as this kind of weighing calls it. */
export const fieldName = ({ row }: Pick<Step, 'row'>, field: string): string => {
  const { empty, filled } = benchText.basis[row.basis];
  if (field === 'emptyG') return empty;
  return field === 'filledG' ? filled : entryText.water;
};
