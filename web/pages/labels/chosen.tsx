import type { LabelFacts } from '../../../server/labels/contract.ts';
import { labelsText as words } from '../../messages/en-labels.ts';
import { vesselText } from '../../messages/en-glassware.ts';
import { Button } from '../../parts/button.tsx';
import { VerdictMark } from '../../parts/verdict.tsx';
import './labels.css';

export interface ChosenProps {
  labels: readonly LabelFacts[];
  choose: (chosen: readonly string[]) => void;
}

/** The vessels a paper is for; each can be taken out. */
export function Chosen({ labels, choose }: ChosenProps) {
  return (
    <ul className="plain label-list">
      {labels.map(({ id, tag, inUse, verdict, performedOn, dueOn }) => (
        <li key={id} className="label-line">
          <strong>{tag}</strong>
          {verdict && <VerdictMark verdict={verdict} />}
          <span className="quiet small">
            {performedOn ?? words.notCalibrated}
            {dueOn && ` · ${words.due(dueOn)}`}
            {!inUse && ` · ${vesselText.outOfUse}`}
          </span>
          <Button
            look="quiet"
            aria-label={`${words.takeOut} ${tag}`}
            onClick={() => choose(labels.flatMap((one) => (one.id === id ? [] : [one.id])))}
          >
            {words.takeOut}
          </Button>
        </li>
      ))}
    </ul>
  );
}
