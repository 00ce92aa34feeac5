import { COVERAGE_PROBABILITIES } from '../../../server/metrology/record.ts';
import { text } from '../../messages/en.ts';
import { startText } from '../../messages/en-start.ts';
import { Choice, Field, Select, TextArea } from '../../parts/field.tsx';
import type { Submission } from '../../parts/refusal.tsx';
import { RuleChoice } from '../../parts/rule-choice.tsx';
import type { StartDraft } from './draft.ts';

const words = startText;

interface DraftFieldsProps {
  draft: StartDraft;
  onChange: (changes: Partial<StartDraft>) => void;
  submission: Submission;
}

/** How it is judged. */
export function RuleFields({ draft, onChange, submission }: DraftFieldsProps) {
  return (
    <RuleChoice
      name="decisionRule"
      label={words.decisionRule}
      help={words.decisionHelp}
      value={draft.decisionRule}
      problem={submission.problemAt('decisionRule')}
      onChange={(decisionRule) => onChange({ decisionRule })}
    />
  );
}

/** What is seldom different from the usual. */
export function RareFields({ draft, onChange, submission }: DraftFieldsProps) {
  return (
    <>
      <div className="field-pair">
        {!draft.isFromSheet && (
          <Field
            name="performedOn"
            label={words.performedOn}
            help={words.performedOnHelp}
            optional
            value={draft.performedOn}
            problem={submission.problemAt('performedOn')}
            onChange={(performedOn) => onChange({ performedOn })}
          />
        )}
        <Select
          name="coverageProbability"
          label={words.coverage}
          value={draft.coverageProbability}
          options={COVERAGE_PROBABILITIES.map((value) => ({ value, label: words.coverageNames[value] }))}
          onChange={(coverageProbability) => coverageProbability && onChange({ coverageProbability })}
        />
      </div>
      <Choice
        name="basis"
        label={words.basis}
        help={words.basisHelp}
        value={draft.basis}
        options={[
          { value: 'contain', label: text.words.bases.contain },
          { value: 'deliver', label: text.words.bases.deliver },
        ]}
        problem={submission.problemAt('basis')}
        onChange={(basis) => onChange({ basis })}
      />
      <TextArea
        name="note"
        label={words.note}
        optional
        value={draft.note}
        problem={submission.problemAt('note')}
        onChange={(note) => onChange({ note })}
      />
    </>
  );
}
