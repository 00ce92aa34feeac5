import { useQueryClient } from '@tanstack/react-query';
import { type SubmitEvent, useState } from 'react';
import { useLocation } from 'wouter';
import type { Vessel } from '../../server/glassware/contract.ts';
import { newKey, post } from '../api.ts';
import { text } from '../messages/en.ts';
import { draftText } from '../messages/en-draft.ts';
import { vesselFormText, vesselText } from '../messages/en-glassware.ts';
import { Button, LinkButton } from '../parts/button.tsx';
import { PageHeader } from '../parts/page.tsx';
import { ErrorSummary, refusedHere, useSubmission } from '../parts/refusal.tsx';
import { tabShelf, useKeptForm } from '../parts/use-kept-form.ts';
import { keys } from '../queries.ts';
import { EMPTY_DRAFT, intervalProblems, missingIn, readDraft, type VesselDraft } from './vessel/draft.ts';
import { VesselFields } from './vessel/form.tsx';

export default function NewVesselPage() {
  const { draft, isTyped, update, forget, empty } = useKeptForm<VesselDraft>({
    shelf: tabShelf('vessel'),
    first: () => EMPTY_DRAFT,
  });
  const [key] = useState(newKey);
  const submission = useSubmission();
  const client = useQueryClient();
  const [, go] = useLocation();
  const save = async (event: SubmitEvent) => {
    event.preventDefault();
    const { body, problems } = readDraft(draft);
    const refused = refusedHere({ ...problems, ...intervalProblems(EMPTY_DRAFT, draft), ...missingIn(draft) });
    if (refused) return submission.setRefusal(refused);
    await submission.submit(async (extra) => {
      const note = [body.note, extra.note].filter(Boolean).join('\n');
      const vessel = await post<Vessel>('/api/vessels', { ...body, ...extra, ...(note ? { note } : {}) }, key);
      forget();
      void client.invalidateQueries({ queryKey: keys.vessels });
      void client.invalidateQueries({ queryKey: keys.today });
      go(`/glassware/${vessel.id}`);
    });
  };
  return (
    <form className="vessel-form" onSubmit={save} noValidate>
      <PageHeader
        title={vesselFormText.newTitle}
        within={{ href: '/glassware', label: vesselText.title }}
        lead={vesselFormText.newLead}
      />
      <ErrorSummary refusal={submission.refusal} />
      <VesselFields
        draft={draft}
        onChange={(changes) => update((before) => ({ ...before, ...changes }))}
        submission={submission}
      />
      {draft.kind !== '' && (
        <div className="row form-end">
          <Button type="submit" look="primary" bench disabled={submission.busy}>
            {submission.busy ? text.form.saving : vesselFormText.save}
          </Button>
          <LinkButton href="/glassware" look="quiet" bench>
            {text.form.cancel}
          </LinkButton>
          {isTyped && (
            <Button
              look="quiet"
              bench
              onClick={() => {
                submission.setRefusal(null);
                empty();
              }}
            >
              {draftText.empty}
            </Button>
          )}
        </div>
      )}
    </form>
  );
}
