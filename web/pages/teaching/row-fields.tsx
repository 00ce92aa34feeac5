import { useMemo } from 'react';
import { VESSEL_KINDS } from '../../../server/metrology/record.ts';
import { toleranceChoices } from '../../../server/metrology/tolerance.ts';
import { text } from '../../messages/en.ts';
import { planText as words, teachingText } from '../../messages/en-teaching.ts';
import { vesselText } from '../../messages/en-glassware.ts';
import { Button } from '../../parts/button.tsx';
import { Choice, Field, Select } from '../../parts/field.tsx';
import { KindMark } from '../../parts/kind-mark.tsx';
import { Question, type Submission } from '../../parts/refusal.tsx';
import { useTolerances } from '../../queries.ts';
import { toleranceRowsOf } from '../../tolerance-rows.ts';
import type { RowDraft } from './plan-draft.ts';

interface RowFieldsProps {
  row: RowDraft;
  index: number;
  submission: Submission;
  canGo: boolean;
  onChange: (changes: Partial<RowDraft>) => void;
  onRemove: () => void;
}

const KINDS = VESSEL_KINDS.map((value) => ({ value, label: text.words.vesselKinds[value] }));

/** One row: the ware first, then how it is weighed and what it may be off by; the rest folded. */
export function RowFields(props: RowFieldsProps) {
  const { row, index, submission, canGo, onChange, onRemove } = props;
  const at = `rows/${index}`;
  // Every row has these fields: a refusal that lists them says of which ware it speaks.
  const field = (name: Exclude<keyof RowDraft, 'rest'>, label: string, pointer: string = name) => ({
    name: `${at}/${pointer}`,
    label,
    'aria-label': words.ofRow(label, row.label.trim() || words.row(index + 1)),
    value: row[name],
    problem: submission.problemAt(`${at}/${pointer}`),
    onChange: (value: string) => onChange({ [name]: value }),
  });
  return (
    <fieldset className="card stack">
      <legend className="class-row-legend">
        <KindMark kind={row.kind} /> {words.row(index + 1)}
      </legend>
      <Field {...field('label', words.label)} />
      <div className="field-pair">
        <Select
          name={`${at}/kind`}
          label={words.kind}
          value={row.kind}
          options={KINDS}
          problem={submission.problemAt(`${at}/kind`)}
          onChange={(kind) => kind && onChange({ kind, limit: '', marked: '' })}
        />
        <Field {...field('nominalVolumeMl', words.nominal)} unit="mL" number />
        <Field {...field('trials', words.trials, 'trialsPerGroup')} inputMode="numeric" width="short" />
      </div>
      <Choice
        name={`${at}/basis`}
        label={words.basis}
        help={words.basisHelp}
        value={row.basis}
        options={(['contain', 'deliver'] as const).map((value) => ({ value, label: teachingText.bases[value] }))}
        problem={submission.problemAt(`${at}/basis`)}
        onChange={(basis) => onChange({ basis })}
      />
      <Limit {...props} />
      <details className="unfold" open={hasProblem(submission, at) || undefined}>
        <summary>{words.more}</summary>
        <div className="field-pair">
          <Field {...field('divisionMl', words.division)} help={words.divisionHelp} unit="mL" number optional />
          <Field {...field('waterTemperatureC', words.rowWater)} help={words.rowWaterHelp} unit="°C" number optional />
          <Field {...field('drops', words.drops)} help={words.dropsHelp} inputMode="numeric" width="short" optional />
          <Field {...field('vessels', words.vessels, 'vesselIds')} help={words.vesselsHelp} optional />
        </div>
      </details>
      {canGo && (
        <div className="row">
          <Button look="quiet" onClick={onRemove}>
            {words.removeRow(row.label)}
          </Button>
        </div>
      )}
    </fieldset>
  );
}

const FOLDED = ['divisionMl', 'waterTemperatureC', 'drops', 'vesselIds'];
const hasProblem = (submission: Submission, at: string): boolean =>
  FOLDED.some((name) => submission.problemAt(`${at}/${name}`) !== undefined);

/** By class of a standard, or as marked; what judges stands in the table of tolerances. */
function Limit({ row, index, submission, onChange }: RowFieldsProps) {
  const table = useTolerances(row.kind);
  const classes = useMemo(
    () =>
      toleranceChoices(toleranceRowsOf(table.data?.items ?? []), row.kind).flatMap(
        ({ standard, edition, classes: all }) =>
          all.map((one) => ({
            value: `${standard}|${edition}|${one}`,
            label: vesselText.sourceTable(standard, edition, one),
          })),
      ),
    [table.data, row.kind],
  );
  const at = `rows/${index}/tolerance`;
  const marked = row.limit === '%' ? `${at}/markedPercent` : `${at}/markedMl`;
  const problem = ['', '/standard', '/edition', '/class'].map((end) => submission.problemAt(at + end)).find(Boolean);
  const options = [{ value: 'mL', label: words.markedMl }, { value: '%', label: words.markedPercent }, ...classes];
  // While the table is on its way, what was chosen stays in sight.
  const known = row.limit === '' || options.some(({ value }) => value === row.limit);
  return (
    <div className="field-pair">
      <Select
        name={at}
        label={words.limit}
        help={words.limitHelp}
        value={row.limit}
        none={words.noLimit}
        options={known ? options : [...options, { value: row.limit, label: row.limit.replaceAll('|', ' ') }]}
        problem={problem}
        onChange={(limit) => onChange({ limit })}
      />
      {(row.limit === 'mL' || row.limit === '%') && (
        <div>
          <Field
            name={marked}
            label={words.marked}
            aria-label={words.ofRow(words.marked, row.label.trim() || words.row(index + 1))}
            unit={row.limit}
            number
            value={row.marked}
            problem={submission.problemAt(marked)}
            onChange={(value) => onChange({ marked: value })}
          />
          <Question submission={submission} field={marked} />
        </div>
      )}
    </div>
  );
}
