import { COVERAGE_PROBABILITIES, DECISION_RULES } from '../../../server/metrology/record.ts';
import { settingsText } from '../../messages/en-settings.ts';
import { ruleText } from '../../messages/en-uncertainty.ts';
import { Choice, Field, Tick } from '../../parts/field.tsx';
import { Section } from '../../parts/page.tsx';
import type { SettingsDraft } from './draft.ts';

const words = settingsText.defaults;

const RULES = DECISION_RULES.map((value) => ({ value, label: ruleText[value].name, help: ruleText[value].risk }));
const COVERAGES = COVERAGE_PROBABILITIES.map((value) => ({ value, label: words.coverageNames[value] }));
const REPEATABILITIES = (['own', 'pooled'] as const).map((value) => ({
  value,
  label: words.repeatabilityNames[value],
  help: words.repeatabilityHelp[value],
}));

interface DefaultsFieldsProps {
  draft: SettingsDraft;
  onChange: (changes: Partial<SettingsDraft>) => void;
  problemAt: (field: string) => string | undefined;
}

/** What a calibration begins with where nobody says otherwise. */
export function DefaultsFields({ draft, onChange, problemAt }: DefaultsFieldsProps) {
  return (
    <Section title={words.title}>
      <p className="quiet measure">{words.lead}</p>
      <Choice
        name="defaults/decisionRule"
        label={words.rule}
        value={draft.decisionRule}
        options={RULES}
        layout="list"
        problem={problemAt('defaults/decisionRule')}
        onChange={(decisionRule) => onChange({ decisionRule })}
      />
      <Choice
        name="defaults/coverageProbability"
        label={words.coverage}
        value={draft.coverageProbability}
        options={COVERAGES}
        problem={problemAt('defaults/coverageProbability')}
        onChange={(coverageProbability) => onChange({ coverageProbability })}
      />
      <Field
        name="defaults/plannedTrials"
        label={words.trials}
        inputMode="numeric"
        width="short"
        value={draft.plannedTrials}
        problem={problemAt('defaults/plannedTrials')}
        onChange={(plannedTrials) => onChange({ plannedTrials })}
      />
      <Choice
        name="defaults/repeatability"
        label={words.repeatability}
        value={draft.repeatability}
        options={REPEATABILITIES}
        layout="list"
        problem={problemAt('defaults/repeatability')}
        onChange={(repeatability) => onChange({ repeatability })}
      />
      <Tick
        name="defaults/overdueBlocks"
        label={words.overdue}
        help={words.overdueHelp}
        checked={draft.overdueBlocks}
        problem={problemAt('defaults/overdueBlocks')}
        onChange={(overdueBlocks) => onChange({ overdueBlocks })}
      />
    </Section>
  );
}
