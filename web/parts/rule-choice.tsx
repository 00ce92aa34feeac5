import { DECISION_RULES, type DecisionRule } from '../../server/metrology/record.ts';
import { ruleText } from '../messages/en-uncertainty.ts';
import { Choice } from './field.tsx';

interface RuleChoiceProps {
  name: string;
  label: string;
  help?: string;
  value: DecisionRule;
  problem: string | undefined;
  onChange: (rule: DecisionRule) => void;
}

const RULES = DECISION_RULES.map((value) => ({ value, label: ruleText[value].name, help: ruleText[value].risk }));

/** How a result is judged, with what each rule risks. */
export function RuleChoice({ help, ...rest }: RuleChoiceProps) {
  return <Choice {...rest} {...(help === undefined ? {} : { help })} layout="list" options={RULES} />;
}
