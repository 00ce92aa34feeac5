import { useQueryClient } from '@tanstack/react-query';
import { type SubmitEvent, useState } from 'react';
import { useLocation } from 'wouter';
import type { Instrument } from '../../../server/instruments/contract.ts';
import { newKey, post } from '../../api.ts';
import { text } from '../../messages/en.ts';
import { instrumentsText } from '../../messages/en-instruments.ts';
import { Button, LinkButton } from '../../parts/button.tsx';
import { PageHeader } from '../../parts/page.tsx';
import { ErrorSummary, refusedHere, useSubmission } from '../../parts/refusal.tsx';
import { keys } from '../../queries.ts';
import { emptyDraft, readDraft } from './draft.ts';
import { InstrumentFields } from './form.tsx';

export function NewInstrument() {
  const [draft, setDraft] = useState(() => emptyDraft('balance'));
  const [key] = useState(newKey);
  const submission = useSubmission();
  const client = useQueryClient();
  const [, go] = useLocation();
  const save = async (event: SubmitEvent) => {
    event.preventDefault();
    const { body, problems } = readDraft(draft);
    const refused = refusedHere(problems);
    if (refused) return submission.setRefusal(refused);
    await submission.submit(async () => {
      const made = await post<Instrument>('/api/instruments', body, key);
      await client.invalidateQueries({ queryKey: keys.instruments });
      go(`/${made.id}`);
    });
  };
  return (
    <form className="instrument-form" onSubmit={save} noValidate>
      <PageHeader
        title={instrumentsText.form.newTitle}
        within={{ href: '~/instruments', label: instrumentsText.title }}
        lead={instrumentsText.form.newLead}
      />
      <ErrorSummary refusal={submission.refusal} />
      <InstrumentFields
        draft={draft}
        onChange={(changes) => setDraft((before) => ({ ...before, ...changes }))}
        submission={submission}
      />
      <div className="row form-end">
        <Button type="submit" look="primary" bench disabled={submission.busy}>
          {submission.busy ? text.form.saving : instrumentsText.form.save}
        </Button>
        <LinkButton href="~/instruments" look="quiet" bench>
          {text.form.cancel}
        </LinkButton>
      </div>
    </form>
  );
}
