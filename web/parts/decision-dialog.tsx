import { useState } from 'react';
import type { Decision } from '../../server/glassware/contract-decisions.ts';
import { decisionText } from '../messages/en-today.ts';
import { ActDialog } from './act-dialog.tsx';
import { Choice, Field } from './field.tsx';

const OPTIONS = (Object.entries(decisionText.choices) as [Decision, string][]).map(([value, label]) => ({
  value,
  label,
}));

interface DecisionDialogProps {
  vessel: { id: string; tag: string };
  /** The calibration that does not pass. */
  calibrationId: string;
  onClose: () => void;
}

/** What becomes of a vessel that does not pass. */
export function DecisionDialog({ vessel, calibrationId, onClose }: DecisionDialogProps) {
  const [decision, setDecision] = useState<Decision | ''>('');
  const [className, setClassName] = useState('');
  const body = () => {
    if (decision === '') return { problems: { decision: decisionText.missing } };
    if (decision !== 'downgrade') return { body: { decision, calibrationId } };
    if (className.trim() === '') return { problems: { class: decisionText.classMissing } };
    return { body: { decision, calibrationId, class: className.trim().toUpperCase() } };
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
      {({ problemAt }) => (
        <>
          <Choice
            name="decision"
            label={decisionText.choice}
            layout="list"
            options={OPTIONS}
            value={decision}
            problem={problemAt('decision')}
            onChange={setDecision}
          />
          {decision === 'downgrade' && (
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
      )}
    </ActDialog>
  );
}
