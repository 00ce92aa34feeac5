import { useSyncExternalStore } from 'react';
import type { GroupList } from '../../../server/experiments/contract-class.ts';
import { assistText as words, benchText } from '../../messages/en-class.ts';
import { Button } from '../../parts/button.tsx';
import { Tick } from '../../parts/field.tsx';
import { ErrorSummary, useSubmission } from '../../parts/refusal.tsx';
import type { AssistDesk } from './assist-desk.ts';
import { Frame, type FrameParts } from './frame.tsx';
import { useGroup } from './use-group.ts';

type Listed = GroupList['items'][number];

interface AssistGroupsProps {
  desk: AssistDesk;
  list: GroupList;
  frame: FrameParts;
  onOpen: (groupId: string) => void;
}

/** For whom is entered next: every group with how far it is. */
export function AssistGroups({ desk, list, frame, onOpen }: AssistGroupsProps) {
  const { experiment, items } = list;
  const { refusal, busy, submit } = useSubmission();
  const make = () =>
    submit(async () => {
      const made = await desk.makeGroup();
      if (made) onOpen(made.id);
    });
  return (
    <Frame title={experiment.title} lead={experiment.question} {...frame} screen="groups">
      <div className="stack wide-gaps class-narrow">
        <section className="stack" aria-label={words.groups}>
          <h2>{words.groups}</h2>
          {items.length === 0 && <p className="quiet">{words.none}</p>}
          <ul className="plain class-step-list">
            {items.map((group) => (
              <li key={group.id}>
                <GroupButton {...{ desk, group, planned: plannedTrials(experiment) }} onOpen={() => onOpen(group.id)} />
              </li>
            ))}
          </ul>
          <ErrorSummary refusal={refusal} />
          <div className="row">
            <Button bench disabled={busy} onClick={() => void make()}>
              {words.newGroup}
            </Button>
          </div>
        </section>
        <Tick
          name="isFromPaper"
          label={words.fromPaper}
          checked={desk.state().note.isFromPaper}
          onChange={(isFromPaper) => desk.change({ isFromPaper })}
        />
      </div>
    </Frame>
  );
}

const plannedTrials = ({ rows }: GroupList['experiment']): number =>
  rows.reduce((sum, { trialsPerGroup }) => sum + trialsPerGroup, 0);

export const groupNameOf = ({ name, number }: Pick<Listed, 'name' | 'number'>): string => name ?? words.number(number);

interface GroupButtonProps {
  desk: AssistDesk;
  group: Listed;
  planned: number;
  onOpen: () => void;
}

function GroupButton({ desk, group, planned, onOpen }: GroupButtonProps) {
  const memory = desk.memoryOf(group.id);
  const { waiting, drafts } = useSyncExternalStore(memory.subscribe, memory.kept);
  return (
    <button type="button" className="class-step-button" onClick={onOpen}>
      <span className="class-step-label">{groupNameOf(group)}</span>
      <span className="class-step-state">
        {Object.keys(drafts).length > 0 && <>{words.begun} · </>}
        {waiting.length > 0 && <>{benchText.unsent(waiting.length)} · </>}
        {words.progress(group.trials, planned)}
      </span>
    </button>
  );
}

/** What waits for other groups than the one that is open goes by itself. */
export function Senders({ desk, list, except }: { desk: AssistDesk; list: GroupList; except: string }) {
  return list.items.filter(({ id }) => id !== except).map(({ id }) => <Sender key={id} desk={desk} groupId={id} />);
}

function Sender({ desk, groupId }: { desk: AssistDesk; groupId: string }) {
  const memory = desk.memoryOf(groupId);
  const { waiting } = useSyncExternalStore(memory.subscribe, memory.kept);
  return waiting.length > 0 ? <Sending desk={desk} groupId={groupId} /> : null;
}

function Sending({ desk, groupId }: { desk: AssistDesk; groupId: string }) {
  useGroup(desk.memoryOf(groupId));
  return null;
}
