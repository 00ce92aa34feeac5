import { useCallback, useEffect, useMemo, useState, useSyncExternalStore } from 'react';
import type { GroupList } from '../../../server/experiments/contract-class.ts';
import { send } from '../../api.ts';
import { assistText as words, benchText, endText, eraseText } from '../../messages/en-class.ts';
import { Button } from '../../parts/button.tsx';
import { Loading } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { AssistDesk, presentClass } from './assist-desk.ts';
import { AssistGroups, Senders } from './assist-groups.tsx';
import { GroupAtDesk } from './assist-group.tsx';
import { CautionsFirst } from './cautions-first.tsx';
import { CodeForm } from './code-form.tsx';
import { Frame } from './frame.tsx';
import { Leftover } from './erased.tsx';
import { heldForAssistant, leftForAssistant, Memory } from './memory.ts';
import { presentSession } from './standing.ts';

/** One person enters for every group of a class: a code, the groups, one group at a time. */
export default function AssistPage() {
  const [experimentId, setExperimentId] = useState<string | null | undefined>(() => presentClass() ?? undefined);
  const [visit, setVisit] = useState(0);
  useEffect(() => {
    if (experimentId !== undefined) return;
    presentSession().then(
      (session) => setExperimentId(session.kind === 'assistant' ? session.experimentId : null),
      () => setExperimentId(null),
    );
  }, [experimentId]);
  const comeIn = (id: string) => {
    setExperimentId(id);
    setVisit(visit + 1);
  };
  if (experimentId === undefined) return <Loading what={words.what} />;
  if (experimentId === null) return <ComeIn said={null} onIn={comeIn} />;
  return <AtTheDesk key={`${experimentId} ${visit}`} experimentId={experimentId} onIn={comeIn} />;
}

/** The group that is open stands in the address, so that a reload and the way back both find it. */
function useOpenGroup(): [string, (groupId: string) => void] {
  const [groupId, setGroupId] = useState(() => window.location.hash.slice(1));
  useEffect(() => {
    const moved = () => setGroupId(window.location.hash.slice(1));
    window.addEventListener('popstate', moved);
    return () => window.removeEventListener('popstate', moved);
  }, []);
  const open = useCallback((id: string) => {
    window.history.pushState(null, '', id === '' ? '/assist' : `/assist#${id}`);
    setGroupId(id);
    window.scrollTo(0, 0);
  }, []);
  return [groupId, open];
}

function AtTheDesk({ experimentId, onIn }: { experimentId: string; onIn: (experimentId: string) => void }) {
  const desk = useMemo(() => new AssistDesk(experimentId), [experimentId]);
  useEffect(() => desk.start(), [desk]);
  const state = useSyncExternalStore(desk.subscribe, desk.state);
  const [groupId, open] = useOpenGroup();
  const { note, isAway, isOut, isErased } = state;
  const { list } = note;
  if (isErased) return <ComeIn said={eraseText.title} onIn={onIn} />;
  if (isOut) return <ComeIn said={list === null ? null : words.out} onIn={onIn} />;
  if (list === null)
    return (
      <Frame title={words.title}>
        {isAway ? <Notice tone="strong">{words.away}</Notice> : <Loading what={words.what} />}
      </Frame>
    );
  const frame = { banner: <Banner list={list} isAway={isAway} /> };
  const { experiment, items } = list;
  if (experiment.state === 'closed')
    return (
      <Frame title={words.closed} lead={words.closedWhat} {...frame} screen="closed">
        <Held words={endText.unsent} />
      </Frame>
    );
  if (!note.isCautioned)
    return (
      <CautionsFirst
        cautionNote={experiment.cautionNote}
        onDone={() => desk.change({ isCautioned: true })}
        {...frame}
      />
    );
  const group = items.find(({ id }) => id === groupId);
  return (
    <>
      {group ? (
        <GroupAtDesk
          key={group.id}
          {...{ desk, group, frame, isFromPaper: note.isFromPaper }}
          onList={() => open('')}
        />
      ) : (
        <AssistGroups {...{ desk, list, frame }} onOpen={open} />
      )}
      <Senders {...{ desk, list }} except={group?.id ?? ''} />
    </>
  );
}

function Banner({ list, isAway }: { list: GroupList; isAway: boolean }) {
  return (
    <>
      {list.experiment.madeUp && <aside className="banner class-made-up">{benchText.madeUp}</aside>}
      <p className="class-away" role="status">
        {isAway ? benchText.offline : ''}
      </p>
    </>
  );
}

function ComeIn({ said, onIn }: { said: string | null; onIn: (experimentId: string) => void }) {
  const [code, setCode] = useState('');
  const comeIn = async () => {
    const { experimentId } = await send<{ experimentId: string }>('POST', '/api/class/assistant', { code });
    onIn(experimentId);
  };
  return (
    <Frame title={words.title} lead={words.lead} screen={said ?? 'in'}>
      <div className="stack wide-gaps class-narrow">
        {said !== null && <Notice>{said}</Notice>}
        <LeftOfErased />
        <Held words={words.held} />
        <CodeForm
          {...{ words, code, onCode: setCode, onSend: comeIn }}
          {...{ act: words.comeIn, acting: words.comingIn }}
        />
      </div>
    </Frame>
  );
}

/** What never reached a class that was erased since, until somebody clears it. */
function LeftOfErased() {
  const [left, setLeft] = useState(leftForAssistant);
  if (left.length === 0) return null;
  const clear = () => {
    for (const kept of left) new Memory(kept, 'assistant').forget();
    setLeft([]);
  };
  return (
    <section className="stack tight">
      <Leftover of={left} />
      <div className="row">
        <Button look="quiet" bench onClick={clear}>
          {eraseText.clear}
        </Button>
      </div>
    </section>
  );
}

function Held({ words: said }: { words: (count: number) => string }) {
  const count = heldForAssistant();
  return count > 0 && <Notice tone="strong">{said(count)}</Notice>;
}
