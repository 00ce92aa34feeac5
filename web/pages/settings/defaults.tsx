import { COVERAGE_PROBABILITIES } from '../../../server/metrology/record.ts';
import { settingsText } from '../../messages/en-settings.ts';
import { Choice, Field, Tick } from '../../parts/field.tsx';
import { Section } from '../../parts/page.tsx';
import { RuleChoice } from '../../parts/rule-choice.tsx';
import type { SettingsDraft } from './draft.ts';

const words = settingsText.defaults;

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
      <RuleChoice
        name="defaults/decisionRule"
        label={words.rule}
        value={draft.decisionRule}
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
      <Field
        name="intervalMonths"
        label={words.interval}
        help={words.intervalHelp}
        inputMode="numeric"
        width="short"
        unit="months"
        optional
        value={draft.intervalMonths}
        problem={problemAt('intervalMonths')}
        onChange={(intervalMonths) => onChange({ intervalMonths })}
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
