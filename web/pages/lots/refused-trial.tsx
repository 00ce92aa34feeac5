import { useState } from 'react';
import { text } from '../../messages/en.ts';
import { entryText } from '../../messages/en-bench.ts';
import { gridText } from '../../messages/en-lots.ts';
import type { OutboxEntry } from '../../outbox.ts';
import { Button } from '../../parts/button.tsx';
import { Dialog } from '../../parts/dialog.tsx';
import { useOutbox } from '../../use-outbox.ts';

const words = gridText;

/** A trial the server will not take goes for good, so it is asked about once. */
export function TakeOut({ entry }: { entry: OutboxEntry }) {
  const { outbox } = useOutbox();
  const [asks, setAsks] = useState(false);
  return (
    <>
      <Button bench look="quiet" onClick={() => setAsks(true)}>
        {entryText.takeOut}
      </Button>
      {asks && (
        <Dialog title={entryText.takeOutTitle} onClose={() => setAsks(false)}>
          <p>{entryText.takeOutWhat(entry.typed.emptyG, entry.typed.filledG)}</p>
          <div className="row">
            <Button bench onClick={() => void outbox.discard(entry.id)}>
              {entryText.takeOut}
            </Button>
            <Button bench look="quiet" onClick={() => setAsks(false)}>
              {text.form.cancel}
            </Button>
          </div>
        </Dialog>
      )}
    </>
  );
}

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
