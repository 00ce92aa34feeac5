import { useState } from 'react';
import type { LotDecision, SamplePlan } from '../../../server/lots/contract-decision.ts';
import type { LotWithVessels } from '../../../server/lots/contract.ts';
import { lotDecisionText } from '../../messages/en-lot-decisions.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { Choice } from '../../parts/field.tsx';

const words = lotDecisionText;
const OPTIONS = (Object.entries(words.choices) as [LotDecision, string][]).map(([value, label]) => ({
  value,
  label,
  help: words.help[value],
}));

interface LotDecisionDialogProps {
  lot: LotWithVessels;
  /** The sample it was decided by; null where none was drawn. */
  plan: SamplePlan | null;
  onClose: () => void;
}

/** The delivery as a whole: accepted, sent back, or to be tested piece by piece. */
export function LotDecisionDialog({ lot, plan, onClose }: LotDecisionDialogProps) {
  const [decision, setDecision] = useState<LotDecision | ''>('');
  const inUse = lot.progress.vessels - lot.progress.outOfUse;
  return (
    <ActDialog
      title={words.dialogTitle(lot.name)}
      what={
        <>
          <p>{words.what}</p>
          {plan && <p>{words.plan(plan)}</p>}
        </>
      }
      path={`/api/lots/${lot.id}/decisions`}
      act={words.save}
      body={() =>
        decision === '' ? { problems: { decision: words.missing } } : { body: { decision, ...(plan ? { plan } : {}) } }
      }
      onClose={onClose}
    >
      {({ problemAt }) => (
        <>
          <Choice
            name="decision"
            label={words.choice}
            layout="list"
            options={OPTIONS}
            value={decision}
            problem={problemAt('decision')}
            onChange={setDecision}
          />
          {decision === 'reject' && <p role="status">{words.leaving(inUse)}</p>}
        </>
      )}
    </ActDialog>
  );
}
