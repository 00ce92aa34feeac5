import { useState } from 'react';
import type { Restarting } from '../../server/backups/contract.ts';
import { newKey, post } from '../api.ts';
import { backupsText } from '../messages/en-backups.ts';
import { ActDialog } from './act-dialog.tsx';
import { untilReopened } from './reopening.ts';

interface ReopeningDialogProps {
  title: string;
  what: readonly string[];
  act: string;
  path: string;
  body?: Record<string, unknown>;
  /** Page to begin anew with once the server answers again. */
  thenAt: string;
  onClose: () => void;
}

/** An act after which the server opens another logbook: asks, does it, waits, and begins anew. */
export function ReopeningDialog({ title, what, act, path, body = {}, thenAt, onClose }: ReopeningDialogProps) {
  const [waiting, setWaiting] = useState<'no' | 'yes' | 'too long'>('no');
  const send = async (whole: Record<string, unknown>) => {
    const { openedAt } = await post<Restarting>(path, whole, newKey());
    setWaiting('yes');
    if (await untilReopened(openedAt)) window.location.assign(thenAt);
    else setWaiting('too long');
    // The page is fetched anew; until then the question stays.
    await new Promise(() => undefined);
  };
  return (
    <ActDialog
      title={title}
      what={
        <div className="stack">
          {what.map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
          <p role="status">
            {waiting === 'yes' && backupsText.waiting}
            {waiting === 'too long' && backupsText.tooLong}
          </p>
        </div>
      }
      act={act}
      path={path}
      body={() => ({ body })}
      send={send}
      onClose={onClose}
    />
  );
}
