import { useQueryClient } from '@tanstack/react-query';
import { type SubmitEvent, useState } from 'react';
import { Link } from 'wouter';
import type { ClassGroup } from '../../../server/experiments/contract-class.ts';
import type { Experiment } from '../../../server/experiments/contract.ts';
import { newKey, patch, post, send } from '../../api.ts';
import { planText, runText as words } from '../../messages/en-teaching.ts';
import { Button } from '../../parts/button.tsx';
import { Field, Tick } from '../../parts/field.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Section } from '../../parts/page.tsx';
import { ErrorSummary, refusedHere, useSubmission } from '../../parts/refusal.tsx';
import { classKeys, useBoard, useGroups, useJoining } from './data.ts';

interface GroupsProps {
  experiment: Experiment;
  mayTeach: boolean;
}

/** Who is in, how they come back, and what the board shows of them. */
export function GroupsSection({ experiment, mayTeach }: GroupsProps) {
  const { id, state, madeUp } = experiment;
  const isRunning = state === 'open' && !madeUp;
  const groups = useGroups(id, isRunning);
  const maySee = mayTeach && isRunning;
  return (
    <Section title={words.groupsTitle}>
      <p className="quiet">{words.groupsLead}</p>
      {mayTeach && state !== 'planned' && <BoardShows experiment={experiment} />}
      <Loaded query={groups} what={words.what}>
        {({ items }) =>
          items.length === 0 ? (
            <p>{words.noGroups}</p>
          ) : (
            <GroupTable experiment={experiment} items={items} showsWords={maySee} />
          )
        }
      </Loaded>
      {mayTeach && state !== 'closed' && !madeUp && <AddGroups id={id} />}
    </Section>
  );
}

function BoardShows({ experiment }: { experiment: Experiment }) {
  const { id, version, namesHidden, predictionsShown } = experiment;
  const client = useQueryClient();
  const { refusal, submit } = useSubmission();
  const change = (changes: { namesHidden?: boolean; predictionsShown?: boolean }) =>
    void submit(async () => {
      client.setQueryData(classKeys.one(id), await patch<Experiment>(`/api/experiments/${id}`, changes, version));
    });
  return (
    <div className="stack tight no-print">
      <ErrorSummary refusal={refusal} />
      <Tick
        name="namesHidden"
        label={words.namesHidden}
        checked={namesHidden}
        onChange={(checked) => change({ namesHidden: checked })}
      />
      <Tick
        name="predictionsShown"
        label={words.predictionsShown}
        checked={predictionsShown}
        onChange={(checked) => change({ predictionsShown: checked })}
      />
    </div>
  );
}

interface TableProps {
  experiment: Experiment;
  items: readonly ClassGroup[];
  showsWords: boolean;
}

/** How many trials of a row count for a group. */
function useProgress({ id, state }: Experiment): (group: number, row: string) => number {
  const board = useBoard(id, state === 'open');
  const trials = board.data?.trials ?? [];
  return (group, row) => trials.filter((trial) => trial.group === group && trial.row === row && !trial.excluded).length;
}

function GroupTable({ experiment, items, showsWords }: TableProps) {
  const { id } = experiment;
  const progress = useProgress(experiment);
  const joining = useJoining(id, showsWords);
  const said = new Map(joining.data?.words.map(({ groupId, word }) => [groupId, word]));
  const client = useQueryClient();
  const { refusal, busy, submit } = useSubmission();
  const act = (path: string, body?: object) =>
    void submit(async () => {
      await send('POST', `/api/experiments/${id}/groups/${path}`, body);
      await client.invalidateQueries({ queryKey: classKeys.one(id) });
    });
  return (
    <>
      <ErrorSummary refusal={refusal} />
      <div className="table-box" tabIndex={0} role="region" aria-label={words.groupsTitle}>
        <table className="table">
          <caption className="unseen">{words.groupsTitle}</caption>
          <thead>
            <tr>
              <th scope="col">{words.group}</th>
              {experiment.rows.map((row) => (
                <th key={row.key} scope="col" className="class-progress">
                  {row.label}
                </th>
              ))}
              {showsWords && <th scope="col">{words.word}</th>}
              {showsWords && <th scope="col">{words.shown}</th>}
            </tr>
          </thead>
          <tbody>
            {items.map((group) => (
              <GroupRow
                key={group.id}
                group={group}
                rows={experiment.rows}
                enterAt={showsWords ? `/${id}/enter?group=${group.id}` : null}
                word={said.get(group.id) ?? ''}
                busy={busy}
                progress={progress}
                act={act}
              />
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
}

interface GroupRowProps {
  group: ClassGroup;
  rows: Experiment['rows'];
  /** Where whoever runs the class enters for this group; null for everybody else. */
  enterAt: string | null;
  word: string;
  busy: boolean;
  progress: (group: number, row: string) => number;
  act: (path: string, body?: object) => void;
}

function GroupRow({ group, rows, enterAt, word, busy, progress, act }: GroupRowProps) {
  return (
    <tr>
      <th scope="row">
        {enterAt === null ? (
          nameOf(group)
        ) : (
          <Link className="lone-link" href={enterAt}>
            {nameOf(group)}
          </Link>
        )}
      </th>
      {rows.map((row) => (
        <td key={row.key} className="class-progress">
          {group.hidden ? '' : words.progress(progress(group.number, row.key), row.trialsPerGroup)}
        </td>
      ))}
      {enterAt !== null && (
        <>
          <td>
            <div className="row">
              <code>{word}</code>
              <Button look="quiet" disabled={busy} onClick={() => act(`${group.id}/word`)}>
                {words.newWord}
              </Button>
            </div>
          </td>
          <td>
            <Button look="quiet" disabled={busy} onClick={() => act(group.id, { hidden: !group.hidden })}>
              {group.hidden ? words.show : words.hide}
            </Button>
          </td>
        </>
      )}
    </tr>
  );
}

export const nameOf = ({ number, name }: Pick<ClassGroup, 'number' | 'name'>): string =>
  name === null ? words.numbered(number) : `${number} · ${name}`;

const MOST_GROUPS = 60;

function AddGroups({ id }: { id: string }) {
  const [count, setCount] = useState('1');
  const [key, setKey] = useState(newKey);
  const client = useQueryClient();
  const { refusal, setRefusal, busy, submit, problemAt } = useSubmission();
  const add = async (event: SubmitEvent) => {
    event.preventDefault();
    const number = /^\s*\d{1,2}\s*$/.test(count) ? Number(count) : 0;
    if (number < 1 || number > MOST_GROUPS)
      return setRefusal(refusedHere({ count: planText.wholeNumber(1, MOST_GROUPS) }));
    await submit(async () => {
      await post(`/api/experiments/${id}/groups`, { count: number }, key);
      setKey(newKey());
      await client.invalidateQueries({ queryKey: classKeys.one(id) });
    });
  };
  return (
    <details className="unfold no-print">
      <summary>{words.addGroups}</summary>
      <form className="stack" onSubmit={add} noValidate>
        <ErrorSummary refusal={refusal} />
        <Field
          name="count"
          label={words.addGroupsCount}
          inputMode="numeric"
          width="short"
          value={count}
          problem={problemAt('count')}
          onChange={setCount}
        />
        <div className="row">
          <Button type="submit" disabled={busy}>
            {words.addGroupsAct}
          </Button>
        </div>
      </form>
    </details>
  );
}
