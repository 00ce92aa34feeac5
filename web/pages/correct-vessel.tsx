import { useQueryClient } from '@tanstack/react-query';
import { type SubmitEvent, useState } from 'react';
import { useLocation } from 'wouter';
import type { Vessel, VesselWithHistory } from '../../server/glassware/contract.ts';
import { patch, ProblemError } from '../api.ts';
import { text } from '../messages/en.ts';
import { vesselFormText, vesselText } from '../messages/en-glassware.ts';
import { Button, LinkButton } from '../parts/button.tsx';
import { Field } from '../parts/field.tsx';
import { Loaded } from '../parts/loading.tsx';
import { PageHeader } from '../parts/page.tsx';
import { ErrorSummary, refusedHere, useSubmission } from '../parts/refusal.tsx';
import { Versions } from '../parts/versions.tsx';
import { keys, useVessel } from '../queries.ts';
import {
  changesBetween,
  draftOf,
  intervalProblems,
  mergeDrafts,
  readDraft,
  type VesselDraft,
  versionsOf,
} from './vessel/draft.ts';
import { VesselFields } from './vessel/form.tsx';

const words = vesselFormText;

export default function CorrectVesselPage({ id }: { id: string }) {
  const vessel = useVessel(id);
  return (
    <Loaded query={vessel} what={vesselText.oneWhat}>
      {(loaded) => <Correction vessel={loaded} />}
    </Loaded>
  );
}

function useCorrection(vessel: VesselWithHistory) {
  // What the change is made on stays what was read when the page opened, whatever is fetched meanwhile.
  const [base, setBase] = useState<Vessel>(vessel);
  const [draft, setDraft] = useState(() => draftOf(vessel));
  const [reason, setReason] = useState('');
  const [present, setPresent] = useState<Vessel | null>(null);
  const submission = useSubmission();
  const client = useQueryClient();
  const [, go] = useLocation();
  const send = async (onto: Vessel, wanted: VesselDraft) => {
    const refused = refusedHere({ ...readDraft(wanted).problems, ...intervalProblems(draftOf(onto), wanted) });
    if (refused) return submission.setRefusal(refused);
    const changes = changesBetween(draftOf(onto), wanted);
    if (Object.keys(changes).length === 0)
      return submission.setRefusal({ title: words.nothingChanged, detail: '', fields: [] });
    await submission.submit(async (extra) => {
      try {
        await patch<Vessel>(`/api/vessels/${vessel.id}`, { ...changes, ...extra, reason }, onto.version);
      } catch (error) {
        if (!(error instanceof ProblemError) || error.code !== 'stale-edit') throw error;
        return setPresent(error.body.current as Vessel);
      }
      await client.invalidateQueries({ queryKey: keys.vessels });
      go(`/glassware/${vessel.id}`);
    });
  };
  const goOnWith = (onto: Vessel, wanted: VesselDraft) => {
    setBase(onto);
    setDraft(wanted);
    setPresent(null);
  };
  return { base, draft, setDraft, reason, setReason, present, submission, send, goOnWith };
}

function Correction({ vessel }: { vessel: VesselWithHistory }) {
  const { base, draft, setDraft, reason, setReason, present, submission, send, goOnWith } = useCorrection(vessel);
  if (present) {
    const stored = draftOf(present);
    const merged = mergeDrafts(draftOf(base), draft, stored);
    return (
      <>
        <PageHeader title={words.staleTitle} />
        <Versions
          rows={versionsOf(draftOf(base), draft, stored)}
          busy={submission.busy}
          onMerge={() => {
            goOnWith(present, merged);
            void send(present, merged);
          }}
          onTakePresent={() => goOnWith(present, stored)}
        />
      </>
    );
  }
  const save = (event: SubmitEvent) => {
    event.preventDefault();
    void send(base, draft);
  };
  return (
    <form className="vessel-form" onSubmit={save} noValidate>
      <PageHeader
        title={words.correctTitle(vessel.tag)}
        within={{ href: `/glassware/${vessel.id}`, label: vessel.tag }}
        lead={words.correctLead}
      />
      <ErrorSummary refusal={submission.refusal} />
      <div className="stack wide-gaps">
        <VesselFields
          draft={draft}
          isCorrection
          onChange={(changes) => setDraft((before) => ({ ...before, ...changes }))}
          submission={submission}
        />
        <Field
          name="reason"
          label={words.reason}
          help={text.form.reasonHelp}
          value={reason}
          problem={submission.problemAt('reason')}
          onChange={setReason}
        />
      </div>
      <div className="row form-end">
        <Button type="submit" look="primary" bench disabled={submission.busy}>
          {submission.busy ? text.form.saving : words.saveCorrection}
        </Button>
        <LinkButton href={`/glassware/${vessel.id}`} look="quiet" bench>
          {text.form.cancel}
        </LinkButton>
      </div>
    </form>
  );
}
