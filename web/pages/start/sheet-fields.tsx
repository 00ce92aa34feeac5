import { startText as words } from '../../messages/en-start.ts';
import { Field } from '../../parts/field.tsx';
import type { Submission } from '../../parts/refusal.tsx';
import type { StartDraft } from './draft.ts';

interface SheetFieldsProps {
  draft: StartDraft;
  onChange: (changes: Partial<StartDraft>) => void;
  submission: Submission;
}

/** What stands once at the head of a sheet. */
export function SheetFields({ draft, onChange, submission }: SheetFieldsProps) {
  return (
    <section className="stack">
      <div>
        <h2>{words.sheet}</h2>
        <p className="quiet small">{words.sheetWhat}</p>
      </div>
      <div className="field-pair">
        <Field
          name="performedOn"
          label={words.sheetDay}
          help={words.sheetDayHelp}
          value={draft.performedOn}
          problem={submission.problemAt('performedOn')}
          onChange={(performedOn) => onChange({ performedOn })}
        />
        <Field
          name="weighedBy"
          label={words.weighedByField}
          help={words.weighedByHelp}
          optional
          maxLength={80}
          value={draft.weighedBy}
          problem={submission.problemAt('weighedBy')}
          onChange={(weighedBy) => onChange({ weighedBy })}
        />
      </div>
    </section>
  );
}
