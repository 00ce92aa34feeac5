import type { ComponentProps } from 'react';
import { text } from '../../messages/en.ts';
import { keepText as words } from '../../messages/en-solutions.ts';
import { Button } from '../../parts/button.tsx';
import { Field, TextArea } from '../../parts/field.tsx';
import type { Submission } from '../../parts/refusal.tsx';
import { dayOf } from '../../parts/time.ts';
import type { KeepDraft } from './keeping.ts';
import { UndoLine } from './undo-line.tsx';

interface KeepFieldsProps {
  draft: KeepDraft;
  proposedTitle: string;
  submission: Submission;
  onChange: (changes: Partial<KeepDraft>) => void;
  onStartAgain: () => void;
  undoing: Omit<ComponentProps<typeof UndoLine>, 'at'>;
}

/** What belongs to the record and not to the computation, and the button that keeps it all. */
export function KeepFields({ draft, proposedTitle, submission, onChange, onStartAgain, undoing }: KeepFieldsProps) {
  const field = (name: Exclude<keyof KeepDraft, 'note'>) => ({
    name,
    value: draft[name],
    problem: submission.problemAt(name),
    onChange: (value: string) => onChange({ [name]: value }),
  });
  return (
    <section className="stack">
      <h2>{words.title}</h2>
      <Field {...field('title')} {...{ label: words.titleField, help: words.titleHelp, placeholder: proposedTitle }} />
      <div className="field-pair">
        <Field
          {...field('madeOn')}
          {...{ label: words.madeOn, help: words.dayHelp, placeholder: dayOf(new Date()), width: 'medium' }}
        />
        <Field {...field('expiresOn')} {...{ label: words.expiresOn, help: words.dayHelp, width: 'medium' }} optional />
      </div>
      <Field {...field('hazardLine')} label={words.hazardLine} help={words.hazardHelp} optional />
      <div className="field-pair">
        <Field {...field('water')} label={words.water} help={words.waterHelp} optional />
        <Field {...field('lots')} label={words.lots} help={words.lotsHelp} optional />
      </div>
      <TextArea
        name="note"
        label={words.note}
        rows={2}
        optional
        value={draft.note}
        problem={submission.problemAt('note')}
        onChange={(note) => onChange({ note })}
      />
      <div className="row">
        <Button type="submit" look="primary" bench disabled={submission.busy}>
          {submission.busy ? text.form.saving : words.keep}
        </Button>
        <Button look="quiet" bench onClick={onStartAgain}>
          {words.startAgain}
        </Button>
      </div>
      <UndoLine at="form" {...undoing} />
    </section>
  );
}
