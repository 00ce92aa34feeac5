import { useState } from 'react';
import { StateMark } from './state-mark.tsx';
import { Aligned } from './aligned.tsx';
import type { MostDecimals } from './most-decimals.ts';
import { text } from '../../messages/en.ts';
import { entryText } from '../../messages/en-bench.ts';
import type { OutboxEntry } from '../../outbox.ts';
import { Button } from '../../parts/button.tsx';
import { Dialog } from '../../parts/dialog.tsx';
import { decimalsOf, fixed, withTrueMinus } from '../../parts/rounding.ts';
import { useOutbox } from '../../use-outbox.ts';

interface PendingRowProps {
  entry: OutboxEntry;
  volumeMl: number | undefined;
  most: MostDecimals;
  onTakeBack: () => void;
}

/** A trial the server does not have yet: what was typed, where it stands, and what can be done. */
export function PendingRow({ entry, volumeMl, most, onTakeBack }: PendingRowProps) {
  const { outbox } = useOutbox();
  const [asks, setAsks] = useState(false);
  const { typed, body } = entry;
  return (
    <>
      <tr className={`trial-pending trial-${entry.state}`}>
        <th scope="row">{entry.savedNumber ?? ''}</th>
        <td className="number">
          <Aligned shown={withTrueMinus(body?.emptyG ?? typed.emptyG)} most={most.empty} />
        </td>
        <td className="number">
          <Aligned shown={withTrueMinus(body?.filledG ?? typed.filledG)} most={most.filled} />
        </td>
        <td className="number">
          <Aligned shown={body?.waterTemperatureC ?? typed.waterTemperatureC} most={most.water} />
        </td>
        <td className="number">
          {volumeMl !== undefined && (
            <Aligned
              className="trial-volume"
              shown={fixed(volumeMl, decimalsOf(body?.filledG ?? ''))}
              most={most.filled}
            />
          )}
        </td>
        <td className="trial-state" colSpan={2}>
          <StateMark state={entry.state} />
        </td>
      </tr>
      {entry.problem && (
        <tr className="trial-detail">
          <td colSpan={7}>
            <div className="row">
              <span>{entry.problem.detail}</span>
              {entry.state === 'failed' && (
                <>
                  <Button bench onClick={onTakeBack}>
                    {entryText.change}
                  </Button>
                  <Button bench look="quiet" onClick={() => setAsks(true)}>
                    {entryText.takeOut}
                  </Button>
                </>
              )}
              {entry.state === 'waiting' && (
                <Button bench onClick={() => void outbox.sendAll()}>
                  {text.shell.sendNow}
                </Button>
              )}
            </div>
          </td>
        </tr>
      )}
      {asks && (
        <tr>
          <td colSpan={7}>
            <Dialog title={entryText.takeOutTitle} onClose={() => setAsks(false)}>
              <p>{entryText.takeOutWhat(typed.emptyG, typed.filledG)}</p>
              <div className="row">
                <Button bench onClick={() => void outbox.discard(entry.id)}>
                  {entryText.takeOut}
                </Button>
                <Button bench look="quiet" onClick={() => setAsks(false)}>
                  {text.form.cancel}
                </Button>
              </div>
            </Dialog>
          </td>
        </tr>
      )}
    </>
  );
}
