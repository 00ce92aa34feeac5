import { useState } from 'react';
import type { Calibration } from '../../../server/calibrations/contract.ts';
import type { DecisionRule } from '../../../server/metrology/record.ts';
import { patch } from '../../api.ts';
import { text } from '../../messages/en.ts';
import { startText } from '../../messages/en-start.ts';
import { benchText } from '../../messages/en-bench.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { Choice, Field } from '../../parts/field.tsx';

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

/** Plan and rule are fixed before the first trial; a later change says why. */
function PlanDialog({ calibration, onClose }: ActProps) {
  const [planned, setPlanned] = useState(String(calibration.plannedTrials));
  const [rule, setRule] = useState<DecisionRule>(calibration.decisionRule);
  const path = `/api/calibrations/${calibration.id}`;
  return (
    <ActDialog
      title={words.changePlanTitle}
      what={words.changePlanWhat}
      path={path}
      act={text.form.save}
      body={() => {
        const plannedTrials = Number(planned);
        if (!/^\d{1,3}$/.test(planned.trim())) return { problems: { plannedTrials: startText.plannedWhole } };
        return {
          body: {
            ...(plannedTrials === calibration.plannedTrials ? {} : { plannedTrials }),
            ...(rule === calibration.decisionRule ? {} : { decisionRule: rule }),
          },
        };
      }}
      send={(body) => patch(path, body, calibration.version)}
      onClose={onClose}
    >
      {(submission) => (
        <>
          <Field
            name="plannedTrials"
            label={startText.planned}
            inputMode="numeric"
            width="short"
            value={planned}
            problem={submission.problemAt('plannedTrials')}
            onChange={setPlanned}
          />
          <Choice
            name="decisionRule"
            label={startText.decisionRule}
            layout="list"
            value={rule}
            options={(['guarded', 'simple'] as const).map((value) => ({
              value,
              label: startText.ruleNames[value],
              help: startText.ruleHelp[value],
            }))}
            problem={submission.problemAt('decisionRule')}
            onChange={setRule}
          />
        </>
      )}
    </ActDialog>
  );
}
