import { dilutionText as words, substanceText } from '../../messages/en-solutions.ts';
import { Choice, Field, Select } from '../../parts/field.tsx';
import type { StockDraft } from './dilution-draft.ts';
import { NumberField } from './number-field.tsx';
import type { Numbered } from './numbered.ts';

const SOURCES = (Object.keys(words.sources) as StockDraft['from'][]).map((value) => ({
  value,
  label: words.sources[value],
}));
const UNITS = (['mol/L', 'g/L', 'mg/L'] as const).map((value) => ({ value, label: value }));

interface StockFieldsProps {
  draft: StockDraft;
  numbered: Numbered;
  problemAt: (field: string) => string | undefined;
  onChange: (changes: Partial<StockDraft>) => void;
}

/** Where the stock comes from, and how well its concentration is known. */
export function StockFields(props: StockFieldsProps) {
  const { draft, numbered, problemAt, onChange } = props;
  return (
    <section className="stack">
      <h2>{words.stock}</h2>
      <Choice
        name="stock/from"
        label={words.from}
        value={draft.from}
        options={SOURCES}
        problem={problemAt('stock/from')}
        onChange={(from) => onChange({ from })}
      />
      {draft.from === 'preparation' ? (
        <NumberField
          {...{ name: 'stock/preparationId', typed: draft.number, numbered, problemAt }}
          onChange={(number) => onChange({ number })}
        />
      ) : (
        <>
          <Field
            name="stock/name"
            label={words.name}
            value={draft.name}
            problem={problemAt('stock/name')}
            onChange={(name) => onChange({ name })}
          />
          {draft.from === 'certificate' ? <CertificateFields {...props} /> : <LabelFields {...props} />}
        </>
      )}
    </section>
  );
}

type NumberName = Exclude<keyof StockDraft, 'from' | 'unit' | 'number' | 'name' | 'formula'>;

const numberField = ({ draft, problemAt, onChange }: StockFieldsProps, name: NumberName, place: string = name) => ({
  name: `stock/${place}`,
  number: true,
  value: draft[name],
  problem: problemAt(`stock/${place}`),
  onChange: (value: string) => onChange({ [name]: value }),
});

function CertificateFields(props: StockFieldsProps) {
  const { draft, problemAt, onChange } = props;
  return (
    <div className="field-pair">
      <Field {...numberField(props, 'value')} label={words.value} />
      <Select
        name="stock/unit"
        label={words.unit}
        value={draft.unit}
        options={UNITS}
        problem={problemAt('stock/unit')}
        onChange={(unit) => unit && onChange({ unit })}
      />
      <Field {...numberField(props, 'expandedUncertainty')} label={words.expandedUncertainty} unit={draft.unit} />
      <Field {...numberField(props, 'coverageFactor')} label={words.coverageFactor} />
    </div>
  );
}

function LabelFields(props: StockFieldsProps) {
  const { draft, problemAt, onChange } = props;
  return (
    <>
      <Field
        {...{ name: 'stock/formula', label: words.formula, help: substanceText.formulaHelp, value: draft.formula }}
        {...{ autoCapitalize: 'none', autoCorrect: 'off', spellCheck: false }}
        problem={problemAt('stock/formula')}
        onChange={(formula) => onChange({ formula })}
      />
      <div className="field-pair">
        <Field {...numberField(props, 'densityGPerMl')} label={words.density} unit="g/mL" />
        <Field {...numberField(props, 'densityHalfWidth')} label={words.densityHalfWidth} unit="g/mL" />
        <Field {...numberField(props, 'massFractionPercent', 'massFraction')} label={words.massFraction} unit="%" />
        <Field
          {...numberField(props, 'massFractionHalfWidthPercent', 'massFractionHalfWidth')}
          {...{ label: words.massFractionHalfWidth, unit: '%' }}
        />
      </div>
    </>
  );
}
