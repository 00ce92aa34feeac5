import { useEffect, useState } from 'react';
import type { Joining } from '../../../server/experiments/contract-class.ts';
import { getNow } from '../../api.ts';
import { boardText as words } from '../../messages/en-board.ts';

/** While groups come in: address and code, small. A board that was opened by a code does not know them. */
export function JoinCorner({
  experimentId,
  mayAsk,
  isOpen,
}: {
  experimentId: string;
  mayAsk: boolean;
  isOpen: boolean;
}) {
  const [joining, setJoining] = useState<Joining | null>(null);
  useEffect(() => {
    if (!mayAsk || !isOpen) return;
    getNow<Joining>(`/api/experiments/${experimentId}/joining`).then(setJoining, () => setJoining(null));
  }, [experimentId, mayAsk, isOpen]);
  if (!isOpen) return null;
  const code = joining?.code?.toUpperCase();
  if (!joining || code === undefined) return <p className="board-join quiet">{words.joinOpen}</p>;
  return (
    <aside className="board-join" aria-label={words.joinHere}>
      <p>
        <span className="board-join-address">{joining.address.replace(/^https?:\/\//, '').replace(/#.*$/, '')}</span>
        <strong className="board-join-code">{words.joinCode(code)}</strong>
      </p>
      {joining.svg && (
        <img
          alt={words.joinPicture}
          src={`data:image/svg+xml;charset=utf-8,${encodeURIComponent(joining.svg)}`}
          className="board-join-picture"
        />
      )}
    </aside>
  );
}
