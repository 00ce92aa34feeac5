import { useQueryClient } from '@tanstack/react-query';
import { type ReactNode, type SubmitEvent, useState } from 'react';
import { newKey, post } from '../api.ts';
import { text } from '../messages/en.ts';
import { Button } from './button.tsx';
import { Dialog } from './dialog.tsx';
import { Field } from './field.tsx';
import { ErrorSummary, Question, refusedHere, type Submission, useSubmission } from './refusal.tsx';

interface ActDialogProps {
  title: string;
  /** What will happen. */
  what: ReactNode;
  path: string;
  /** Text of the button that does it. */
  act: string;
  /** Further members of the body, or the fields that are not filled in yet. */
  body?: () => { body: Record<string, unknown> } | { problems: Partial<Record<string, string>> };
  /** Fields between what happens and the reason. */
  children?: (submission: Submission) => ReactNode;
  /** Fields the server may ask about. */
  questionAt?: string;
  needsReason?: boolean;
  /** Sends in place of a POST, for acts that change a record. */
  send?: (body: Record<string, unknown>) => Promise<unknown>;
  onClose: () => void;
}

/** An act that stays in the record: what it does, why, and one button. */
export function ActDialog(props: ActDialogProps) {
  const { title, what, path, act, body, children, questionAt, needsReason = true, send, onClose } = props;
  const [key] = useState(newKey);
  const [reason, setReason] = useState('');
  const submission = useSubmission();
  const client = useQueryClient();
  const save = async (event: SubmitEvent) => {
    event.preventDefault();
    const made = body?.() ?? { body: {} };
    if ('problems' in made) return submission.setRefusal(refusedHere(made.problems));
    await submission.submit(async (extra) => {
      const whole = { ...made.body, ...extra, ...(needsReason ? { reason } : {}) };
      await (send ? send(whole) : post(path, whole, key));
      await client.invalidateQueries();
      onClose();
    });
  };
  return (
    <Dialog title={title} onClose={onClose}>
      <form className="stack" onSubmit={save} noValidate>
        <ErrorSummary refusal={submission.refusal} />
        <div>{what}</div>
        {children?.(submission)}
        {questionAt && <Question submission={submission} field={questionAt} />}
        {needsReason && (
          <Field
            name="reason"
            label={text.form.reason}
            help={text.form.reasonHelp}
            value={reason}
            problem={submission.problemAt('reason')}
            onChange={setReason}
          />
        )}
        <div className="row">
          <Button type="submit" look="primary" bench disabled={submission.busy}>
            {submission.busy ? text.form.saving : act}
          </Button>
          <Button look="quiet" bench onClick={onClose}>
            {text.form.cancel}
          </Button>
        </div>
      </form>
    </Dialog>
  );
}
