import { useState } from 'react';
import { text } from '../../messages/en.ts';
import { entryText } from '../../messages/en-bench.ts';
import type { OutboxEntry } from '../../outbox.ts';
import { Button } from '../../parts/button.tsx';
import { Dialog } from '../../parts/dialog.tsx';
import { useOutbox } from '../../use-outbox.ts';

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
