import { WATER_GRADES } from '../../../server/metrology/record.ts';
import { text } from '../../messages/en.ts';
import { startText } from '../../messages/en-start.ts';
import { Choice, Field, Select, Tick } from '../../parts/field.tsx';
import { Question, type Submission } from '../../parts/refusal.tsx';
import type { ConditionDraft } from './draft.ts';

const words = startText;
const WATER_OPTIONS = WATER_GRADES.filter((grade) => grade !== 'not-stated').map((grade) => ({
  value: grade,
  label: text.words.waterGrades[grade],
}));

interface ConditionFieldsProps {
  draft: ConditionDraft;
  onChange: (changes: Partial<ConditionDraft>) => void;
  submission: Submission;
  /** Place of the conditions in the body: `conditions/` or nothing. */
  prefix: string;
}

type QuantityName =
  | 'airTemperatureC'
  | 'airPressureHpa'
  | 'relativeHumidityPercent'
  | 'airTemperatureHalfWidthC'
  | 'airPressureHalfWidthHpa'
  | 'relativeHumidityHalfWidthPercent'
  | 'conductivityUsPerCm'
  | 'evaporationMgPerMin'
  | 'acclimatisedH';

const quantityProps =
  ({ draft, onChange, submission, prefix }: ConditionFieldsProps) =>
  (name: QuantityName) => ({
    name: prefix + name,
    number: true,
    value: draft[name],
    problem: submission.problemAt(prefix + name),
    onChange: (value: string) => onChange({ [name]: value }),
  });

/** The air at the balance: three numbers, and the question that most often goes wrong. */
export function AirFields(props: ConditionFieldsProps) {
  const quantity = quantityProps(props);
  return (
    <div className="stack">
      <div className="field-pair">
        <Field {...quantity('airTemperatureC')} label={words.airTemperature} unit="°C" />
        <Field {...quantity('relativeHumidityPercent')} label={words.humidity} unit="%" />
      </div>
      <Field {...quantity('airPressureHpa')} label={words.pressure} help={words.pressureHelp} unit="hPa" />
      <Question submission={props.submission} field={`${props.prefix}airPressureHpa`} />
    </div>
  );
}

/** How well the air was read, where that is known better than by the instruments. */
export function AirHalfWidths(props: ConditionFieldsProps) {
  const quantity = quantityProps(props);
  return (
    <div className="field-pair">
      <Field
        {...quantity('airTemperatureHalfWidthC')}
        label={words.halfWidth(words.airTemperature)}
        unit="°C"
        optional
      />
      <Field {...quantity('airPressureHalfWidthHpa')} label={words.halfWidth(words.pressure)} unit="hPa" optional />
      <Field
        {...quantity('relativeHumidityHalfWidthPercent')}
        label={words.halfWidth(words.humidity)}
        unit="%"
        optional
      />
    </div>
  );
}

/** Water, meniscus, and what was done to balance and vessel. */
export function WaterFields(props: ConditionFieldsProps & { isDryWare: boolean }) {
  const { draft, onChange, submission, prefix, isDryWare } = props;
  const quantity = quantityProps(props);
  return (
    <div className="stack">
      <div className="field-pair">
        <Select
          name={`${prefix}waterGrade`}
          label={words.waterGrade}
          value={draft.waterGrade}
          none={text.words.waterGrades['not-stated']}
          options={WATER_OPTIONS}
          problem={submission.problemAt(`${prefix}waterGrade`)}
          onChange={(waterGrade) => onChange({ waterGrade })}
        />
        {draft.waterGrade === 'tap' && (
          <Field
            {...quantity('conductivityUsPerCm')}
            label={words.conductivity}
            help={words.conductivityHelp}
            unit="µS/cm"
            optional
          />
        )}
      </div>
      <Choice
        name={`${prefix}meniscusRule`}
        label={words.meniscus}
        help={words.meniscusHelp}
        layout="list"
        value={draft.meniscusRule}
        options={[
          { value: 'upper-edge', label: text.words.meniscusRules['upper-edge'] },
          { value: 'centre', label: text.words.meniscusRules.centre },
        ]}
        onChange={(meniscusRule) => onChange({ meniscusRule })}
      />
      <div>
        <Tick
          name={`${prefix}cleaned`}
          label={words.cleaned}
          checked={draft.cleaned}
          onChange={(cleaned) => onChange({ cleaned })}
        />
        {isDryWare && (
          <Tick
            name={`${prefix}dried`}
            label={words.dried}
            checked={draft.dried}
            onChange={(dried) => onChange({ dried })}
          />
        )}
        <Tick
          name={`${prefix}adjustedToday`}
          label={words.adjustedToday}
          checked={draft.adjustedToday}
          onChange={(adjustedToday) => onChange({ adjustedToday })}
        />
      </div>
    </div>
  );
}

/** What few laboratories know, and those want to enter. */
export function RareConditions(props: ConditionFieldsProps) {
  const { draft, onChange, prefix } = props;
  const quantity = quantityProps(props);
  return (
    <div className="stack">
      <AirHalfWidths {...props} />
      <div className="field-pair">
        <Field {...quantity('acclimatisedH')} label={words.acclimatised} unit="h" optional />
        <Field
          {...quantity('evaporationMgPerMin')}
          label={words.evaporation}
          help={words.evaporationHelp}
          unit="mg/min"
          optional
        />
      </div>
      <Tick
        name={`${prefix}dissolvedAir`}
        label={words.dissolvedAir}
        checked={draft.dissolvedAir}
        onChange={(dissolvedAir) => onChange({ dissolvedAir })}
      />
    </div>
  );
}
