import { useQueryClient } from '@tanstack/react-query';
import { type ReactNode, type SubmitEvent, useState } from 'react';
import { useLocation } from 'wouter';
import type { LotChange, LotWithVessels } from '../../../server/lots/contract.ts';
import { text } from '../../messages/en.ts';
import { correctLotText } from '../../messages/en-lot-decisions.ts';
import { lotText, newLotText } from '../../messages/en-lots.ts';
import { Button, LinkButton } from '../../parts/button.tsx';
import { Beside, useEditBeside, versionsRows } from '../../parts/edit-beside.tsx';
import { Field, TextArea } from '../../parts/field.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { PageHeader } from '../../parts/page.tsx';
import { ErrorSummary, type Submission, useSubmission } from '../../parts/refusal.tsx';
import { keys } from '../../queries.ts';
import { useLot } from './queries.ts';
import './lots.css';

const words = correctLotText;

interface Draft {
  name: string;
  receivedOn: string;
  supplier: string;
  maker: string;
  note: string;
}

const draftOf = ({ name, receivedOn, supplier, maker, note }: LotWithVessels): Draft => ({
  name,
  receivedOn,
  supplier: supplier ?? '',
  maker: maker ?? '',
  note: note ?? '',
});

const FIELDS = [
  [newLotText.name, ({ name }: Draft) => name],
  [newLotText.receivedOn, ({ receivedOn }: Draft) => receivedOn],
  [newLotText.supplier, ({ supplier }: Draft) => supplier],
  [newLotText.maker, ({ maker }: Draft) => maker],
  [newLotText.note, ({ note }: Draft) => note],
] as const;

/** Fields that differ; an emptied one that may be empty becomes null. */
function changesBetween(before: Draft, after: Draft): Omit<LotChange, 'reason'> {
  const changed = (Object.keys(after) as (keyof Draft)[]).filter((field) => after[field].trim() !== before[field]);
  const isOptional = (field: keyof Draft) => field !== 'name' && field !== 'receivedOn';
  return Object.fromEntries(
    changed.map((field) => [field, after[field].trim() === '' && isOptional(field) ? null : after[field].trim()]),
  );
}

/** The facts of a delivery put right, with the reason; what somebody else saved meanwhile is laid beside it. */
export default function CorrectLotPage({ id }: { id: string }) {
  const lot = useLot(id);
  return (
    <Loaded query={lot} what={lotText.oneWhat}>
      {(loaded) => <Correction lot={loaded} />}
    </Loaded>
  );
}

function Correction({ lot }: { lot: LotWithVessels }) {
  const edit = useEditBeside(`/api/lots/${lot.id}`, lot, draftOf);
  const [reason, setReason] = useState('');
  const submission = useSubmission();
  const client = useQueryClient();
  const [, go] = useLocation();
  const save = async (event: SubmitEvent) => {
    event.preventDefault();
    const changes = changesBetween(draftOf(edit.base), edit.draft);
    if (Object.keys(changes).length === 0)
      return submission.setRefusal({ title: words.nothingChanged, detail: '', fields: [] });
    await submission.submit(async () => {
      await edit.send({ ...changes, reason });
      await client.invalidateQueries({ queryKey: keys.lots });
      go(`/${lot.id}`);
    });
  };
  const isStale = edit.present !== null;
  return (
    <form className="lot-form" onSubmit={save} noValidate>
      <PageHeader
        title={isStale ? words.staleTitle : words.title(lot.name)}
        within={{ href: `/${lot.id}`, label: lot.name }}
        {...(isStale ? {} : { lead: words.lead })}
      />
      {!isStale && <ErrorSummary refusal={submission.refusal} />}
      <div className="stack wide-gaps" ref={edit.box}>
        <Beside
          edit={edit}
          busy={submission.busy}
          rows={(present) =>
            versionsRows(FIELDS, { before: draftOf(edit.base), mine: edit.draft, present: draftOf(present) })
          }
        />
        {!isStale && (
          <CorrectionFields draft={edit.draft} onChange={edit.setDraft} submission={submission}>
            <Field
              name="reason"
              label={words.reason}
              help={text.form.reasonHelp}
              value={reason}
              problem={submission.problemAt('reason')}
              onChange={setReason}
            />
          </CorrectionFields>
        )}
      </div>
      {!isStale && (
        <div className="row form-end">
          <Button type="submit" look="primary" bench disabled={submission.busy}>
            {submission.busy ? text.form.saving : words.save}
          </Button>
          <LinkButton href={`/${lot.id}`} look="quiet" bench>
            {text.form.cancel}
          </LinkButton>
        </div>
      )}
    </form>
  );
}

interface CorrectionFieldsProps {
  draft: Draft;
  onChange: (draft: Draft) => void;
  submission: Submission;
  children: ReactNode;
}

function CorrectionFields({ draft, onChange, submission, children }: CorrectionFieldsProps) {
  const plain = (name: keyof Draft, label: string) => ({
    name,
    label,
    value: draft[name],
    problem: submission.problemAt(name),
    onChange: (value: string) => onChange({ ...draft, [name]: value }),
  });
  return (
    <>
      <div className="field-pair">
        <Field {...plain('name', newLotText.name)} help={newLotText.nameHelp} />
        <Field {...plain('receivedOn', newLotText.receivedOn)} help={newLotText.receivedHelp} />
      </div>
      <div className="field-pair">
        <Field {...plain('supplier', newLotText.supplier)} optional />
        <Field {...plain('maker', newLotText.maker)} optional />
      </div>
      <TextArea {...plain('note', newLotText.note)} optional rows={2} />
      {children}
    </>
  );
}
