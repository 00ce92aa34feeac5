import { useRef, useState } from 'react';
import { flushSync } from 'react-dom';
import type { Calibration } from '../../../server/calibrations/contract.ts';
import type { DecisionRule } from '../../../server/metrology/record.ts';
import { patch, ProblemError } from '../../api.ts';
import { benchText as words } from '../../messages/en-bench.ts';
import { startText } from '../../messages/en-start.ts';
import { text } from '../../messages/en.ts';
import { ruleText } from '../../messages/en-uncertainty.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { Field } from '../../parts/field.tsx';
import type { Submission } from '../../parts/refusal.tsx';
import { RuleChoice } from '../../parts/rule-choice.tsx';
import { Versions, type VersionsRow } from '../../parts/versions.tsx';

type Planned = Pick<Calibration, 'plannedTrials' | 'decisionRule' | 'version'>;
interface Draft {
  planned: string;
  rule: DecisionRule;
}

const draftOf = ({ plannedTrials, decisionRule }: Planned): Draft => ({
  planned: String(plannedTrials),
  rule: decisionRule,
});
const isSamePlan = (one: Planned, other: Planned): boolean =>
  one.plannedTrials === other.plannedTrials && one.decisionRule === other.decisionRule;

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
  const [base, setBase] = useState<Planned>(calibration);
  const [draft, setDraft] = useState(() => draftOf(calibration));
  const [present, setPresent] = useState<Planned | null>(null);
  const box = useRef<HTMLDivElement>(null);
  const path = `/api/calibrations/${calibration.id}`;
  const send = async (body: Record<string, unknown>, onto: Planned): Promise<unknown> => {
    try {
      return await patch(path, body, onto.version);
    } catch (error) {
      if (!(error instanceof ProblemError) || error.code !== 'stale-edit') throw error;
      const found = error.body.current as Calibration;
      // A trial saved meanwhile changes nothing of the plan.
      if (isSamePlan(found, onto)) return send(body, found);
      setPresent(found);
      throw error;
    }
  };
  const take = (found: Planned) => {
    setBase(found);
    setDraft(draftOf(found));
    setPresent(null);
  };
  const mergeOnto = (found: Planned) => {
    const before = draftOf(base);
    const theirs = draftOf(found);
    flushSync(() => {
      setBase(found);
      setDraft({
        planned: draft.planned === before.planned ? theirs.planned : draft.planned,
        rule: draft.rule === before.rule ? theirs.rule : draft.rule,
      });
      setPresent(null);
    });
    box.current?.closest('form')?.requestSubmit();
  };
  return (
    <ActDialog
      title={words.changePlanTitle}
      what={words.changePlanWhat}
      path={path}
      act={text.form.save}
      body={() => changesOf(base, draft)}
      send={(body) => send(body, base)}
      onClose={onClose}
    >
      {(submission) => (
        <div className="stack" ref={box}>
          {present && (
            <Versions
              rows={rowsOf(draftOf(base), draft, draftOf(present))}
              busy={submission.busy}
              onMerge={() => mergeOnto(present)}
              onTakePresent={() => take(present)}
            />
          )}
          <PlanFields draft={draft} submission={submission} onChange={setDraft} />
        </div>
      )}
    </ActDialog>
  );
}

const rowsOf = (before: Draft, mine: Draft, present: Draft): VersionsRow[] => {
  const rows: [string, (draft: Draft) => string][] = [
    [startText.planned, ({ planned }) => planned.trim()],
    [startText.decisionRule, ({ rule }) => ruleText[rule].name],
  ];
  return rows
    .map(([name, show]) => ({ name, before: show(before), mine: show(mine), present: show(present) }))
    .filter((row) => row.mine !== row.before || row.present !== row.before);
};

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
