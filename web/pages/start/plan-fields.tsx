import { isGraduated } from '../../../server/metrology/points-proposed.ts';
import type { VesselKind } from '../../../server/metrology/record.ts';
import { startText } from '../../messages/en-start.ts';
import { Choice, Field, Tick } from '../../parts/field.tsx';
import type { Submission } from '../../parts/refusal.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import type { StartDraft } from './draft.ts';

const words = startText;

interface PlanFieldsProps {
  draft: StartDraft;
  /** A tolerance of null is none; without the word it is told elsewhere. */
  vessel: { kind: VesselKind; tolerance?: object | null };
  offered: readonly string[];
  onChange: (changes: Partial<StartDraft>) => void;
  submission: Submission;
}

/** Why these points are proposed, and what is judged at them. */
function pointsHelp(kind: VesselKind): string {
  if (kind === 'piston-pipette') return words.pointsPiston;
  return isGraduated(kind) ? words.pointsGraduated : words.pointsHelp;
}

/** Which points, how often. One mark: nothing to choose. */
export function PlanFields({ draft, vessel, offered, onChange, submission }: PlanFieldsProps) {
  const problem = submission.problemAt('points') ?? submission.problemAt('morePoints');
  const toggle = (point: string, isChosen: boolean) =>
    onChange({ points: offered.filter((one) => (one === point ? isChosen : draft.points.includes(one))) });
  return (
    <div className="stack">
      {offered.length > 1 && (
        <fieldset className="field">
          <legend className="field-label">{words.points}</legend>
          <div className="point-choice">
            {offered.map((point, index) => (
              <Tick
                key={point}
                name={index === 0 ? 'points' : `points-${point}`}
                label={<Quantity value={point} unit="mL" />}
                checked={draft.points.includes(point)}
                onChange={(isChosen) => toggle(point, isChosen)}
              />
            ))}
          </div>
          <p className={problem ? 'field-problem' : 'field-help'}>{problem ?? pointsHelp(vessel.kind)}</p>
        </fieldset>
      )}
      {offered.length > 1 && (
        <Field
          name="morePoints"
          label={words.morePoints}
          help={words.morePointsHelp}
          unit="mL"
          width="medium"
          optional
          value={draft.morePoints}
          problem={submission.problemAt('morePoints')}
          onChange={(morePoints) => onChange({ morePoints })}
        />
      )}
      {vessel.tolerance === null && <p className="quiet">{words.noVerdict}</p>}
      <Choice
        name="plannedTrials"
        label={words.planned}
        help={words.plannedHelp}
        value={draft.planned}
        options={[
          { value: '10', label: '10' },
          { value: '5', label: '5' },
          { value: '3', label: '3' },
          { value: 'other', label: words.plannedOther },
        ]}
        problem={submission.problemAt('plannedTrials')}
        onChange={(planned) => onChange({ planned })}
      />
      {draft.planned === 'other' && (
        <Field
          name="plannedOther"
          label={words.plannedNumber}
          inputMode="numeric"
          width="short"
          value={draft.plannedOther}
          onChange={(plannedOther) => onChange({ plannedOther })}
        />
      )}
    </div>
  );
}
