import { startText } from '../../messages/en-start.ts';
import { Choice, Field, Tick } from '../../parts/field.tsx';
import type { Submission } from '../../parts/refusal.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import type { StartDraft } from './draft.ts';

const words = startText;

interface PlanFieldsProps {
  draft: StartDraft;
  offered: readonly string[];
  onChange: (changes: Partial<StartDraft>) => void;
  submission: Submission;
}

/** Which points, how often. One mark: nothing to choose. */
export function PlanFields({ draft, offered, onChange, submission }: PlanFieldsProps) {
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
          <p className={problem ? 'field-problem' : 'field-help'}>{problem ?? words.pointsHelp}</p>
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
