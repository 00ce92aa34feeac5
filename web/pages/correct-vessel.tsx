import { useQueryClient } from '@tanstack/react-query';
import { type SubmitEvent, useState } from 'react';
import { useLocation } from 'wouter';
import type { Vessel, VesselWithHistory } from '../../server/glassware/contract.ts';
import { patch, ProblemError } from '../api.ts';
import { text } from '../messages/en.ts';
import { Button, LinkButton } from '../parts/button.tsx';
import { Field } from '../parts/field.tsx';
import { Loaded } from '../parts/loading.tsx';
import { PageHeader } from '../parts/page.tsx';
import { ErrorSummary, refusedHere, useSubmission } from '../parts/refusal.tsx';
import { keys, useVessel } from '../queries.ts';
import { changesBetween, draftOf, readDraft } from './vessel/draft.ts';
import { VesselFields } from './vessel/form.tsx';
import { StaleEdit } from './vessel/stale-edit.tsx';

export default function CorrectVesselPage({ id }: { id: string }) {
  const vessel = useVessel(id);
  return (
    <Loaded query={vessel} what={text.vessel.oneWhat}>
      {(loaded) => <Correction vessel={loaded} />}
    </Loaded>
  );
}

function Correction({ vessel }: { vessel: VesselWithHistory }) {
  // What the change is made on stays what was read when the page opened, whatever is fetched meanwhile.
  const [base, setBase] = useState<Vessel>(vessel);
  const [draft, setDraft] = useState(() => draftOf(vessel));
  const [reason, setReason] = useState('');
  const [stale, setStale] = useState<Vessel | null>(null);
  const submission = useSubmission();
  const client = useQueryClient();
  const [, go] = useLocation();
  const send = async (onto: Vessel) => {
    const refused = refusedHere(readDraft(draft).problems);
    if (refused) return submission.setRefusal(refused);
    const changes = changesBetween(draftOf(onto), draft);
    if (Object.keys(changes).length === 0)
      return submission.setRefusal({ title: text.vesselForm.nothingChanged, detail: '', fields: [] });
    await submission.submit(async (extra) => {
      try {
        await patch<Vessel>(`/api/vessels/${vessel.id}`, { ...changes, ...extra, reason }, onto.version);
      } catch (error) {
        if (!(error instanceof ProblemError) || error.code !== 'stale-edit') throw error;
        return setStale(error.body.current as Vessel);
      }
      await client.invalidateQueries({ queryKey: keys.vessels });
      go(`/glassware/${vessel.id}`);
    });
  };
  const save = (event: SubmitEvent) => {
    event.preventDefault();
    void send(base);
  };
  if (stale)
    return (
      <StaleEdit
        mine={draft}
        stored={draftOf(stale)}
        onKeepMine={() => {
          setBase(stale);
          setStale(null);
          void send(stale);
        }}
        onTakeStored={() => {
          setBase(stale);
          setDraft(draftOf(stale));
          setStale(null);
        }}
      />
    );
  return (
    <form className="vessel-form" onSubmit={save} noValidate>
      <PageHeader
        title={text.vesselForm.correctTitle(vessel.tag)}
        within={{ href: `/glassware/${vessel.id}`, label: vessel.tag }}
        lead={text.vesselForm.correctLead}
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
          label={text.vesselForm.reason}
          help={text.form.reasonHelp}
          value={reason}
          problem={submission.problemAt('reason')}
          onChange={setReason}
        />
      </div>
      <div className="row form-end">
        <Button type="submit" look="primary" bench disabled={submission.busy}>
          {submission.busy ? text.form.saving : text.vesselForm.saveCorrection}
        </Button>
        <LinkButton href={`/glassware/${vessel.id}`} look="quiet" bench>
          {text.form.cancel}
        </LinkButton>
      </div>
    </form>
  );
}
