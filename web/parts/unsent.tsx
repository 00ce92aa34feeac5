import { useState } from 'react';
import { Link } from 'wouter';
import { text } from '../messages/en.ts';
import type { Deed } from '../deeds.ts';
import { type OutboxEntry, unsentCount } from '../outbox.ts';
import { useDeeds } from '../use-deeds.ts';
import { useOutbox } from '../use-outbox.ts';
import { Button } from './button.tsx';
import { Dialog } from './dialog.tsx';

/** How many readings and looks the server does not have, from everywhere one tap away; silent when there are none. */
export function Unsent() {
  const { outbox, entries } = useOutbox();
  const [open, setOpen] = useState(false);
  const { deeds, list } = useDeeds();
  const count = unsentCount(entries) + list.length;
  if (count === 0) return null;
  return (
    <>
      <button type="button" className="unsent" aria-label={text.shell.unsent(count)} onClick={() => setOpen(true)}>
        {text.shell.unsentShort(count)}
      </button>
      {open && (
        <Dialog title={text.unsent.title} onClose={() => setOpen(false)}>
          <p>{text.unsent.what}</p>
          <ul className="plain stack tight">
            {entries.filter(isUnsent).map((entry) => (
              <UnsentEntry key={entry.id} entry={entry} onLeave={() => setOpen(false)} />
            ))}
            {list.map((deed) => (
              <UnsentDeed key={deed.id} deed={deed} />
            ))}
          </ul>
          <div className="row">
            <Button
              look="primary"
              onClick={() => {
                void outbox.sendAll();
                void deeds.sendAll();
              }}
            >
              {text.shell.sendNow}
            </Button>
            <Button onClick={() => saveAsFile([...entries.filter(isUnsent), ...list])}>{text.unsent.saveAsFile}</Button>
            <Button look="quiet" onClick={() => setOpen(false)}>
              {text.form.close}
            </Button>
          </div>
        </Dialog>
      )}
    </>
  );
}

const isUnsent = (entry: OutboxEntry): boolean => entry.state !== 'typed' && entry.state !== 'saved';

function UnsentEntry({ entry, onLeave }: { entry: OutboxEntry; onLeave: () => void }) {
  return (
    <li>
      <Link href={`/bench/${entry.calibrationId}`} onClick={onLeave}>
        {text.unsent.entry(entry.tag, entry.typed.emptyG, entry.typed.filledG)}
      </Link>
      {entry.problem && <p className="small quiet">{entry.problem.detail}</p>}
    </li>
  );
}

function UnsentDeed({ deed }: { deed: Deed }) {
  return (
    <li>
      {deed.what}
      {deed.refused && <p className="small quiet">{deed.refused}</p>}
    </li>
  );
}

/** A last resort for readings that cannot be sent: as a file, to be typed in again from there. */
function saveAsFile(unsent: readonly (OutboxEntry | Deed)[]): void {
  const content = JSON.stringify(unsent, null, 2);
  const address = URL.createObjectURL(new Blob([content], { type: 'application/json' }));
  const link = document.createElement('a');
  link.href = address;
  link.download = `${text.unsent.fileName}.json`;
  link.click();
  URL.revokeObjectURL(address);
}
