import { useQueryClient } from '@tanstack/react-query';
import { type SubmitEvent, useRef, useState } from 'react';
import { useSearch } from 'wouter';
import type { ClassTrial, GroupPage } from '../../../server/experiments/contract-class.ts';
import type { Experiment, WareRowOnWire } from '../../../server/experiments/contract.ts';
import { newKey, post } from '../../api.ts';
import { text } from '../../messages/en.ts';
import { enterText as words, teachingText } from '../../messages/en-teaching.ts';
import { Button, LinkButton } from '../../parts/button.tsx';
import { Choice, Select, Tick } from '../../parts/field.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Caution, Notice } from '../../parts/notice.tsx';
import { PageHeader, Section } from '../../parts/page.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import { readNumber } from '../../parts/read-number.ts';
import { ReadingInput } from '../../parts/reading-input.tsx';
import { VesselChoice } from '../../parts/vessel-choice.tsx';
import { vesselIn } from '../../parts/vessel-chosen.ts';
import { ErrorSummary, Question, refusedHere, useSubmission } from '../../parts/refusal.tsx';
import { decimalsForTolerance, fixed } from '../../parts/rounding.ts';
import { cautionsText } from '../../messages/en-cautions.ts';
import { classKeys, useExperiment, useGroup, useGroups } from './data.ts';
import { nameOf } from './groups.tsx';
import { TeacherPageOnly } from './teacher-only.tsx';

/** One person enters for all groups: at one balance, or from sheets afterwards. */
export function EnterPage({ id }: { id: string }) {
  const experiment = useExperiment(id);
  return (
    <TeacherPageOnly>
      <Loaded query={experiment} what={words.title}>
        {(loaded) => (
          <>
            <PageHeader
              title={words.title}
              lead={words.lead}
              within={{ href: `/${id}`, label: loaded.title || teachingText.within }}
            />
            {loaded.state === 'open' ? (
              <Entering experiment={loaded} />
            ) : (
              <>
                <Notice>{words.notOpen}</Notice>
                <LinkButton href={`/${id}`}>{text.shell.back}</LinkButton>
              </>
            )}
          </>
        )}
      </Loaded>
    </TeacherPageOnly>
  );
}

function Entering({ experiment }: { experiment: Experiment }) {
  const asked = new URLSearchParams(useSearch()).get('group') ?? '';
  const [chosen, setChosen] = useState(asked);
  const [rowKey, setRowKey] = useState(experiment.rows[0]?.key ?? '');
  const [fromPaper, setFromPaper] = useState(false);
  const groups = useGroups(experiment.id, true);
  const row = experiment.rows.find(({ key }) => key === rowKey);
  return (
    <Loaded query={groups} what={words.group}>
      {({ items }) => {
        const groupId = items.some((group) => group.id === chosen) ? chosen : (items[0]?.id ?? '');
        if (groupId === '' || !row) return <p>{words.noGroups}</p>;
        return (
          <div className="class-enter">
            <Caution title={cautionsText.spillCaution}>{cautionsText.spillCautionWhat}</Caution>
            <div className="field-pair">
              <Select
                name="group"
                label={words.group}
                value={groupId}
                options={items.map((group) => ({ value: group.id, label: nameOf(group) }))}
                onChange={(value) => value && setChosen(value)}
              />
              <Tick name="fromPaper" label={words.fromPaper} checked={fromPaper} onChange={setFromPaper} />
            </div>
            <Choice
              name="row"
              label={words.row}
              value={rowKey}
              options={experiment.rows.map(({ key, label, basis }) => ({
                value: key,
                label: `${label}: ${teachingText.bases[basis]}`,
              }))}
              layout="list"
              onChange={setRowKey}
            />
            <Readings key={`${groupId} ${rowKey}`} {...{ experiment, groupId, row, fromPaper }} />
            <GroupTrials id={experiment.id} groupId={groupId} row={row} />
          </div>
        );
      }}
    </Loaded>
  );
}

interface ReadingsProps {
  experiment: Experiment;
  groupId: string;
  row: WareRowOnWire;
  fromPaper: boolean;
}

const EMPTY = { emptyG: '', filledG: '', waterTemperatureC: '' };
type Readings = typeof EMPTY;
type Draft = Readings & { vesselId: string };
const UNITS: Record<keyof Readings, string> = { emptyG: 'g', filledG: 'g', waterTemperatureC: '°C' };

/** The draft as decimal text, or what cannot be read. */
function readingsIn(
  draft: Draft,
  row: WareRowOnWire,
): { body: Partial<Draft>; problems: Partial<Record<keyof Draft, string>> } {
  const { problem, ...vessel } = vesselIn(row.vessels, draft.vesselId);
  const body: Partial<Draft> = vessel;
  const problems: Partial<Record<keyof Draft, string>> = problem === undefined ? {} : { vesselId: problem };
  for (const field of Object.keys(EMPTY) as (keyof Readings)[]) {
    if (field === 'waterTemperatureC' && draft[field].trim() === '') continue;
    const read = readNumber(draft[field], UNITS[field]);
    if (read.ok) body[field] = read.value;
    else problems[field] = read.problem;
  }
  return { body, problems };
}

function useReadings({ experiment, groupId, row, fromPaper }: ReadingsProps) {
  const [draft, setDraft] = useState<Draft>({ ...EMPTY, vesselId: '' });
  const [key, setKey] = useState(newKey);
  const [said, setSaid] = useState('');
  const submission = useSubmission();
  const client = useQueryClient();
  const form = useRef<HTMLFormElement>(null);
  const focus = (name: keyof Readings) => form.current?.querySelector<HTMLInputElement>(`#${name}`)?.focus();
  const save = async () => {
    const { body, problems } = readingsIn(draft, row);
    const refused = refusedHere(problems);
    if (refused) return submission.setRefusal(refused);
    await submission.submit(async ({ confirm }) => {
      const trial = await post<ClassTrial>(
        `/api/experiments/${experiment.id}/groups/${groupId}/trials`,
        { row: row.key, ...body, ...(fromPaper ? { fromPaper } : {}), ...(confirm ? { confirm } : {}) },
        key,
      );
      setKey(newKey());
      // Water and vessel of one trial are most likely those of the next.
      setDraft((before) => ({ ...before, emptyG: '', filledG: '' }));
      // At once: whoever types on must not be called back when the table below has been read anew.
      focus('emptyG');
      submission.setConfirmed([]);
      setSaid(words.saved(trial.number, fixed(trial.volumeMl, decimalsOf(row))));
      void client.invalidateQueries({ queryKey: classKeys.one(experiment.id) });
    });
  };
  return { draft, setDraft, said, submission, form, focus, save };
}

const decimalsOf = (row: WareRowOnWire): number =>
  decimalsForTolerance(row.toleranceMl ?? Number(row.nominalVolumeMl) / 1000);

function Readings(props: ReadingsProps) {
  const { row } = props;
  const { draft, setDraft, said, submission, form, focus, save } = useReadings(props);
  const isDelivered = row.basis === 'deliver';
  const field = (name: keyof Readings, label: string, next: () => void) => (
    <div>
      <ReadingInput
        name={name}
        label={label}
        unit={UNITS[name]}
        value={draft[name]}
        problem={submission.problemAt(name)}
        note={name === 'waterTemperatureC' ? words.waterHelp : null}
        onChange={(value) => setDraft({ ...draft, [name]: value })}
        onRead={(read) => 'value' in read && setDraft((before) => ({ ...before, [name]: read.value }))}
        onEnter={next}
      />
      <Question submission={submission} field={name} />
    </div>
  );
  return (
    <form
      ref={form}
      className="card stack"
      noValidate
      onSubmit={(event: SubmitEvent) => {
        event.preventDefault();
        void save();
      }}
    >
      <ErrorSummary refusal={submission.refusal} />
      <p className="quiet">{ruleOf(row)}</p>
      <VesselChoice
        vessels={row.vessels}
        value={draft.vesselId}
        problem={submission.problemAt('vesselId')}
        onChange={(vesselId) => setDraft({ ...draft, vesselId })}
      />
      <div className="class-readings">
        {field('emptyG', isDelivered ? words.emptyDeliver : words.empty, () => focus('filledG'))}
        {field('filledG', isDelivered ? words.filledDeliver : words.filled, () => focus('waterTemperatureC'))}
        {field('waterTemperatureC', words.water, () => void save())}
      </div>
      <div className="row">
        <Button type="submit" look="primary" bench disabled={submission.busy}>
          {submission.busy ? text.form.saving : words.save}
        </Button>
        <span role="status">{said}</span>
      </div>
    </form>
  );
}

const ruleOf = ({ readingRule }: WareRowOnWire): string => {
  const { mark, estimatedToMl } = readingRule;
  if (mark !== 'scale') return words.rule[mark];
  return words.rule.scale(estimatedToMl === null ? '?' : String(estimatedToMl));
};

function GroupTrials({ id, groupId, row }: { id: string; groupId: string; row: WareRowOnWire }) {
  const group = useGroup(id, groupId);
  return (
    <Section title={words.trials}>
      <Loaded query={group} what={words.trials}>
        {(page) => <TrialTable page={page} row={row} />}
      </Loaded>
    </Section>
  );
}

function TrialTable({ page, row }: { page: GroupPage; row: WareRowOnWire }) {
  const trials = page.trials.filter((trial) => trial.row === row.key);
  if (trials.length === 0) return <p className="quiet">{words.none}</p>;
  const decimals = decimalsOf(row);
  const tags = new Map(row.vessels.map(({ id, tag }) => [id, tag]));
  const heads = [
    words.number,
    ...(tags.size > 0 ? [words.vessel] : []),
    words.empty,
    words.filled,
    words.simple,
    words.density,
    words.corrected,
  ];
  return (
    <div className="table-box" tabIndex={0} role="region" aria-label={words.trials}>
      <table className="table">
        <caption className="unseen">{words.trials}</caption>
        <thead>
          <tr>
            {heads.map((head) => (
              <th key={head} scope="col">
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {trials.map((trial) => (
            <tr key={trial.number} data-out={trial.excluded ? '' : undefined}>
              <th scope="row">
                {trial.number} {trial.excluded && <span className="quiet small">{words.excluded}</span>}
              </th>
              {tags.size > 0 && <td>{tags.get(trial.vesselId ?? '')}</td>}
              <td className="number">{trial.emptyG}</td>
              <td className="number">{trial.filledG}</td>
              {[trial.simpleVolumeMl, trial.densityVolumeMl, trial.volumeMl].map((volumeMl, index) => (
                <td key={index} className="number">
                  <Quantity value={fixed(volumeMl, decimals)} />
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
