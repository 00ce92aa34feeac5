import { planText as words } from '../../messages/en-teaching.ts';
import { Button } from '../../parts/button.tsx';
import { Choice, Field, TextArea, Tick } from '../../parts/field.tsx';
import { Section } from '../../parts/page.tsx';
import { Question, type Submission } from '../../parts/refusal.tsx';
import { BalanceFields } from './balance-fields.tsx';
import { furtherRow, type PlanDraft } from './plan-draft.ts';
import { RowFields } from './row-fields.tsx';

export interface PlanFieldsProps {
  draft: PlanDraft;
  submission: Submission;
  /** Something was foreseen or weighed under this plan: rows, design and questions stay. */
  isLate: boolean;
  onChange: (changes: Partial<PlanDraft>) => void;
}

export function PlanFields(props: PlanFieldsProps) {
  const { draft, submission, onChange, isLate } = props;
  return (
    <div>
      <Section title={words.classTitle}>
        <Field
          name="title"
          label={words.titleField}
          value={draft.title}
          problem={submission.problemAt('title')}
          onChange={(title) => onChange({ title })}
        />
        <TextArea
          name="question"
          label={words.question}
          help={words.questionHelp}
          value={draft.question}
          problem={submission.problemAt('question')}
          onChange={(question) => onChange({ question })}
        />
        <LessonFields {...props} />
        <BalanceFields balances={draft.balances} {...{ submission, onChange }} />
      </Section>
      <Section title={words.rowsTitle}>
        <p className="quiet">{words.rowsLead}</p>
        <fieldset disabled={isLate} className="stack wide-gaps">
          <Rows {...props} />
          <Choice
            name="design"
            label={words.design}
            layout="list"
            value={draft.design}
            options={(['by-row', 'crossed'] as const).map((value) => ({
              value,
              label: words.designs[value],
              help: words.designHelp[value],
            }))}
            problem={submission.problemAt('design')}
            onChange={(design) => onChange({ design })}
          />
          <Asks {...props} />
        </fieldset>
      </Section>
      <Section title={words.conditionsTitle}>
        <Conditions {...props} />
      </Section>
      <Section title={words.caution}>
        <TextArea
          name="cautionNote"
          label={words.caution}
          help={words.cautionHelp}
          optional
          value={draft.cautionNote}
          problem={submission.problemAt('cautionNote')}
          onChange={(cautionNote) => onChange({ cautionNote })}
        />
      </Section>
    </div>
  );
}

function LessonFields({ draft, submission, onChange }: PlanFieldsProps) {
  const number = (name: 'expectedGroups' | 'lessonMinutes') => ({
    name,
    inputMode: 'numeric' as const,
    width: 'short' as const,
    value: draft[name],
    problem: submission.problemAt(name),
    onChange: (value: string) => onChange({ [name]: value }),
  });
  return (
    <div className="field-pair">
      <Field {...number('expectedGroups')} label={words.expectedGroups} />
      <Field {...number('lessonMinutes')} label={words.lesson} unit="min" />
    </div>
  );
}

function Rows({ draft, submission, onChange }: PlanFieldsProps) {
  return (
    <>
      {draft.rows.map((row, index) => (
        <RowFields
          key={row.key}
          row={row}
          index={index}
          submission={submission}
          canGo={draft.rows.length > 1}
          onChange={(changes) =>
            onChange({ rows: draft.rows.map((one, at) => (at === index ? { ...one, ...changes } : one)) })
          }
          onRemove={() => onChange({ rows: draft.rows.filter((_, at) => at !== index) })}
        />
      ))}
      <div className="row">
        <Button onClick={() => onChange({ rows: [...draft.rows, furtherRow(draft.rows)] })}>{words.addRow}</Button>
      </div>
    </>
  );
}

function Asks({ draft, onChange }: PlanFieldsProps) {
  return (
    <fieldset className="stack tight">
      <legend className="field-label">{words.asksTitle}</legend>
      {(['prediction', 'within', 'sureness'] as const).map((name) => (
        <Tick
          key={name}
          name={`asks/${name}`}
          label={words.asks[name]}
          checked={draft.asks[name]}
          onChange={(checked) => onChange({ asks: { ...draft.asks, [name]: checked } })}
        />
      ))}
    </fieldset>
  );
}

function Conditions({ draft, submission, onChange }: PlanFieldsProps) {
  const quantity = (
    name: 'airTemperatureC' | 'airPressureHpa' | 'relativeHumidityPercent' | 'waterTemperatureC',
    label: string,
    unit: string,
  ) => (
    <Field
      name={`conditions/${name}`}
      label={label}
      unit={unit}
      number
      optional
      value={draft[name]}
      problem={submission.problemAt(`conditions/${name}`)}
      onChange={(value) => onChange({ [name]: value })}
    />
  );
  return (
    <>
      <p className="quiet">{words.conditionsHelp}</p>
      <div className="field-pair">
        {quantity('waterTemperatureC', words.water, '°C')}
        {quantity('airTemperatureC', words.air, '°C')}
        {quantity('airPressureHpa', words.pressure, 'hPa')}
        {quantity('relativeHumidityPercent', words.humidity, '%')}
      </div>
      <Question submission={submission} field="conditions/airPressureHpa" />
    </>
  );
}
