import { useState } from 'react';
import type { Decision } from '../../server/glassware/contract-decisions.ts';
import { decisionText } from '../messages/en-today.ts';
import { ActDialog } from './act-dialog.tsx';
import { Choice, Field } from './field.tsx';
import type { Submission } from './refusal.tsx';

const OPTIONS = (Object.entries(decisionText.choices) as [Decision, string][]).map(([value, label]) => ({
  value,
  label,
}));

type Read =
  { body: { decision: Decision; class?: string } } | { problems: Partial<Record<'decision' | 'class', string>> };

/** A decision while it is being made: one choice, and a class where it is taken down. */
export function useDecision() {
  const [choice, setChoice] = useState<Decision | ''>('');
  const [className, setClassName] = useState('');
  const read = (): Read => {
    if (choice === '') return { problems: { decision: decisionText.missing } };
    if (choice !== 'downgrade') return { body: { decision: choice } };
    if (className.trim() === '') return { problems: { class: decisionText.classMissing } };
    return { body: { decision: choice, class: className.trim().toUpperCase() } };
  };
  return { choice, setChoice, className, setClassName, read };
}

interface DecisionFieldsProps {
  decision: ReturnType<typeof useDecision>;
  submission: Submission;
}

export function DecisionFields({ decision, submission: { problemAt } }: DecisionFieldsProps) {
  const { choice, setChoice, className, setClassName } = decision;
  return (
    <>
      <Choice
        name="decision"
        label={decisionText.choice}
        layout="list"
        options={OPTIONS}
        value={choice}
        problem={problemAt('decision')}
        onChange={setChoice}
      />
      {choice === 'downgrade' && (
        <Field
          name="class"
          label={decisionText.class}
          help={decisionText.classHelp}
          value={className}
          problem={problemAt('class')}
          onChange={setClassName}
        />
      )}
    </>
  );
}

interface DecisionDialogProps {
  vessel: { id: string; tag: string };
  /** The calibration that does not pass. */
  calibrationId: string;
  onClose: () => void;
}

/** What becomes of a vessel that does not pass. */
export function DecisionDialog({ vessel, calibrationId, onClose }: DecisionDialogProps) {
  const decision = useDecision();
  const body = () => {
    const read = decision.read();
    return 'problems' in read ? read : { body: { ...read.body, calibrationId } };
  };
  return (
    <ActDialog
      title={decisionText.title(vessel.tag)}
      what={decisionText.what}
      path={`/api/vessels/${vessel.id}/decisions`}
      act={decisionText.save}
      body={body}
      onClose={onClose}
    >
      {(submission) => <DecisionFields decision={decision} submission={submission} />}
    </ActDialog>
  );
}
