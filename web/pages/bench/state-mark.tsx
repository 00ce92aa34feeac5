import { benchText } from '../../messages/en-bench.ts';
import type { EntryState } from '../../outbox.ts';

const DRAWINGS: Record<EntryState, string> = {
  typed: 'M3 13l2-5 6-6 3 3-6 6zM10 3l3 3',
  waiting: 'M8 4v4l3 2M8 1.5a6.5 6.5 0 1 0 .01 0z',
  sending: 'M2 8h11M9 4l4 4-4 4',
  saved: 'M3 8.5l3.5 3.5L13 4.5',
  failed: 'M8 3v6.5M8 12.5v.3',
};

/** Where a trial stands, as a mark and a word; on a narrow screen the word is only heard. */
export function StateMark({ state }: { state: EntryState }) {
  return (
    <span className={`state state-${state}`}>
      <svg viewBox="0 0 16 16" aria-hidden="true">
        <path d={DRAWINGS[state]} />
      </svg>
      <span className="state-word">{benchText.states[state]}</span>
    </span>
  );
}
