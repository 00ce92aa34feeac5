import { useState } from 'react';
import type { ClassTrial } from '../../../server/experiments/contract-class.ts';
import { foundText as words } from '../../messages/en-class.ts';
import { newKey } from '../../api.ts';
import { Button } from '../../parts/button.tsx';
import { useSubmission } from '../../parts/refusal.tsx';
import { fieldName, type Step } from './step.ts';
import { type ActOnTrial, CorrectDialog, LeaveOutDialog } from './trial-acts.tsx';

interface TrialStoryProps {
  /** Null where nothing can be changed any more. */
  act: ActOnTrial | null;
  step: Pick<Step, 'row'>;
  trial: ClassTrial;
}

/** One trial opened: its readings, its slips, and what can be done about it. */
export function TrialStory({ act, step, trial }: TrialStoryProps) {
  const { emptyG, filledG, waterTemperatureC, usedWaterTemperatureC, corrections, excluded } = trial;
  const tag = step.row.vessels.find(({ id }) => id === trial.vesselId)?.tag;
  const water = waterTemperatureC ?? `${usedWaterTemperatureC} (${words.assumed})`;
  return (
    <div className="class-story stack tight">
      <p>
        {words.trial} {trial.number}: {tag !== undefined && `${tag}, `}
        {words.readings(emptyG, filledG, water)}
      </p>
      {corrections.map(({ field, previousValue, value, reason }, index) => (
        <p key={index} className="quiet">
          {words.was(fieldName(step, field), previousValue ?? words.assumed, value, reason ?? '')}
        </p>
      ))}
      {excluded && (
        <p className="quiet">
          {words.excludedFor(excluded.cause)} {excluded.reason}
        </p>
      )}
      {act && <Acts act={act} step={step} trial={trial} />}
    </div>
  );
}

function Acts({ act, step, trial }: { act: ActOnTrial; step: Pick<Step, 'row'>; trial: ClassTrial }) {
  const [open, setOpen] = useState<'correct' | 'leave-out' | null>(null);
  const [key] = useState(newKey);
  const { refusal, busy, submit } = useSubmission();
  const close = () => setOpen(null);
  const include = () => submit(() => act(`${trial.row}/${trial.number}/inclusion`, undefined, key));
  return (
    <div className="row">
      <Button bench onClick={() => setOpen('correct')}>
        {words.correct}
      </Button>
      {trial.excluded ? (
        <Button bench disabled={busy} onClick={() => void include()}>
          {words.countAgain}
        </Button>
      ) : (
        <Button bench onClick={() => setOpen('leave-out')}>
          {words.leaveOut}
        </Button>
      )}
      {refusal && (
        <p className="field-problem" role="alert">
          {refusal.detail}
        </p>
      )}
      {open === 'correct' && <CorrectDialog act={act} step={step} trial={trial} onClose={close} />}
      {open === 'leave-out' && <LeaveOutDialog act={act} trial={trial} onClose={close} />}
    </div>
  );
}
