import { type SubmitEvent, useState } from 'react';
import type { ClassTrial } from '../../../server/experiments/contract-class.ts';
import { EXCLUSION_CAUSES, type ExclusionCause } from '../../../server/metrology/record.ts';
import { newKey } from '../../api.ts';
import { text } from '../../messages/en.ts';
import { actText as words, entryText } from '../../messages/en-class.ts';
import { Button } from '../../parts/button.tsx';
import { Dialog } from '../../parts/dialog.tsx';
import { Choice, Field, Tick } from '../../parts/field.tsx';
import { readNumber } from '../../parts/read-number.ts';
import { ErrorSummary, refusedHere, useSubmission } from '../../parts/refusal.tsx';
import { fieldName, type Step } from './step.ts';

const FIELDS = ['emptyG', 'filledG', 'waterTemperatureC'] as const;
type FieldName = (typeof FIELDS)[number];

/** Does it now, or is refused: a path below the trials of the group. @throws ProblemError, NetworkError */
export type ActOnTrial = (path: string, body: object | undefined, key: string) => Promise<void>;

interface DialogProps {
  act: ActOnTrial;
  trial: ClassTrial;
  onClose: () => void;
}

function Ends({ act, busy, onClose }: { act: string; busy: boolean; onClose: () => void }) {
  return (
    <div className="row">
      <Button type="submit" look="primary" bench disabled={busy}>
        {busy ? text.form.saving : act}
      </Button>
      <Button look="quiet" bench onClick={onClose}>
        {text.form.cancel}
      </Button>
    </div>
  );
}

/** A slip of typing: which number, what it should read, what happened. The old value stays readable. */
export function CorrectDialog({ act, step, trial, onClose }: DialogProps & { step: Pick<Step, 'row'> }) {
  const [field, setField] = useState<FieldName>('filledG');
  const [value, setValue] = useState('');
  const [reason, setReason] = useState('');
  const submission = useSubmission();
  const { refusal, setRefusal, busy, submit, problemAt, questionAt, confirmed, setConfirmed } = submission;
  const question = questionAt('value');
  const save = async (event: SubmitEvent) => {
    event.preventDefault();
    const read = readNumber(value, field === 'waterTemperatureC' ? '°C' : 'g');
    const missing = refusedHere({
      value: read.ok ? undefined : read.problem,
      reason: reason.trim() === '' ? words.reasonMissing : undefined,
    });
    if (!read.ok || missing) return setRefusal(missing);
    await submit(async (extra) => {
      const body = { field, value: read.value, reason, ...extra };
      await act(`${trial.row}/${trial.number}/correction`, body, newKey());
      onClose();
    });
  };
  return (
    <Dialog title={words.correctTitle(trial.number)} onClose={onClose}>
      <form className="stack" onSubmit={save} noValidate>
        <ErrorSummary refusal={refusal} />
        <p>{words.correctWhat}</p>
        <Choice
          {...{ name: 'field', label: words.field, value: field, onChange: setField, layout: 'list' as const }}
          options={FIELDS.map((name) => ({ value: name, label: `${fieldName(step, name)}: ${trial[name] ?? '–'}` }))}
        />
        <Field
          {...{
            name: 'value',
            label: words.value,
            number: true,
            value,
            problem: problemAt('value'),
            onChange: setValue,
          }}
        />
        {question?.confirm !== undefined && (
          <div className="question">
            <p>{question.detail}</p>
            <Tick
              name="confirm-value"
              label={entryText.really}
              checked={confirmed.includes(question.confirm)}
              onChange={(yes) => setConfirmed(yes && question.confirm !== undefined ? [question.confirm] : [])}
            />
          </div>
        )}
        <Field
          {...{ name: 'reason', label: words.reason, help: words.reasonHelp, value: reason }}
          {...{ problem: problemAt('reason'), onChange: setReason }}
        />
        <Ends act={words.correct} busy={busy} onClose={onClose} />
      </form>
    </Dialog>
  );
}

/** Something went wrong at the bench: the trial stays in sight and counts in no mean. */
export function LeaveOutDialog({ act, trial, onClose }: DialogProps) {
  const [cause, setCause] = useState<ExclusionCause | ''>('');
  const [reason, setReason] = useState('');
  const [key] = useState(newKey);
  const { refusal, setRefusal, busy, submit, problemAt } = useSubmission();
  const save = async (event: SubmitEvent) => {
    event.preventDefault();
    if (cause === '') return setRefusal(refusedHere({ cause: words.causeMissing }));
    await submit(async () => {
      const body = { cause, ...(reason.trim() === '' ? {} : { reason }) };
      await act(`${trial.row}/${trial.number}/exclusion`, body, key);
      onClose();
    });
  };
  return (
    <Dialog title={words.leaveOutTitle(trial.number)} onClose={onClose}>
      <form className="stack" onSubmit={save} noValidate>
        <ErrorSummary refusal={refusal} />
        <p>{words.leaveOutWhat}</p>
        <Choice
          {...{ name: 'cause', label: words.cause, value: cause, problem: problemAt('cause'), onChange: setCause }}
          layout="list"
          options={EXCLUSION_CAUSES.map((name) => ({ value: name, label: words.causes[name] }))}
        />
        <Field
          {...{
            name: 'reason',
            label: words.reason,
            help: words.reasonHelp,
            value: reason,
            optional: cause !== 'other',
          }}
          {...{ problem: problemAt('reason'), onChange: setReason }}
        />
        <Ends act={words.leaveOut} busy={busy} onClose={onClose} />
      </form>
    </Dialog>
  );
}
