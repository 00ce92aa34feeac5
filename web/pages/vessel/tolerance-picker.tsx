import { useMemo } from 'react';
import {
  findTolerance,
  rowOf,
  toleranceChoices,
  toleranceMlAt,
  type ToleranceChoice,
  type ToleranceRow,
} from '../../../server/metrology/tolerance.ts';
import { vesselFormText, vesselText } from '../../messages/en-glassware.ts';
import { Button } from '../../parts/button.tsx';
import { Field, Select } from '../../parts/field.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import { Question, type Submission } from '../../parts/refusal.tsx';
import { toleranceSourceWords } from '../../parts/tolerance-words.ts';
import { decimalsForTolerance, fixed } from '../../parts/rounding.ts';
import { useTolerances } from '../../queries.ts';
import { toleranceRowsOf } from '../../tolerance-rows.ts';
import { needsTolerance, readDraft, type VesselDraft } from './draft.ts';

const WITHOUT_CLASS = '-';

interface TolerancePickerProps {
  draft: VesselDraft;
  onChange: (changes: Partial<VesselDraft>) => void;
  submission: Submission;
}

/** Class of a standard, marked value, and what the two together give, in sight before anything is saved. */
export function TolerancePicker({ draft, onChange, submission }: TolerancePickerProps) {
  const table = useTolerances(draft.kind);
  const rows = useMemo(() => toleranceRowsOf(table.data?.items ?? []), [table.data]);
  const choices = useMemo(() => (draft.kind === '' ? [] : toleranceChoices(rows, draft.kind)), [rows, draft.kind]);
  const chosen = choices.find((choice) => `${choice.standard}|${choice.edition}` === draft.standard);
  const classes = (chosen?.classes ?? []).filter((one) => one !== WITHOUT_CLASS);
  const markedField = draft.markedUnit === 'mL' ? 'tolerance/markedMl' : 'tolerance/markedPercent';
  const words = vesselFormText;
  const choose = (standard: string) => {
    const next = choices.find((choice) => `${choice.standard}|${choice.edition}` === standard);
    const keeps = next?.classes.includes(draft.class) ?? false;
    onChange({ standard, class: keeps ? draft.class : next?.classes.length === 1 ? (next.classes[0] ?? '') : '' });
  };
  return (
    <>
      <div className="field-pair">
        <Select
          name="tolerance"
          label={words.standard}
          value={draft.standard}
          none={words.noStandard}
          options={choices.map(({ standard, edition }) => ({
            value: `${standard}|${edition}`,
            label: vesselText.sourceTable(standard, edition, WITHOUT_CLASS),
          }))}
          problem={submission.problemAt('tolerance') ?? submission.problemAt('tolerance/edition')}
          onChange={choose}
        />
        {classes.length > 0 && (
          <Select
            name="tolerance/class"
            label={words.class}
            value={draft.class}
            options={classes.map((value) => ({ value, label: value }))}
            problem={submission.problemAt('tolerance/class')}
            onChange={(value) => onChange({ class: value })}
          />
        )}
      </div>
      <div className="field-pair">
        <Field
          name={markedField}
          label={words.marked}
          help={words.markedHelp}
          optional
          number
          value={draft.marked}
          problem={submission.problemAt(markedField)}
          onChange={(marked) => onChange({ marked })}
        />
        <Select
          name="markedUnit"
          label={words.markedUnit}
          value={draft.markedUnit}
          options={[
            { value: 'mL', label: 'mL' },
            { value: '%', label: '%' },
          ]}
          onChange={(unit) => onChange({ markedUnit: unit === '%' ? '%' : 'mL' })}
        />
      </div>
      <Question submission={submission} field="tolerance/markedMl" />
      <Question submission={submission} field="tolerance/markedPercent" />
      <FoundTolerance draft={draft} rows={rows} />
      {chosen && <Sizes choice={chosen} draft={draft} onChange={onChange} />}
    </>
  );
}

interface SizesProps extends Pick<TolerancePickerProps, 'draft' | 'onChange'> {
  choice: ToleranceChoice;
}

/** Nominal volumes the table knows; one tap takes size and, where there is only one, division. */
function Sizes({ choice, draft, onChange }: SizesProps) {
  if (choice.sizes.length === 0) return null;
  return (
    <details className="unfold">
      <summary>{vesselFormText.sizes}</summary>
      <div className="sizes">
        {choice.sizes.map(({ nominalMl, divisionsMl }) => (
          <Button
            key={nominalMl}
            aria-pressed={Number(draft.nominalVolumeMl) === nominalMl}
            onClick={() =>
              onChange({
                nominalVolumeMl: String(nominalMl),
                ...(divisionsMl.length === 1 ? { divisionMl: String(divisionsMl[0]) } : {}),
              })
            }
          >
            <Quantity value={String(nominalMl)} unit="mL" />
          </Button>
        ))}
      </div>
    </details>
  );
}

/** The tolerance as it would judge, with its source; or what is still missing for one. */
function FoundTolerance({ draft, rows }: { draft: VesselDraft; rows: readonly ToleranceRow[] }) {
  const found = useMemo(() => lookUp(draft, rows), [draft, rows]);
  return (
    <output className="found-tolerance" aria-live="polite">
      <span className="found-tolerance-title">{vesselFormText.toleranceTitle}</span>
      {found.toleranceMl === null ? (
        <span className="quiet">{found.detail}</span>
      ) : (
        <>
          <strong>{vesselText.tolerance(fixed(found.toleranceMl, decimalsForTolerance(found.toleranceMl)))}</strong>
          <span className="quiet small">{found.detail}</span>
        </>
      )}
    </output>
  );
}

function lookUp(draft: VesselDraft, rows: readonly ToleranceRow[]): { toleranceMl: number | null; detail: string } {
  const words = vesselFormText;
  const { body } = readDraft(draft);
  if (!body.tolerance)
    return { toleranceMl: null, detail: needsTolerance(draft.kind) ? words.foundNone : words.foundOptional };
  if (!body.kind || !body.basis || body.nominalVolumeMl === undefined)
    return { toleranceMl: null, detail: words.foundNominal };
  const vessel = { ...body, kind: body.kind, basis: body.basis, nominalVolumeMl: body.nominalVolumeMl };
  const match = findTolerance(rows, vessel);
  if (match.outcome === 'ambiguous' || match.outcome === 'unknown') return { toleranceMl: null, detail: match.detail };
  const row = rowOf(match);
  const nominal = Number(body.nominalVolumeMl);
  return {
    toleranceMl: toleranceMlAt(vessel, row, nominal),
    detail: toleranceSourceWords({
      toleranceSource: {
        from: match.outcome === 'found' && !match.marked ? 'table' : 'marked',
        standard: body.tolerance.standard ?? null,
        edition: body.tolerance.edition ?? null,
        class: body.tolerance.class ?? null,
        tableToleranceMl: row?.toleranceMl ?? null,
        verification: row?.verification ?? null,
        readInStandard: row?.readInStandard ?? null,
      },
    }),
  };
}
