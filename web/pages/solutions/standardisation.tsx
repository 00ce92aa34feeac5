import { useEffect, useMemo } from 'react';
import { useSearchParams } from 'wouter';
import type { SolutionResult } from '../../../server/solutions/contract.ts';
import { sampleStandardDeviation } from 'simple-statistics';
import { keepText, shelfText, solutionFormText, standardisationText as words } from '../../messages/en-solutions.ts';
import { Choice, Field } from '../../parts/field.tsx';
import { PageHeader } from '../../parts/page.tsx';
import { Figure } from '../../parts/quantity.tsx';
import { ErrorSummary } from '../../parts/refusal.tsx';
import { fixed, significant } from '../../parts/rounding.ts';
import { BenchSheet, withoutReadings } from './bench-sheet.tsx';
import { Explained } from './explained.tsx';
import { KeepFields } from './keep-fields.tsx';
import { readKeep, useKeeping } from './keeping.ts';
import { useKeptDraft } from './kept-draft.ts';
import { useTypedWrong } from './reading.ts';
import { NumberField } from './number-field.tsx';
import { useNumbered } from './numbered.ts';
import { LiveResult } from './result-parts.tsx';
import { partOf } from './result-words.ts';
import { AccuracyField, AirFields, BalanceField, TemperatureFields } from './setting-fields.tsx';
import {
  atLive,
  EMPTY_STANDARDISATION,
  readStandardisation,
  rowsUsed,
  type StandardisationDraft,
} from './standardisation-draft.ts';
import { ALWAYS, StepCautions } from './step-cautions.tsx';
import { SubstanceFields } from './substance-fields.tsx';
import { useTagged } from './tagged.ts';
import { TitrationGrid } from './titration-grid.tsx';
import { UndoLine } from './undo-line.tsx';
import { useEvaluated, useFormula } from './use-evaluated.ts';
import { VesselField } from './vessel-field.tsx';
import './solutions.css';

const SHELF = 'tarebook.solution.standardisation';
const FEWEST_FOR_SPREAD = 2;

/** The record of a solution hands its name over; what was begun here before stays. */
function useTitrantInAddress(typed: string, change: (changes: { titrantName: string }) => void): void {
  const [address, setAddress] = useSearchParams();
  const titrantName = address.get('titrant') ?? '';
  useEffect(() => {
    if (titrantName === '') return;
    if (typed.trim() === '') change({ titrantName });
    setAddress({}, { replace: true });
  }, [titrantName, typed, change, setAddress]);
}

function useStandardisation() {
  const { draft, change, beginAnew, drop, undoing } = useKeptDraft<StandardisationDraft>(SHELF, EMPTY_STANDARDISATION);
  useTitrantInAddress(draft.titrantName, change);
  const formula = useFormula(draft.substance.formula);
  const numbered = useNumbered(draft.number);
  const tagged = useTagged([draft.burette.tag, draft.pipette.tag]);
  const { reader, body, live, whole, plan } = readStandardisation(draft, formula.data?.known, numbered, tagged);
  const evaluated = useEvaluated(live);
  const typedWrongAt = useTypedWrong(reader);
  const problems = withoutReadings(reader.problems, 'titrations');
  const next = { ...EMPTY_STANDARDISATION, burette: draft.burette, weighing: draft.weighing };
  const titrant = draft.titrantName.trim();
  const proposedTitle = titrant === '' ? '' : words.proposedTitle(titrant);
  const { submission, keep: save } = useKeeping(
    () => beginAnew(next),
    () => {
      if (formula.isBeingRead) reader.wait('substance/formula', solutionFormText.formulaPending);
      return { solution: body, kept: readKeep(reader, draft.keep, proposedTitle), reader };
    },
  );
  const evaluatedAt = (field: string | null) => (field === null ? undefined : evaluated.problemAt(field));
  const problemAt = (field: string) =>
    submission.problemAt(field) ?? typedWrongAt(field) ?? evaluatedAt(atLive(field, whole));
  const used = rowsUsed(draft);
  return {
    ...{
      draft,
      change,
      drop,
      undoing,
      formula,
      numbered,
      tagged,
      evaluated,
      submission,
      proposedTitle,
      save,
      problemAt,
    },
    used,
    counted: used.filter((_, place) => whole.includes(place)),
    bench: { plan, problems, submission },
  };
}
type Form = ReturnType<typeof useStandardisation>;

/** The way to the result of each titration. */
const singleNodesOf = (result: SolutionResult | undefined) =>
  Object.fromEntries(
    (result?.singles ?? []).map((_, index) => [
      `single-${index + 1}`,
      result ? partOf(result.explanation, `c${index + 1}`) : null,
    ]),
  );

/** `/solutions/standardisation`: a titrant against a standard. */
export default function StandardisationPage() {
  const form = useStandardisation();
  const { draft, change, evaluated, submission, problemAt, used, counted } = form;
  const { result } = evaluated;
  const nodes = useMemo(() => singleNodesOf(result), [result]);
  return (
    <form onSubmit={form.save} noValidate className="solution-form">
      <PageHeader title={words.title} lead={words.lead} within={{ href: '~/solutions', label: shelfText.title }} />
      <ErrorSummary refusal={submission.refusal} shown={submission.shown} />
      <div className="solution-columns">
        <div className="stack wide-gaps">
          <div className="stack tight">
            <StepCautions step="before" cautions={result?.cautions ?? ALWAYS} />
            {result && <StepCautions step="making-up" cautions={result.cautions} />}
          </div>
          <Titrant {...form} />
          <Standard {...form} />
          <Setting {...form} />
        </div>
        <div className="stack wide-gaps">
          <section className="stack">
            <h2>{words.titrations}</h2>
            <Explained nodes={nodes}>
              <TitrationGrid
                rows={draft.titrations}
                {...{ used, counted }}
                isWeighed={draft.standardFrom === 'solid'}
                {...{ result, problemAt }}
                onChange={(titrations) => change({ titrations })}
                onRemove={(titrations, row) => form.drop({ titrations }, 'rows', words.removed(row))}
              />
            </Explained>
            <UndoLine at="rows" {...form.undoing} />
          </section>
          <LiveResult
            {...{ evaluated, title: words.result, waiting: words.waiting }}
            accuracyPercent={draft.accuracyPercent}
          >
            <LeftOut rows={used.filter((row) => !counted.includes(row))} />
            {result && <Spread result={result} />}
          </LiveResult>
          <BenchSheet {...form.bench} />
        </div>
      </div>
      <KeepFields
        draft={draft.keep}
        proposedTitle={form.proposedTitle}
        submission={submission}
        onChange={(changes) => change({ keep: { ...draft.keep, ...changes } })}
        onStartAgain={() => {
          submission.setRefusal(null);
          form.drop(EMPTY_STANDARDISATION, 'form', keepText.emptied);
        }}
        undoing={form.undoing}
      />
    </form>
  );
}

/** Titrations begun or not readable, which this result does without. */
function LeftOut({ rows }: { rows: readonly number[] }) {
  return rows.length > 0 && <p>{words.leftOut(rows.map((row) => row + 1))}</p>;
}

function Spread({ result }: { result: SolutionResult }) {
  const singles = result.singles ?? [];
  if (singles.length < FEWEST_FOR_SPREAD) return null;
  const sd = sampleStandardDeviation(singles);
  return (
    <dl className="figures">
      <Figure
        label={words.spread}
        value={significant(sd, 2)}
        unit={result.unit}
        sub={words.spreadOf(singles.length, fixed((100 * sd) / Math.abs(result.value), 2))}
      />
    </dl>
  );
}

function Titrant({ draft, change, problemAt }: Form) {
  return (
    <section className="stack">
      <h2>{words.titrant}</h2>
      <div className="field-pair">
        <Field
          name="titrant/name"
          label={words.titrantName}
          value={draft.titrantName}
          problem={problemAt('titrant/name')}
          onChange={(titrantName) => change({ titrantName })}
        />
        <Field
          {...{ name: 'titrant/formula', label: words.titrantFormula, value: draft.titrantFormula, optional: true }}
          {...{ autoCapitalize: 'none', autoCorrect: 'off', spellCheck: false }}
          problem={problemAt('titrant/formula')}
          onChange={(titrantFormula) => change({ titrantFormula })}
        />
      </div>
    </section>
  );
}

const STANDARDS = (['solid', 'preparation'] as const).map((value) => ({ value, label: words.sources[value] }));

function Standard({ draft, change, formula, numbered, tagged, problemAt }: Form) {
  return (
    <section className="stack">
      <h2>{words.standard}</h2>
      <Choice
        name="standard/from"
        label={words.from}
        value={draft.standardFrom}
        options={STANDARDS}
        onChange={(standardFrom) => change({ standardFrom })}
      />
      {draft.standardFrom === 'solid' ? (
        <SubstanceFields
          {...{ at: 'standard/substance', draft: draft.substance, formula, problemAt }}
          onChange={(changes) => change({ substance: { ...draft.substance, ...changes } })}
        />
      ) : (
        <>
          <NumberField
            {...{
              name: 'standard/preparationId',
              label: words.standardNumber,
              typed: draft.number,
              numbered,
              problemAt,
            }}
            onChange={(number) => change({ number })}
          />
          <VesselField
            {...{ name: 'pipette', label: words.pipette, help: words.pipetteHelp, basis: 'deliver' }}
            {...{ kind: 'single-volume-pipette', draft: draft.pipette, tagged }}
            problemAt={(field) => problemAt(field) ?? problemAt(field.replace(/^pipette/, 'titrations/0/pipette'))}
            onChange={(pipette) => change({ pipette })}
          />
        </>
      )}
      <Field
        {...{ name: 'molesPerMole', label: words.molesPerMole, number: true, value: draft.molesPerMole }}
        problem={problemAt('molesPerMole')}
        onChange={(molesPerMole) => change({ molesPerMole })}
      />
    </section>
  );
}

function Setting({ draft, change, tagged, problemAt }: Form) {
  const weighing = {
    draft: draft.weighing,
    problemAt,
    onChange: (changes: Partial<StandardisationDraft['weighing']>) =>
      change({ weighing: { ...draft.weighing, ...changes } }),
  };
  const number = (name: 'endPointMl' | 'endPointHalfWidthMl' | 'repeatabilityPercent') => ({
    name,
    number: true,
    optional: true,
    value: draft[name],
    problem: problemAt(name),
    onChange: (value: string) => change({ [name]: value }),
  });
  const { temperatureC, temperatureHalfWidthC } = draft;
  return (
    <section className="stack">
      <VesselField
        {...{ name: 'buretteId', isIdOnly: true, label: words.burette, help: words.buretteHelp, basis: 'deliver' }}
        {...{ kind: 'burette', draft: draft.burette, tagged, problemAt }}
        onChange={(burette) => change({ burette })}
      />
      <TemperatureFields
        at=""
        help={solutionFormText.temperatureAtTitration}
        draft={{ temperatureC, temperatureHalfWidthC }}
        problemAt={problemAt}
        onChange={(changes) => change(changes)}
      />
      {draft.standardFrom === 'solid' && <BalanceField {...weighing} />}
      <AccuracyField
        value={draft.accuracyPercent}
        problemAt={problemAt}
        onChange={(accuracyPercent) => change({ accuracyPercent })}
      />
      <details className="unfold">
        <summary>{words.finer}</summary>
        <div className="stack">
          <div className="field-pair">
            <Field {...number('endPointMl')} label={words.endPoint} unit="mL" />
            <Field {...number('endPointHalfWidthMl')} label={words.endPointHalfWidth} unit="mL" />
            <Field
              {...number('repeatabilityPercent')}
              {...{ label: words.repeatability, help: words.repeatabilityHelp, unit: '%' }}
            />
          </div>
          {draft.standardFrom === 'solid' && <AirFields {...weighing} />}
        </div>
      </details>
    </section>
  );
}
