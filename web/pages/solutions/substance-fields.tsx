import type { ComponentProps } from 'react';
import { substanceText as words } from '../../messages/en-solutions.ts';
import { Field, Select, Tick } from '../../parts/field.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import { fixed } from '../../parts/rounding.ts';
import { primaryStandardOf, type SubstanceDraft } from './substance-draft.ts';
import { formulaProblem, type FormulaRead } from './use-evaluated.ts';

const MOLAR_DECIMALS = 3;

interface SubstanceFieldsProps {
  /** Place of the substance in the body. */
  at: string;
  draft: SubstanceDraft;
  formula: FormulaRead;
  problemAt: (field: string) => string | undefined;
  onChange: (changes: Partial<SubstanceDraft>) => void;
}

/** The formula with what it says at once; the rest of the bottle folded. */
export function SubstanceFields(props: SubstanceFieldsProps) {
  const { at, draft, formula, problemAt, onChange } = props;
  const { purityPercent, purityHalfWidthPercent, purityCertified } = draft;
  const isRefused = ['purity', 'purityHalfWidth', 'waterMassFraction', 'waterHalfWidth', 'densityKgPerM3', 'name']
    .concat(['lot', 'counted/formula', 'counted/perFormula'])
    .some((field) => problemAt(`${at}/${field}`) !== undefined);
  return (
    <div className="stack">
      <Field
        {...{ name: `${at}/formula`, label: words.formula, help: words.formulaHelp, value: draft.formula }}
        {...{ autoCapitalize: 'none', autoCorrect: 'off', spellCheck: false }}
        problem={problemAt(`${at}/formula`) ?? (draft.formula.trim() === '' ? undefined : formulaProblem(formula))}
        onChange={(typed) => onChange({ formula: typed })}
      />
      <FormulaSays draft={draft} formula={formula} />
      {/* Opened by a refusal inside it; closed it would hide the field. */}
      <details className="unfold" {...(isRefused ? { open: true } : {})}>
        <summary>
          <span>
            {words.bottle}{' '}
            <span className="quiet small">
              {words.bottleWords(purityPercent, purityHalfWidthPercent, purityCertified)}
            </span>
          </span>
        </summary>
        <Bottle {...props} />
      </details>
    </div>
  );
}

function FormulaSays({ draft, formula }: Pick<SubstanceFieldsProps, 'draft' | 'formula'>) {
  const { data } = formula;
  if (draft.formula.trim() === '' || data === undefined) return null;
  return (
    <p className="formula-says" role="status">
      <span className="quiet">{words.molarMass}</span>{' '}
      <strong>
        <Quantity value={fixed(data.molarMassGPerMol, MOLAR_DECIMALS)} unit="g/mol" />
      </strong>
      {' · '}
      {data.known?.name ?? words.unknown}
      {' · '}
      {words.primary[primaryStandardOf(draft, data.known)]}
    </p>
  );
}

type PlainField =
  | 'name'
  | 'lot'
  | 'purityPercent'
  | 'purityHalfWidthPercent'
  | 'waterPercent'
  | 'waterHalfWidthPercent'
  | 'densityKgPerM3'
  | 'countedFormula'
  | 'countedPer';

function Bottle({ at, draft, formula, problemAt, onChange }: SubstanceFieldsProps) {
  const known = formula.data?.known;
  const field = (name: PlainField, place: string) => ({
    name: `${at}/${place}`,
    value: draft[name],
    problem: problemAt(`${at}/${place}`),
    onChange: (value: string) => onChange({ [name]: value }),
  });
  const density = known?.densityKgPerM3 ?? null;
  return (
    <div className="stack">
      <div className="field-pair">
        <Field {...field('name', 'name')} label={words.name} help={words.nameHelp} optional />
        <Select
          name={`${at}/primaryStandard`}
          label={words.primaryStandard}
          value={draft.primaryStandard}
          none={words.asKnown(words.primary[known?.primaryStandard ?? 'unknown'])}
          options={(['yes', 'no', 'unknown'] as const).map((value) => ({ value, label: words.primary[value] }))}
          problem={problemAt(`${at}/primaryStandard`)}
          onChange={(primaryStandard) => onChange({ primaryStandard })}
        />
      </div>
      <div className="field-pair">
        <Field
          {...field('purityPercent', 'purity')}
          {...{ label: words.purity, help: words.purityHelp, unit: '%', number: true }}
        />
        <Field
          {...field('purityHalfWidthPercent', 'purityHalfWidth')}
          {...{ label: words.purityHalfWidth, unit: '%', number: true }}
        />
      </div>
      <Tick
        name={`${at}/purityCertified`}
        label={words.certified}
        checked={draft.purityCertified}
        onChange={(purityCertified) => onChange({ purityCertified })}
      />
      <div className="field-pair">
        <Field
          {...field('waterPercent', 'waterMassFraction')}
          {...{ label: words.water, help: words.waterHelp, unit: '%', number: true, optional: true }}
        />
        <Field
          {...field('waterHalfWidthPercent', 'waterHalfWidth')}
          {...{ label: words.waterHalfWidth, unit: '%', number: true, optional: true }}
        />
      </div>
      <div className="field-pair">
        <Field
          {...field('densityKgPerM3', 'densityKgPerM3')}
          {...{ label: words.density, unit: 'kg/m³', number: true, optional: true }}
          help={words.densityHelp(density === null ? null : String(density))}
        />
        <Field {...field('lot', 'lot')} label={words.lot} optional />
      </div>
      <Counted field={field} isCounted={draft.countedFormula.trim() !== ''} />
    </div>
  );
}

interface CountedProps {
  field: (
    name: PlainField,
    place: string,
  ) => Pick<ComponentProps<typeof Field>, 'name' | 'value' | 'problem' | 'onChange'>;
  isCounted: boolean;
}

/** What is counted where it is not the whole formula. */
function Counted({ field, isCounted }: CountedProps) {
  return (
    <div className="field-pair">
      <Field
        {...field('countedFormula', 'counted/formula')}
        {...{ label: words.counted, help: words.countedHelp, optional: true }}
      />
      {isCounted && (
        <Field
          {...field('countedPer', 'counted/perFormula')}
          {...{ label: words.countedPer, inputMode: 'numeric', width: 'short' }}
        />
      )}
    </div>
  );
}
