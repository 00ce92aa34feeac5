import { StateMark } from './state-mark.tsx';
import { TakeOut } from './take-out.tsx';
import { Aligned } from './aligned.tsx';
import type { MostDecimals } from './most-decimals.ts';
import { text } from '../../messages/en.ts';
import { benchText, entryText } from '../../messages/en-bench.ts';
import type { OutboxEntry } from '../../outbox.ts';
import { Button } from '../../parts/button.tsx';
import { decimalsOf, fixed, withTrueMinus } from '../../parts/rounding.ts';
import { useOutbox } from '../../use-outbox.ts';

const COLUMNS = 7;

interface PendingRowProps {
  entry: OutboxEntry;
  volumeMl: number | undefined;
  most: MostDecimals;
  onTakeBack: () => void;
}

/** A trial the server does not have yet: what was typed, where it stands, and what can be done. */
export function PendingRow({ entry, volumeMl, most, onTakeBack }: PendingRowProps) {
  const { typed, body } = entry;
  const taken = benchText.taken[typed.emptySource];
  const filledG = body?.filledG ?? typed.filledG;
  return (
    <>
      <tr className={`trial-pending trial-${entry.state}`}>
        <th scope="row">{entry.savedNumber ?? ''}</th>
        <td className="number">
          <Aligned shown={withTrueMinus(body?.emptyG ?? typed.emptyG)} most={most.empty} />
          {taken !== '' && <span className="trial-aside">{taken}</span>}
        </td>
        <td className="number">
          <Aligned shown={withTrueMinus(filledG)} most={most.filled} />
        </td>
        <td className="number">
          <Aligned shown={body?.waterTemperatureC ?? typed.waterTemperatureC} most={most.water} />
        </td>
        <td className="number">
          {volumeMl !== undefined && (
            <Aligned className="trial-volume" shown={fixed(volumeMl, decimalsOf(filledG))} most={most.filled} />
          )}
        </td>
        <td className="trial-state" colSpan={2}>
          <StateMark state={entry.state} />
        </td>
      </tr>
      {entry.problem && (
        <tr className="trial-detail">
          <td colSpan={COLUMNS}>
            <WhatToDo entry={entry} said={entry.problem.detail} onTakeBack={onTakeBack} />
          </td>
        </tr>
      )}
    </>
  );
}

interface WhatToDoProps {
  entry: OutboxEntry;
  said: string;
  onTakeBack: () => void;
}

function WhatToDo({ entry, said, onTakeBack }: WhatToDoProps) {
  const { outbox } = useOutbox();
  return (
    <div className="row">
      <span>{said}</span>
      {entry.state === 'waiting' && (
        <Button bench onClick={() => void outbox.sendAll()}>
          {text.shell.sendNow}
        </Button>
      )}
      {entry.state === 'failed' && (
        <>
          <Button bench onClick={onTakeBack}>
            {entryText.change}
          </Button>
          <TakeOut entry={entry} />
        </>
      )}
    </div>
  );
}
