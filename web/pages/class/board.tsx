import { useEffect, useMemo, useState, useSyncExternalStore } from 'react';
import type { Board } from '../../../server/experiments/contract-class.ts';
import { send } from '../../api.ts';
import { text } from '../../messages/en.ts';
import { boardText as words } from '../../messages/en-board.ts';
import { Loading } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { JoinCorner } from './board-corner.tsx';
import { BoardFeed, type FeedState } from './board-feed.ts';
import { BoardView } from './board-view.tsx';
import { CodeForm } from './code-form.tsx';
import { Frame } from './frame.tsx';
import { presentSession } from './standing.ts';
import './board.css';

/** Named by whoever is signed in. */
const namedInAddress = (): string | null => new URLSearchParams(window.location.search).get('experiment') || null;

/** One picture of the class for everybody to see. */
export default function BoardPage() {
  const [which, setWhich] = useState<string | null | undefined>(() => namedInAddress() ?? undefined);
  // The same board opened again by its code is asked for anew.
  const [visit, setVisit] = useState(0);
  useEffect(() => {
    if (which !== undefined) return;
    presentSession().then(
      ({ kind, experimentId }) => setWhich(kind === 'board' ? experimentId : null),
      () => setWhich(null),
    );
  }, [which]);
  if (which === undefined) return <Loading what={text.shell.page} />;
  const open = (experimentId: string) => {
    setWhich(experimentId);
    setVisit(visit + 1);
  };
  if (which === null) return <OpenBoard isErased={false} onOpen={open} />;
  return <OneBoard key={`${which} ${visit}`} experimentId={which} onOpen={open} />;
}

function OneBoard({ experimentId, onOpen }: { experimentId: string; onOpen: (experimentId: string) => void }) {
  const feed = useMemo(() => new BoardFeed(experimentId), [experimentId]);
  useEffect(() => feed.start(), [feed]);
  const state = useSyncExternalStore(feed.subscribe, feed.state);
  const { board, isRefused, isLost, isErased } = state;
  if (board === null) {
    if (isRefused) return <OpenBoard isErased={isErased} onOpen={onOpen} />;
    return (
      <Frame title={words.title}>
        {isLost ? <Notice tone="strong">{text.api.unreachable}</Notice> : <Loading what={text.shell.page} />}
      </Frame>
    );
  }
  return <BoardFrame board={board} state={state} />;
}

function BoardFrame({ board, state }: { board: Board; state: FeedState }) {
  useEffect(() => {
    document.title = text.shell.title(board.title);
  }, [board.title]);
  return (
    <main className="board">
      <header className="board-head">
        <div>
          <p className="board-title">{board.title}</p>
          <h1>{board.question}</h1>
          <p className="board-state">
            {words.counts(board.groups.length, board.trials.length)}{' '}
            <span role="status">{stateWords(board, state)}</span>
          </p>
        </div>
        <JoinCorner experimentId={board.id} isOpen={board.joiningOpen && board.state === 'open'} />
      </header>
      {board.madeUp && <aside className="banner class-made-up">{words.madeUpWhat}</aside>}
      <BoardView board={board} />
    </main>
  );
}

const two = (value: number): string => String(value).padStart(2, '0');

function stateWords(board: Board, { isLost, isRefused, asOfMs }: FeedState): string {
  if (board.state === 'closed') return words.closed;
  if (isRefused) return words.ended;
  const at = new Date(asOfMs);
  return isLost ? words.lost(`${two(at.getHours())}:${two(at.getMinutes())}`) : '';
}

/** A projector without a sign-in: the board code, typed once. */
function OpenBoard({ isErased, onOpen }: { isErased: boolean; onOpen: (experimentId: string) => void }) {
  const [code, setCode] = useState('');
  const open = async () => {
    const { experimentId } = await send<{ experimentId: string }>('POST', '/api/class/board', { code });
    window.history.replaceState(null, '', '/board');
    onOpen(experimentId);
  };
  return (
    <Frame title={words.openTitle} lead={words.openLead}>
      <div className="stack wide-gaps">
        {isErased && <Notice>{words.erased}</Notice>}
        <CodeForm {...{ words, code, onCode: setCode, onSend: open }} {...{ act: words.open, acting: words.opening }} />
      </div>
    </Frame>
  );
}
