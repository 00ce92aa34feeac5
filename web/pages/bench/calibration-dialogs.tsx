import type { Calibration } from '../../../server/calibrations/contract.ts';
import { benchText } from '../../messages/en-bench.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { PlanDialog } from './plan-dialog.tsx';

const words = benchText;

export interface ActProps {
  calibration: Calibration;
  onClose: () => void;
}

export type CalibrationAct = 'finish' | 'abandon' | 'reopen' | 'plan';

/** The dialog of one act on a calibration. */
export default function CalibrationDialog({
  act,
  isDone,
  ...props
}: ActProps & { act: CalibrationAct; isDone: boolean }) {
  if (act === 'finish') return <FinishDialog {...props} isDone={isDone} />;
  if (act === 'abandon') return <AbandonDialog {...props} />;
  if (act === 'reopen') return <ReopenDialog {...props} />;
  return <PlanDialog {...props} />;
}

/** Readings are complete; before the planned number it needs a reason. */
function FinishDialog({ calibration, isDone, onClose }: ActProps & { isDone: boolean }) {
  const planned = calibration.plannedTrials * calibration.points.length;
  const counted = calibration.points.reduce((sum, point) => sum + point.n, 0);
  return (
    <ActDialog
      title={words.finishTitle}
      what={
        <>
          {!isDone && <p>{words.finishEarlyWhat(counted, planned)}</p>}
          <p>{words.finishWhat}</p>
        </>
      }
      path={`/api/calibrations/${calibration.id}/measured`}
      act={isDone ? words.finish : words.finishEarly}
      needsReason={!isDone}
      onClose={onClose}
    />
  );
}

function AbandonDialog({ calibration, onClose }: ActProps) {
  return (
    <ActDialog
      title={words.abandonTitle}
      what={words.abandonWhat(calibration.trials.length)}
      path={`/api/calibrations/${calibration.id}/abandonment`}
      act={words.abandon}
      onClose={onClose}
    />
  );
}

function ReopenDialog({ calibration, onClose }: ActProps) {
  return (
    <ActDialog
      title={words.reopenTitle}
      what={words.reopenWhat}
      path={`/api/calibrations/${calibration.id}/reopening`}
      act={words.reopen}
      onClose={onClose}
    />
  );
}
