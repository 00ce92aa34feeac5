import { useState } from 'react';
import type { LotVessel, LotWithVessels } from '../../../server/lots/contract.ts';
import { lotDecisionText } from '../../messages/en-lot-decisions.ts';
import { decisionText } from '../../messages/en-today.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { DecisionFields, useDecision } from '../../parts/decision-dialog.tsx';
import { Tick } from '../../parts/field.tsx';

const words = lotDecisionText;

interface VesselDecisionsDialogProps {
  lot: LotWithVessels;
  /** Those that do not pass and are not decided about. */
  vessels: readonly LotVessel[];
  onClose: () => void;
}

/** One decision for many vessels, each of which can be left out. */
export function VesselDecisionsDialog({ lot, vessels, onClose }: VesselDecisionsDialogProps) {
  // The list stays as it was when the question was opened, whatever is fetched meanwhile.
  const [asked] = useState(vessels);
  const [leftOut, setLeftOut] = useState<readonly string[]>([]);
  const chosen = asked.filter(({ id }) => !leftOut.includes(id));
  const decision = useDecision();
  const body = () => {
    if (chosen.length === 0) return { problems: { vesselIds: words.noneTicked } };
    const read = decision.read();
    return 'problems' in read ? read : { body: { ...read.body, vesselIds: chosen.map(({ id }) => id) } };
  };
  return (
    <ActDialog
      title={words.vesselsTitle(asked.length)}
      what={
        <>
          <p>{words.vesselsWhat}</p>
          <p>{decisionText.what}</p>
        </>
      }
      path={`/api/lots/${lot.id}/vessel-decisions`}
      act={decisionText.save}
      body={body}
      onClose={onClose}
    >
      {(submission) => (
        <>
          <fieldset className="field">
            <legend className="field-label">{words.which}</legend>
            <div className="lot-ticks">
              {asked.map(({ id, tag }, index) => (
                <Tick
                  key={id}
                  name={index === 0 ? 'vesselIds' : `vesselIds-${index}`}
                  label={tag}
                  checked={!leftOut.includes(id)}
                  onChange={(yes) => setLeftOut(yes ? leftOut.filter((one) => one !== id) : [...leftOut, id])}
                />
              ))}
            </div>
            {submission.problemAt('vesselIds') && <p className="field-problem">{submission.problemAt('vesselIds')}</p>}
          </fieldset>
          <DecisionFields decision={decision} submission={submission} />
        </>
      )}
    </ActDialog>
  );
}
