import type { OldSheetPreview, SheetField } from '../../../server/old-sheets/contract.ts';
import { oldSheetsText } from '../../messages/en-old-sheets.ts';
import { Field, Select } from '../../parts/field.tsx';
import type { Submission } from '../../parts/refusal.tsx';
import type { SheetDraft } from './draft.ts';

const words = oldSheetsText;

const optionsOf = <V extends string>(named: Record<V, string>) =>
  (Object.keys(named) as V[]).map((value) => ({ value, label: named[value] }));

export interface FieldsProps {
  draft: SheetDraft;
  onChange: (changes: Partial<SheetDraft>) => void;
  submission: Submission;
}

/** Delimiter, decimal mark and order of days: shown as found, changed by whoever knows better. */
export function WritingFields({ draft, onChange, submission }: FieldsProps) {
  return (
    <fieldset className="stack">
      <legend className="old-part">{words.writing}</legend>
      <p className="quiet small">{words.writingHelp}</p>
      <div className="field-pair">
        <Select
          name="mapping/delimiter"
          label={words.delimiter}
          value={draft.delimiter}
          options={optionsOf(words.delimiters)}
          problem={submission.problemAt('mapping/delimiter')}
          onChange={(delimiter) => onChange({ delimiter })}
        />
        <Select
          name="mapping/decimalMark"
          label={words.decimalMark}
          value={draft.decimalMark}
          options={optionsOf(words.decimalMarks)}
          problem={submission.problemAt('mapping/decimalMark')}
          onChange={(decimalMark) => onChange({ decimalMark })}
        />
        <Select
          name="mapping/dateOrder"
          label={words.dateOrder}
          value={draft.dateOrder}
          options={optionsOf(words.dateOrders)}
          problem={submission.problemAt('mapping/dateOrder')}
          onChange={(dateOrder) => onChange({ dateOrder })}
        />
      </div>
    </fieldset>
  );
}

/** One column for each field, named by the first cell it holds. */
export function ColumnFields({ draft, onChange, submission, sample }: FieldsProps & Pick<OldSheetPreview, 'sample'>) {
  const [first = []] = sample;
  const options = first.map((cell, index) => ({ value: String(index + 1), label: words.column(index + 1, cell) }));
  return (
    <fieldset className="stack">
      <legend className="old-part">{words.columns}</legend>
      <p className="quiet small">{words.noMass}</p>
      <div className="field-pair">
        {optionsOf<SheetField>(words.fields).map(({ value: field, label }) => (
          <Select
            key={field}
            name={`mapping/columns/${field}`}
            label={label}
            none={words.noColumn}
            value={draft.columns[field] === undefined ? '' : String(draft.columns[field])}
            options={options}
            problem={submission.problemAt(`mapping/columns/${field}`)}
            onChange={(chosen) => {
              const { [field]: _before, ...others } = draft.columns;
              onChange({ columns: chosen === '' ? others : { ...others, [field]: Number(chosen) } });
            }}
          />
        ))}
      </div>
    </fieldset>
  );
}

export function AssumedFields({ draft, onChange, submission }: FieldsProps) {
  return (
    <fieldset className="stack">
      <legend className="old-part">{words.assumed}</legend>
      <p className="quiet small">{words.assumedHelp}</p>
      <div className="field-pair">
        <Field
          name="assumed/waterTemperatureC"
          label={words.water}
          unit="°C"
          number
          optional
          value={draft.waterTemperatureC}
          problem={submission.problemAt('assumed/waterTemperatureC')}
          onChange={(waterTemperatureC) => onChange({ waterTemperatureC })}
        />
        <Field
          name="assumed/waterTemperatureHalfWidthC"
          label={words.halfWidth}
          unit="°C"
          number
          optional
          value={draft.waterTemperatureHalfWidthC}
          problem={submission.problemAt('assumed/waterTemperatureHalfWidthC')}
          onChange={(waterTemperatureHalfWidthC) => onChange({ waterTemperatureHalfWidthC })}
        />
        <Field
          name="performedOn"
          label={words.performedOn}
          help={words.performedOnHelp}
          width="medium"
          optional
          value={draft.performedOn}
          problem={submission.problemAt('performedOn')}
          onChange={(performedOn) => onChange({ performedOn })}
        />
      </div>
    </fieldset>
  );
}
