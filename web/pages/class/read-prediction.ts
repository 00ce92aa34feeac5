import type { GroupPage, PredictionBody } from '../../../server/experiments/contract-class.ts';
import { foreseeText as words } from '../../messages/en-class.ts';
import { readNumber } from '../../parts/read-number.ts';
import type { FieldNotes, Typed } from './memory.ts';

type Asks = GroupPage['experiment']['asks'];
export type Sureness = (typeof words.options)[number]['value'];

export type TypedPrediction = Pick<Typed, 'volumeMl' | 'withinMl' | 'sureness'>;

/** Body of a complete prediction, or the fields that stand in the way. */
export function readPrediction(
  row: string,
  typed: TypedPrediction,
  asks: Asks,
): { body: PredictionBody } | { problems: FieldNotes } {
  const problems: FieldNotes = {};
  const value = (field: 'volumeMl' | 'withinMl'): string => {
    const read = readNumber(typed[field], 'mL');
    if (!read.ok) problems[field] = read.problem;
    return read.ok ? read.value : '';
  };
  const volumeMl = value('volumeMl');
  const withinMl = asks.within ? value('withinMl') : undefined;
  const sureness = words.options.find((option) => option.value === typed.sureness)?.value;
  if (asks.sureness && sureness === undefined) problems.sureness = words.surenessMissing;
  if (Object.keys(problems).length > 0) return { problems };
  return {
    body: {
      ...{ row, volumeMl },
      ...(withinMl === undefined ? {} : { withinMl }),
      ...(asks.sureness && sureness ? { sureness } : {}),
    },
  };
}
