import { useState } from 'react';
import type { Experiment } from '../../../server/experiments/contract.ts';
import { runText as words, teachingText } from '../../messages/en-teaching.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { Button, LinkButton } from '../../parts/button.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { PageHeader } from '../../parts/page.tsx';
import { moment } from '../../parts/time.ts';
import { useMay } from '../../session.ts';
import { Afterwards } from './afterwards.tsx';
import { useExperiment } from './data.ts';
import { GroupsSection } from './groups.tsx';
import { JoiningSection } from './joining.tsx';
import { PapersSection } from './papers.tsx';
import { PlanSection } from './plan-section.tsx';
import { RehearseDialog } from './rehearse.tsx';

export function ExperimentPage({ id }: { id: string }) {
  const experiment = useExperiment(id);
  return (
    <Loaded query={experiment} what={words.what}>
      {(loaded) => (
        <div className="class-page">
          <Shown experiment={loaded} />
        </div>
      )}
    </Loaded>
  );
}

/** One experiment, from the plan to what is kept of it. */
function Shown({ experiment }: { experiment: Experiment }) {
  const mayTeach = useMay()('teach');
  const { id, state, madeUp } = experiment;
  return (
    <>
      <PageHeader
        title={experiment.title || experiment.question}
        lead={experiment.title === '' ? undefined : experiment.question}
        within={{ href: '/', label: teachingText.within }}
        actions={mayTeach && <Acts experiment={experiment} />}
      />
      <div className="stack">
        <p>
          {!madeUp && words.state[state]}{' '}
          {state === 'open' && !madeUp && experiment.endsAt && words.endsAt(moment(experiment.endsAt))}
        </p>
        {madeUp && <Notice>{words.madeUp}</Notice>}
      </div>
      {mayTeach && state === 'open' && !madeUp && <JoiningSection experiment={experiment} />}
      <GroupsSection experiment={experiment} mayTeach={mayTeach} />
      <PlanSection experiment={experiment} />
      <PapersSection experiment={experiment} />
      {mayTeach && state !== 'planned' && <Afterwards key={id} experiment={experiment} />}
    </>
  );
}

/** What can be done next, the most likely first. */
function Acts({ experiment }: { experiment: Experiment }) {
  const [asked, setAsked] = useState<'open' | 'rehearse' | null>(null);
  const { id, state, madeUp, counts } = experiment;
  const close = () => setAsked(null);
  const isRunning = state === 'open' && !madeUp;
  return (
    <>
      {state === 'planned' && (
        <Button look="primary" onClick={() => setAsked('open')}>
          {words.open}
        </Button>
      )}
      {isRunning && (
        <LinkButton href={`/${id}/enter`} look="primary">
          {words.enter}
        </LinkButton>
      )}
      {state !== 'planned' && <LinkButton href={`/${id}/numbers`}>{words.numbers}</LinkButton>}
      {state !== 'planned' && (
        <a className="button button-plain" href={`/board?experiment=${id}`} title={words.boardWhat}>
          {words.board}
        </a>
      )}
      {state !== 'closed' && !madeUp && <LinkButton href={`/${id}/plan`}>{words.change}</LinkButton>}
      {!madeUp && counts.trials === 0 && <Button onClick={() => setAsked('rehearse')}>{words.rehearse}</Button>}
      {asked === 'open' && (
        <ActDialog
          title={words.openTitle}
          what={words.openWhat}
          path={`/api/experiments/${id}/opening`}
          act={words.open}
          needsReason={false}
          onClose={close}
        />
      )}
      {asked === 'rehearse' && <RehearseDialog id={id} onClose={close} />}
    </>
  );
}
