import { useQueryClient } from '@tanstack/react-query';
import { Fragment, type SubmitEvent, useEffect, useRef, useState } from 'react';
import { useLocation, useSearch } from 'wouter';
import type { ClassTrial } from '../../../server/experiments/contract-class.ts';
import type { Experiment, WareRowOnWire } from '../../../server/experiments/contract.ts';
import { newKey, post, withQuery } from '../../api.ts';
import { text } from '../../messages/en.ts';
import { enterText as words, teachingText } from '../../messages/en-teaching.ts';
import { Button, LinkButton } from '../../parts/button.tsx';
import { Choice, Select, Tick } from '../../parts/field.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Caution, Notice } from '../../parts/notice.tsx';
import { PageHeader, Section } from '../../parts/page.tsx';
import { readNumber } from '../../parts/read-number.ts';
import { ReadingInput } from '../../parts/reading-input.tsx';
import { VesselChoice } from '../../parts/vessel-choice.tsx';
import { vesselIn } from '../../parts/vessel-chosen.ts';
import { ErrorSummary, type FormRefusal, Question, refusedHere, useSubmission } from '../../parts/refusal.tsx';
import { fixed } from '../../parts/rounding.ts';
import { cautionsText } from '../../messages/en-cautions.ts';
import { classKeys, useExperiment, useGroup, useGroups } from './data.ts';
import { EMPTY, type ReadingFields, type ReadingsDraft, useOpen, useReadingsDraft } from './enter-kept.ts';
import { EnterPrediction } from './enter-prediction.tsx';
import { digitsOf, TrialTable } from './enter-trials.tsx';
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
  const { id, rows } = experiment;
  const asked = new URLSearchParams(useSearch());
  const [, go] = useLocation();
  const named = { groupId: asked.get('group') ?? undefined, row: asked.get('row') ?? undefined };
  const [{ groupId: chosen, row: rowKey, fromPaper }, change] = useOpen(id, named);
  const groups = useGroups(id, true);
  const row = rows.find(({ key }) => key === rowKey) ?? rows[0];
  return (
    <Loaded query={groups} what={words.group}>
      {({ items }) => {
        const groupId = items.some((group) => group.id === chosen) ? chosen : (items[0]?.id ?? '');
        if (groupId === '' || !row) return <p>{words.noGroups}</p>;
        // In the address too, so that a reload lets nothing land in another group.
        const choose = (next: { groupId?: string; row?: string }) => {
          const to = { groupId, row: row.key, ...next };
          change(to);
          go(withQuery(`/${id}/enter`, { group: to.groupId, row: to.row }), { replace: true });
        };
        return (
          <div className="class-enter">
            <Caution title={cautionsText.spillCaution}>{cautionsText.spillCautionWhat}</Caution>
            <div className="field-pair">
              <Select
                name="group"
                label={words.group}
                value={groupId}
                options={items.map((group) => ({ value: group.id, label: nameOf(group) }))}
                onChange={(value) => value && choose({ groupId: value })}
              />
              <Tick
                name="fromPaper"
                label={words.fromPaper}
                checked={fromPaper}
                onChange={(isPaper) => change({ fromPaper: isPaper })}
              />
            </div>
            <Choice
              name="row"
              label={words.row}
              value={row.key}
              options={rows.map(({ key, label, basis }) => ({
                value: key,
                label: `${label}: ${teachingText.bases[basis]}`,
              }))}
              layout="list"
              onChange={(key) => choose({ row: key })}
            />
            <Fragment key={`${groupId} ${row.key}`}>
              <Expected {...{ id, groupId, row }} />
              <Readings {...{ experiment, groupId, row, fromPaper }} />
              <GroupTrials {...{ id, groupId, row }} />
            </Fragment>
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

const UNITS: Record<keyof ReadingFields, string> = { emptyG: 'g', filledG: 'g', waterTemperatureC: '°C' };

/** The draft as decimal text, or what cannot be read. */
function readingsIn(
  draft: ReadingsDraft,
  row: WareRowOnWire,
): { body: Partial<ReadingsDraft>; problems: Partial<Record<keyof ReadingsDraft, string>> } {
  const { problem, ...vessel } = vesselIn(row.vessels, draft.vesselId);
  const body: Partial<ReadingsDraft> = vessel;
  const problems: Partial<Record<keyof ReadingsDraft, string>> = problem === undefined ? {} : { vesselId: problem };
  for (const field of Object.keys(EMPTY) as (keyof ReadingFields)[]) {
    if (field === 'waterTemperatureC' && draft[field].trim() === '') continue;
    const read = readNumber(draft[field], UNITS[field]);
    if (read.ok) body[field] = read.value;
    else problems[field] = read.problem;
  }
  return { body, problems };
}

function useReadings({ experiment, groupId, row, fromPaper }: ReadingsProps) {
  const [draft, change] = useReadingsDraft(experiment.id, groupId, row.key);
  const [key, setKey] = useState(newKey);
  const [said, setSaid] = useState('');
  const submission = useSubmission();
  const client = useQueryClient();
  const form = useRef<HTMLFormElement>(null);
  const focus = (name: string) => form.current?.querySelector<HTMLInputElement>(`#${CSS.escape(name)}`)?.focus();
  const { refusal, setRefusal, setConfirmed } = submission;
  useEffect(() => {
    // To the reading in question, so that it can be typed again at once.
    const [first] = refusal?.isRest ? [] : (refusal?.fields ?? []);
    if (first) form.current?.querySelector<HTMLInputElement>(`#${CSS.escape(first.field)}`)?.focus();
  }, [refusal]);
  /** What was said of the value before is not true of the next one; a question is one about all readings. */
  const type = (changes: Partial<ReadingsDraft>) => {
    change(changes);
    setSaid('');
    setConfirmed([]);
    setRefusal((before) => withoutFields(before, Object.keys(changes)));
  };
  const save = async () => {
    setSaid('');
    const { body, problems } = readingsIn(draft, row);
    const refused = refusedHere(problems);
    if (refused) return setRefusal(refused);
    await submission.submit(async ({ confirm }) => {
      const trial = await post<ClassTrial>(
        `/api/experiments/${experiment.id}/groups/${groupId}/trials`,
        { row: row.key, ...body, ...(fromPaper ? { fromPaper } : {}), ...(confirm ? { confirm } : {}) },
        key,
      );
      setKey(newKey());
      // Water and vessel of one trial are most likely those of the next.
      change({ emptyG: '', filledG: '' });
      // At once: whoever types on must not be called back when the table below has been read anew.
      focus('emptyG');
      setConfirmed([]);
      setSaid(words.saved(trial.number, fixed(trial.volumeMl, digitsOf(trial))));
      void client.invalidateQueries({ queryKey: classKeys.one(experiment.id) });
    });
  };
  return { draft, change, type, said, submission, form, focus, save };
}

function withoutFields(refusal: FormRefusal | null, changed: readonly string[]): FormRefusal | null {
  if (refusal === null) return null;
  const fields = refusal.fields.filter(({ field, confirm }) => confirm === undefined && !changed.includes(field));
  return fields.length === 0 ? null : { ...refusal, fields, isRest: true };
}

function Readings(props: ReadingsProps) {
  const { row } = props;
  const { draft, change, type, said, submission, form, focus, save } = useReadings(props);
  const isDelivered = row.basis === 'deliver';
  const field = (name: keyof ReadingFields, label: string, next: () => void) => (
    <div>
      <ReadingInput
        name={name}
        label={label}
        unit={UNITS[name]}
        value={draft[name]}
        problem={submission.problemAt(name)}
        note={name === 'waterTemperatureC' ? words.waterHelp : null}
        onChange={(value) => type({ [name]: value })}
        onRead={(read) => 'value' in read && change({ [name]: read.value })}
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
        onChange={(vesselId) => type({ vesselId })}
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

interface OfGroup {
  id: string;
  groupId: string;
  row: WareRowOnWire;
}

function Expected({ id, groupId, row }: OfGroup) {
  const page = useGroup(id, groupId).data;
  return page ? <EnterPrediction {...{ id, page, row }} /> : null;
}

function GroupTrials({ id, groupId, row }: OfGroup) {
  const group = useGroup(id, groupId);
  return (
    <Section title={words.trials}>
      <Loaded query={group} what={words.trials}>
        {(page) => <TrialTable {...{ id, page, row }} />}
      </Loaded>
    </Section>
  );
}
