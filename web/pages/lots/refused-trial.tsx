import { gridText } from '../../messages/en-lots.ts';
import type { OutboxEntry } from '../../outbox.ts';
import { Button } from '../../parts/button.tsx';
import { TakeOut } from '../bench/take-out.tsx';

const words = gridText;

interface RefusedTrialProps {
  tag: string;
  /** Counted from 0. */
  slot: number;
  entry: OutboxEntry;
  /** Null where the vessel takes no further trial. */
  onUseNext: (() => void) | null;
}

/** Below the row: readings of a trial that was recorded elsewhere with others. They stay with it, and take no other place. */
export function RefusedTrial({ tag, slot, entry, onUseNext }: RefusedTrialProps) {
  return (
    <div className="question" role="alert" aria-label={words.refusedTrial(tag, slot + 1)}>
      <p>
        {words.trial(slot + 1)}: {words.notTaken(entry.typed.emptyG, entry.typed.filledG)}
      </p>
      <div className="row">
        {onUseNext && (
          <Button bench onClick={onUseNext}>
            {words.useNext}
          </Button>
        )}
        <TakeOut entry={entry} />
      </div>
    </div>
  );
}
