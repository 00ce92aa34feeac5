import { useQueryClient } from '@tanstack/react-query';
import { type SubmitEvent, useState } from 'react';
import { useLocation } from 'wouter';
import type { Instrument, InstrumentWithHistory } from '../../../server/instruments/contract.ts';
import { patch, ProblemError } from '../../api.ts';
import { text } from '../../messages/en.ts';
import { instrumentsText } from '../../messages/en-instruments.ts';
import { Button, LinkButton } from '../../parts/button.tsx';
import { Field, Tick } from '../../parts/field.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { PageHeader } from '../../parts/page.tsx';
import { ErrorSummary, refusedHere, useSubmission } from '../../parts/refusal.tsx';
import { Versions } from '../../parts/versions.tsx';
import { keys } from '../../queries.ts';
import { useInstrument } from './data.ts';
import { draftOf, isSame, merge, readDraft, versionsOf, type InstrumentDraft } from './draft.ts';
import { InstrumentFields } from './form.tsx';

export function ChangeInstrument({ id }: { id: string }) {
  const instrument = useInstrument(id);
  return (
    <Loaded query={instrument} what={instrumentsText.oneWhat}>
      {(loaded) => <Change instrument={loaded} />}
    </Loaded>
  );
}

/** The server names fields inside `instrument`; in the form they stand at the top. */
const atTheTop = (error: ProblemError): ProblemError =>
  new ProblemError(error.status, {
    ...error.body,
    errors: error.fields.map((field) => ({ ...field, pointer: field.pointer.replace('#/instrument/', '#/') })),
  });

function Change({ instrument }: { instrument: InstrumentWithHistory }) {
  // The change is made on what was read when the page opened, whatever is fetched meanwhile.
  const [base, setBase] = useState<Instrument>(instrument);
  const [draft, setDraft] = useState(() => draftOf(instrument));
  const [reason, setReason] = useState('');
  const [present, setPresent] = useState<Instrument | null>(null);
  const submission = useSubmission();
  const client = useQueryClient();
  const [, go] = useLocation();
  const send = async (onto: Instrument, wanted: InstrumentDraft) => {
    const { body, problems } = readDraft(wanted);
    const refused = refusedHere(problems);
    if (refused) return submission.setRefusal(refused);
    if (isSame(wanted, draftOf(onto)))
      return submission.setRefusal({ title: instrumentsText.form.nothingChanged, detail: '', fields: [] });
    await submission.submit(async () => {
      try {
        const whole = { instrument: body, inUse: wanted.inUse, reason };
        await patch<Instrument>(`/api/instruments/${instrument.id}`, whole, onto.version);
      } catch (error) {
        if (!(error instanceof ProblemError)) throw error;
        if (error.code !== 'stale-edit') throw atTheTop(error);
        return setPresent(error.body.current as Instrument);
      }
      await client.invalidateQueries({ queryKey: keys.instruments });
      go(`/${instrument.id}`);
    });
  };
  const goOnWith = (onto: Instrument, wanted: InstrumentDraft) => {
    setBase(onto);
    setDraft(wanted);
    setPresent(null);
  };
  if (present)
    return (
      <>
        <PageHeader title={instrumentsText.conflictTitle} />
        <Versions
          rows={versionsOf(draftOf(base), draft, draftOf(present))}
          busy={submission.busy}
          onMerge={() => {
            const merged = merge(draftOf(base), draft, draftOf(present));
            goOnWith(present, merged);
            void send(present, merged);
          }}
          onTakePresent={() => goOnWith(present, draftOf(present))}
        />
      </>
    );
  return (
    <ChangeForm
      instrument={instrument}
      draft={draft}
      onDraft={(changes) => setDraft((before) => ({ ...before, ...changes }))}
      reason={reason}
      onReason={setReason}
      submission={submission}
      onSave={(event) => {
        event.preventDefault();
        void send(base, draft);
      }}
    />
  );
}

interface ChangeFormProps {
  instrument: Instrument;
  draft: InstrumentDraft;
  onDraft: (changes: Partial<InstrumentDraft>) => void;
  reason: string;
  onReason: (reason: string) => void;
  submission: ReturnType<typeof useSubmission>;
  onSave: (event: SubmitEvent) => void;
}

function ChangeForm({ instrument, draft, onDraft, reason, onReason, submission, onSave }: ChangeFormProps) {
  const words = instrumentsText.form;
  return (
    <form className="instrument-form" onSubmit={onSave} noValidate>
      <PageHeader
        title={words.changeTitle(instrument.tag)}
        within={{ href: `/${instrument.id}`, label: instrument.tag }}
        lead={words.changeLead}
      />
      <ErrorSummary refusal={submission.refusal} />
      <div className="stack wide-gaps">
        <InstrumentFields draft={draft} onChange={onDraft} submission={submission} isChange />
        <Tick
          name="inUse"
          label={words.inUse}
          help={words.inUseHelp}
          checked={draft.inUse}
          onChange={(inUse) => onDraft({ inUse })}
        />
        <Field
          name="reason"
          label={words.reason}
          help={text.form.reasonHelp}
          value={reason}
          problem={submission.problemAt('reason')}
          onChange={onReason}
        />
      </div>
      <div className="row form-end">
        <Button type="submit" look="primary" bench disabled={submission.busy}>
          {submission.busy ? text.form.saving : words.saveChange}
        </Button>
        <LinkButton href={`/${instrument.id}`} look="quiet" bench>
          {text.form.cancel}
        </LinkButton>
      </div>
    </form>
  );
}
