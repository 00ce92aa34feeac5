import type { Calibration } from '../../../server/calibrations/contract.ts';
import type { DecisionRule } from '../../../server/metrology/record.ts';
import { benchText as words } from '../../messages/en-bench.ts';
import { startText } from '../../messages/en-start.ts';
import { text } from '../../messages/en.ts';
import { ruleText } from '../../messages/en-uncertainty.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { Beside, useEditBeside, versionsRows } from '../../parts/edit-beside.tsx';
import { Field } from '../../parts/field.tsx';
import type { Submission } from '../../parts/refusal.tsx';
import { RuleChoice } from '../../parts/rule-choice.tsx';

type Planned = Pick<Calibration, 'plannedTrials' | 'decisionRule' | 'version'>;
interface Draft {
  planned: string;
  rule: DecisionRule;
}

const draftOf = ({ plannedTrials, decisionRule }: Planned): Draft => ({
  planned: String(plannedTrials),
  rule: decisionRule,
});
const changesOf = (base: Planned, { planned, rule }: Draft) => {
  const plannedTrials = Number(planned);
  if (!/^\d{1,3}$/.test(planned.trim())) return { problems: { plannedTrials: startText.plannedWhole } };
  return {
    body: {
      ...(plannedTrials === base.plannedTrials ? {} : { plannedTrials }),
      ...(rule === base.decisionRule ? {} : { decisionRule: rule }),
    },
  };
};

/** Plan and rule are fixed before the first trial; a later change says why, and another’s meanwhile is laid beside it. */
export function PlanDialog({ calibration, onClose }: { calibration: Calibration; onClose: () => void }) {
  const path = `/api/calibrations/${calibration.id}`;
  const edit = useEditBeside<Planned, Draft>(path, calibration, draftOf);
  return (
    <ActDialog
      title={words.changePlanTitle}
      what={words.changePlanWhat}
      path={path}
      act={text.form.save}
      body={() => changesOf(edit.base, edit.draft)}
      send={edit.send}
      onClose={onClose}
    >
      {(submission) => (
        <div className="stack" ref={edit.box}>
          <Beside
            edit={edit}
            busy={submission.busy}
            rows={(present) =>
              versionsRows(FIELDS, { before: draftOf(edit.base), mine: edit.draft, present: draftOf(present) })
            }
          />
          <PlanFields draft={edit.draft} submission={submission} onChange={edit.setDraft} />
        </div>
      )}
    </ActDialog>
  );
}

const FIELDS = [
  [startText.planned, ({ planned }: Draft) => planned.trim()],
  [startText.decisionRule, ({ rule }: Draft) => ruleText[rule].name],
] as const;

interface PlanFieldsProps {
  draft: Draft;
  submission: Submission;
  onChange: (draft: Draft) => void;
}

function PlanFields({ draft, submission, onChange }: PlanFieldsProps) {
  return (
    <>
      <Field
        name="plannedTrials"
        label={startText.planned}
        inputMode="numeric"
        width="short"
        value={draft.planned}
        problem={submission.problemAt('plannedTrials')}
        onChange={(planned) => onChange({ ...draft, planned })}
      />
      <RuleChoice
        name="decisionRule"
        label={startText.decisionRule}
        value={draft.rule}
        problem={submission.problemAt('decisionRule')}
        onChange={(rule) => onChange({ ...draft, rule })}
      />
    </>
  );
}
