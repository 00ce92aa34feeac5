import { Suspense, useEffect, useState } from 'react';
import type { GroupPage as GroupFacts } from '../../../server/experiments/contract-class.ts';
import { benchText as words } from '../../messages/en-class.ts';
import { Loading } from '../../parts/loading.tsx';
import { later } from '../../parts/later.tsx';
import { Notice } from '../../parts/notice.tsx';
import { CautionsFirst } from './cautions-first.tsx';
import { Ended } from './ended.tsx';
import { Erased } from './erased.tsx';
import { Frame, type FrameParts } from './frame.tsx';
import type { Memory } from './memory.ts';
import type { Place } from './place.ts';
import { Steps } from './steps.tsx';
import { type Group, useGroup, usePresentMemory } from './use-group.ts';
import { WaitingList } from './waiting.tsx';
import { Welcome } from './welcome.tsx';

// What comes after the weighing is fetched when it is opened.
const CheckYourself = later(() => import('./check-yourself.tsx'));

/** The page of one group: its word, the cautions, then step by step what it measures. */
export function GroupPage({ go }: { go: (to: Place) => void }) {
  const memory = usePresentMemory();
  useEffect(() => {
    if (memory === null) go('join');
  }, [memory, go]);
  return memory ? <GroupAtWork memory={memory} go={go} /> : <Loading what={words.loading} />;
}

function GroupAtWork({ memory, go }: { memory: Memory; go: (to: Place) => void }) {
  const group = useGroup(memory);
  const { kept, state } = group;
  if (state.isErased) return <Erased kept={[kept]} onForget={() => memory.forget()} go={go} />;
  const frame = { end: <BarEnd group={group} />, banner: <Banner group={group} /> };
  if (kept.word !== null && !kept.isWordWritten) return <Welcome group={group} word={kept.word} />;
  if (kept.page === null)
    return state.isOut ? (
      <Ended group={group} page={null} go={go} />
    ) : (
      <Frame title={kept.name ?? words.nameless} {...frame}>
        {!state.isAway && <Loading what={words.loading} />}
      </Frame>
    );
  if (state.isOut || kept.page.experiment.state === 'closed') return <Ended group={group} page={kept.page} go={go} />;
  if (!kept.isCautioned) {
    const { cautionNote } = kept.page.experiment;
    const goOn = () => memory.change(() => ({ isCautioned: true }));
    return <CautionsFirst cautionNote={cautionNote} onDone={goOn} {...frame} />;
  }
  return <AtTheBench group={group} page={kept.page} {...frame} />;
}

interface AtTheBenchProps extends FrameParts {
  group: Group;
  page: GroupFacts;
}

function AtTheBench({ group, page, end, banner }: AtTheBenchProps) {
  return (
    <Frame title={page.experiment.title} lead={page.experiment.question} end={end} banner={banner} screen="bench">
      <div className="stack wide-gaps">
        {group.keepsNothing && <Notice tone="strong">{words.keepsNothing}</Notice>}
        <WaitingList group={group} page={page} />
        <Steps group={group} page={page} />
        <Check experimentId={page.experiment.id} />
        <details className="unfold class-word">
          <summary>{words.yourWord}</summary>
          <p>
            {group.kept.word === null ? words.wordUnknown : <code className="class-word-text">{group.kept.word}</code>}
          </p>
        </details>
      </div>
    </Frame>
  );
}

function Check({ experimentId }: { experimentId: string }) {
  const [isOpen, setOpen] = useState(false);
  return (
    <details className="unfold" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{words.checkYourselves}</summary>
      {isOpen && (
        <Suspense fallback={<Loading what={words.loading} />}>
          <CheckYourself experimentId={experimentId} />
        </Suspense>
      )}
    </details>
  );
}

function BarEnd({ group: { kept } }: { group: Group }) {
  const count = kept.waiting.filter(({ isFirst }) => !isFirst).length;
  return (
    <>
      {count > 0 && <span className="class-unsent">{words.unsent(count)}</span>}
      <span className="class-name">{kept.name ?? words.nameless}</span>
    </>
  );
}

/** What is true of the whole page: readings that were made up, a connection that is lost. */
function Banner({ group: { kept, state } }: { group: Group }) {
  return (
    <>
      {kept.page?.experiment.madeUp === true && <aside className="banner class-made-up">{words.madeUp}</aside>}
      <p className="class-away" role="status">
        {state.isAway ? words.offline : ''}
      </p>
    </>
  );
}
