import { useQueryClient } from '@tanstack/react-query';
import { type SubmitEvent, useEffect, useState } from 'react';
import { useLocation } from 'wouter';
import type { Experiment } from '../../../server/experiments/contract.ts';
import type { VesselListItem } from '../../../server/glassware/contract.ts';
import { newKey, patch, post } from '../../api.ts';
import { text } from '../../messages/en.ts';
import { planText as words, teachingText } from '../../messages/en-teaching.ts';
import { Button, LinkButton } from '../../parts/button.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { PageHeader } from '../../parts/page.tsx';
import { ErrorSummary, type FormRefusal, refusedHere, useSubmission } from '../../parts/refusal.tsx';
import { forgetDraft, keepDraft, recallDraft } from '../../parts/tab-draft.ts';
import { fetchVessels } from '../../queries.ts';
import { classKeys, useExperiment, useTemplates } from './data.ts';
import { planDraft, readPlan, tagsIn, type PlanDraft, type PlanShown } from './plan-draft.ts';
import { PlanFields } from './plan-fields.tsx';
import { stillRefused } from './plan-refusal.ts';
import { Foreseen } from './foreseen.tsx';
import { TeacherPageOnly } from './teacher-only.tsx';

export function NewPlan({ template }: { template: string }) {
  const templates = useTemplates();
  return (
    <TeacherPageOnly>
      <Loaded query={templates} what={words.what}>
        {({ items }) => {
          const chosen =
            items.find((item) => item.template === template) ?? items.find((item) => item.template === 'own');
          return chosen ? (
            <PlanForm key={chosen.template} plan={chosen} template={chosen.template} experiment={null} />
          ) : null;
        }}
      </Loaded>
    </TeacherPageOnly>
  );
}

export function ChangePlan({ id }: { id: string }) {
  const experiment = useExperiment(id);
  return (
    <TeacherPageOnly>
      <Loaded query={experiment} what={words.what}>
        {(loaded) => <PlanForm key={loaded.id} plan={loaded} template={loaded.template} experiment={loaded} />}
      </Loaded>
    </TeacherPageOnly>
  );
}

/** Ids of the tags typed, as the register has them now. */
async function idsOf(draft: PlanDraft): Promise<Map<string, string>> {
  const ids = new Map<string, string>();
  for (const tag of new Set(draft.rows.flatMap((row) => tagsIn(row.vessels)))) {
    const { items } = await fetchVessels({ search: tag });
    const found = items.find((vessel: VesselListItem) => vessel.tag === tag || vessel.id === tag);
    if (found) ids.set(tag, found.id);
  }
  return ids;
}

interface PlanFormProps {
  plan: PlanShown;
  template: Experiment['template'];
  /** Null for a new one. */
  experiment: Experiment | null;
}

const hasData = (experiment: Experiment | null): boolean =>
  experiment !== null && experiment.counts.trials + experiment.counts.predictions > 0;

/** What was measured under a plan keeps these. */
const FIXED_BY_DATA = ['rows', 'design', 'asks'];

const without = (body: object, names: readonly string[]): object =>
  Object.fromEntries(Object.entries(body).filter(([name]) => !names.includes(name)));

interface KeptDraft {
  /** The plan it began with: once that is another, the draft would take back what somebody else changed. */
  from: PlanDraft;
  draft: PlanDraft;
}

const areSame = (one: PlanDraft, other: PlanDraft): boolean => JSON.stringify(one) === JSON.stringify(other);

/** The plan as typed, kept for this tab until it is saved. */
function useDraft({ plan, template, experiment }: PlanFormProps) {
  const place = `class-plan.${experiment?.id ?? template}`;
  const [from] = useState(() => planDraft(plan));
  const [recalled] = useState(() => {
    const kept = recallDraft<KeptDraft>(place);
    return kept !== null && areSame(kept.from, from) ? kept.draft : null;
  });
  const [draft, setDraft] = useState(recalled ?? from);
  const isChanged = !areSame(draft, from);
  useEffect(() => {
    if (isChanged) keepDraft(place, { from, draft } satisfies KeptDraft);
    else forgetDraft(place);
  }, [place, from, draft, isChanged]);
  return {
    ...{ draft, setDraft, isChanged },
    isRecalled: recalled !== null && isChanged,
    startAfresh: () => setDraft(from),
    forget: () => forgetDraft(place),
  };
}

function usePlanForm(props: PlanFormProps) {
  const { template, experiment } = props;
  const kept = useDraft(props);
  const { draft } = kept;
  const [key] = useState(newKey);
  const submission = useSubmission();
  const { refusal, setRefusal } = submission;
  const change = (next: PlanDraft) => {
    kept.setDraft(next);
    setRefusal(stillRefused(refusal, draft, next));
  };
  const startAfresh = () => {
    kept.startAfresh();
    setRefusal(null);
  };
  const client = useQueryClient();
  const [, go] = useLocation();
  const isLate = hasData(experiment);
  const save = async (event: SubmitEvent) => {
    event.preventDefault();
    const read: { unreadable?: FormRefusal | null } = {};
    await submission.submit(async (extra) => {
      const { body, problems } = readPlan(draft, await idsOf(draft));
      read.unreadable = refusedHere(problems);
      if (read.unreadable) return;
      const sent = { ...(isLate ? without(body, FIXED_BY_DATA) : body), ...extra };
      const saved = experiment
        ? await patch<{ id: string }>(`/api/experiments/${experiment.id}`, sent, experiment.version)
        : await post<{ id: string }>('/api/experiments', { template, ...sent }, key);
      kept.forget();
      await client.invalidateQueries({ queryKey: classKeys.all });
      go(`/${saved.id}`);
    });
    if (read.unreadable) setRefusal(read.unreadable);
  };
  return { ...kept, change, startAfresh, submission, save, isLate };
}

function PlanForm(props: PlanFormProps) {
  const { experiment, plan } = props;
  const form = usePlanForm(props);
  const { draft, submission } = form;
  const back = experiment ? `/${experiment.id}` : '/';
  return (
    <form className="class-plan" onSubmit={form.save} noValidate>
      <PageHeader
        title={experiment ? words.changeTitle : words.newTitle}
        lead={experiment ? plan.title : words.lead}
        within={{ href: back, label: teachingText.within }}
      />
      <ErrorSummary refusal={submission.refusal} />
      {form.isRecalled && <Notice>{words.draftBack}</Notice>}
      {form.isLate && <Notice>{words.fixed}</Notice>}
      <div className="class-plan-body">
        <PlanFields
          draft={draft}
          submission={submission}
          isLate={form.isLate}
          onChange={(changes) => form.change({ ...draft, ...changes })}
        />
        <div className="class-plan-side">
          <Foreseen draft={draft} onChange={form.change} isLate={form.isLate} />
        </div>
      </div>
      <div className="row form-end">
        <Button type="submit" look="primary" bench disabled={submission.busy}>
          {submission.busy ? text.form.saving : experiment ? words.saveChange : words.save}
        </Button>
        <LinkButton href={back} look="quiet" bench>
          {text.form.cancel}
        </LinkButton>
        {form.isChanged && (
          <Button look="quiet" bench onClick={form.startAfresh}>
            {experiment ? words.backToSaved : words.backToTemplate}
          </Button>
        )}
      </div>
    </form>
  );
}
