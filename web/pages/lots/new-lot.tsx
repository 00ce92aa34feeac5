import { useQueryClient } from '@tanstack/react-query';
import { type SubmitEvent, useState } from 'react';
import { useLocation } from 'wouter';
import type { LotPreview } from '../../../server/lots/contract.ts';
import { newKey, post } from '../../api.ts';
import { text } from '../../messages/en.ts';
import { draftText } from '../../messages/en-draft.ts';
import { vesselFormText } from '../../messages/en-glassware.ts';
import { lotText, newLotText } from '../../messages/en-lots.ts';
import { Button } from '../../parts/button.tsx';
import { Field, TextArea } from '../../parts/field.tsx';
import { PageHeader } from '../../parts/page.tsx';
import { ErrorSummary, refusedHere, type Submission, useSubmission } from '../../parts/refusal.tsx';
import { dayOf } from '../../parts/time.ts';
import { tabShelf, useKeptForm } from '../../parts/use-kept-form.ts';
import { keys } from '../../queries.ts';
import { KindChoice, MainFields } from '../vessel/form.tsx';
import { TolerancePicker } from '../vessel/tolerance-picker.tsx';
import { atVesselFields, emptyLot, keptLot, type LotDraft, readLot } from './lot-draft.ts';
import { PreviewTable } from './preview-table.tsx';
import { TagFields } from './tag-fields.tsx';
import './lots.css';

const words = newLotText;

function useNewLot() {
  const { draft, isTyped, update, forget, empty } = useKeptForm<LotDraft>({
    shelf: tabShelf('delivery'),
    first: () => emptyLot(dayOf(new Date())),
    overlay: keptLot,
  });
  const [key] = useState(newKey);
  const [preview, setPreview] = useState<LotPreview | null>(null);
  const submission = useSubmission();
  const client = useQueryClient();
  const [, go] = useLocation();
  const send = async (extra: { confirm?: string[]; note?: string }, dryRun: boolean): Promise<void> => {
    const { body } = readLot(draft);
    const note = [body.note, extra.note].filter(Boolean).join('\n');
    const whole = { ...body, ...extra, ...(note ? { note } : {}) };
    try {
      if (dryRun) return setPreview(await post<LotPreview>('/api/lots', { ...whole, dryRun }, newKey()));
      const { id } = await post<{ id: string }>('/api/lots', whole, key);
      forget();
      await client.invalidateQueries({ queryKey: keys.lots });
      void client.invalidateQueries({ queryKey: keys.vessels });
      go(`/${id}`);
    } catch (error) {
      throw atVesselFields(error);
    }
  };
  const submit = (dryRun: boolean) => async (event?: SubmitEvent) => {
    event?.preventDefault();
    const refused = refusedHere(readLot(draft).problems);
    if (refused) return submission.setRefusal(refused);
    await submission.submit((extra) => send(extra, dryRun));
  };
  return {
    draft,
    isTyped,
    submission,
    preview,
    show: submit(true),
    save: submit(false),
    // What was looked at is not what would be registered any more.
    change: (changes: Partial<LotDraft>) => {
      setPreview(null);
      update((before) => ({ ...before, ...changes }));
    },
    empty: () => {
      setPreview(null);
      submission.setRefusal(null);
      empty();
    },
  };
}

/** A delivery: one form for all pieces, the list in sight before anything is kept. */
export default function NewLotPage() {
  const { draft, isTyped, submission, preview, show, save, change, empty } = useNewLot();
  const ware = {
    draft: draft.ware,
    onChange: (changes: Partial<LotDraft['ware']>) => change({ ware: { ...draft.ware, ...changes } }),
    submission,
  };
  const isFine = preview !== null && preview.rows.every(({ problems }) => problems.length === 0);
  return (
    <form className="lot-form" onSubmit={preview === null ? show : save} noValidate>
      <PageHeader title={words.title} lead={words.lead} within={{ href: '~/lots', label: lotText.title }} />
      <ErrorSummary refusal={submission.refusal} />
      <div className="stack wide-gaps">
        <About draft={draft} submission={submission} change={change} />
        <section className="stack">
          <h2>{words.ware}</h2>
          <KindChoice {...ware} problem={submission.problemAt('kind')} />
          {draft.ware.kind !== '' && (
            <>
              <MainFields {...ware} isLot />
              <fieldset className="stack">
                <legend className="form-part">{vesselFormText.toleranceTitle}</legend>
                <TolerancePicker {...ware} />
              </fieldset>
            </>
          )}
        </section>
        <TagFields draft={draft} submission={submission} change={change} />
        {preview && <PreviewTable preview={preview} />}
        <div className="row form-end">
          {preview === null || !isFine ? (
            <Button
              type={preview === null ? 'submit' : 'button'}
              look="primary"
              bench
              onClick={preview ? () => void show() : undefined}
            >
              {words.preview}
            </Button>
          ) : (
            <Button type="submit" look="primary" bench disabled={submission.busy}>
              {submission.busy ? text.form.saving : words.save(preview.rows.length)}
            </Button>
          )}
          {isTyped && (
            <Button look="quiet" bench onClick={empty}>
              {draftText.empty}
            </Button>
          )}
        </div>
      </div>
    </form>
  );
}

interface PartProps {
  draft: LotDraft;
  submission: Submission;
  change: (changes: Partial<LotDraft>) => void;
}

function About({ draft, submission, change }: PartProps) {
  const plain = (name: 'name' | 'receivedOn' | 'supplier' | 'maker', label: string) => ({
    name,
    label,
    value: draft[name],
    problem: submission.problemAt(name),
    onChange: (value: string) => change({ [name]: value }),
  });
  return (
    <section className="stack">
      <div className="field-pair">
        <Field {...plain('name', words.name)} help={words.nameHelp} />
        <Field {...plain('receivedOn', words.receivedOn)} help={words.receivedHelp} />
      </div>
      <div className="field-pair">
        <Field {...plain('supplier', words.supplier)} optional />
        <Field {...plain('maker', words.maker)} optional />
      </div>
      <div className="field-pair">
        <Field
          name="location"
          label={words.place}
          optional
          value={draft.ware.location}
          problem={submission.problemAt('location')}
          onChange={(location) => change({ ware: { ...draft.ware, location } })}
        />
        <Field
          name="intervalMonths"
          label={words.interval}
          help={words.intervalHelp}
          unit={words.intervalUnit}
          inputMode="numeric"
          width="short"
          optional
          value={draft.intervalMonths}
          problem={submission.problemAt('intervalMonths')}
          onChange={(intervalMonths) => change({ intervalMonths })}
        />
      </div>
      <TextArea
        name="note"
        label={words.note}
        optional
        rows={2}
        value={draft.note}
        problem={submission.problemAt('note')}
        onChange={(note) => change({ note })}
      />
    </section>
  );
}
