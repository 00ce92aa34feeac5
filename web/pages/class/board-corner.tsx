import { useEffect, useState } from 'react';
import type { Invitation } from '../../../server/experiments/contract-class.ts';
import { getNow } from '../../api.ts';
import { isOwnMachine } from '../../parts/own-machine.ts';
import { boardText as words } from '../../messages/en-board.ts';

/** A code that was changed is not shown for longer than this. */
const ASK_EVERY_MS = 20_000;

/** While groups come in: address and code, small. */
export function JoinCorner({ experimentId, isOpen }: { experimentId: string; isOpen: boolean }) {
  const [invitation, setInvitation] = useState<Invitation | null>(null);
  useEffect(() => {
    if (!isOpen) return;
    const ask = () =>
      void getNow<Invitation>(`/api/experiments/${experimentId}/invitation`).then(setInvitation, () =>
        setInvitation(null),
      );
    ask();
    const timer = setInterval(ask, ASK_EVERY_MS);
    return () => clearInterval(timer);
  }, [experimentId, isOpen]);
  if (!isOpen) return null;
  const code = invitation?.code?.toUpperCase();
  if (!invitation || code === undefined) return <p className="board-join quiet">{words.joinOpen}</p>;
  if (isOwnMachine(invitation.address)) return <p className="board-join quiet">{words.joinOwnMachine}</p>;
  return (
    <aside className="board-join" aria-label={words.joinHere}>
      <p>
        <span className="board-join-address">{invitation.address.replace(/^https?:\/\//, '').replace(/#.*$/, '')}</span>
        <strong className="board-join-code">{words.joinCode(code)}</strong>
      </p>
      {invitation.svg && (
        <img
          alt={words.joinPicture}
          src={`data:image/svg+xml;charset=utf-8,${encodeURIComponent(invitation.svg)}`}
          className="board-join-picture"
        />
      )}
    </aside>
  );
}
