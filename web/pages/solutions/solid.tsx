import type { ConcentrationUnit } from '../../../server/metrology/solutions/solid.ts';
import type { FormulaReply } from '../../../server/solutions/contract.ts';
import { keepText, shelfText, solidText as words, solutionFormText, unitNames } from '../../messages/en-solutions.ts';
import { Field, Select } from '../../parts/field.tsx';
import { PageHeader } from '../../parts/page.tsx';
import { ErrorSummary } from '../../parts/refusal.tsx';
import { BenchSheet, withoutReadings } from './bench-sheet.tsx';
import { KeepFields } from './keep-fields.tsx';
import { readKeep, useKeeping } from './keeping.ts';
import { useKeptDraft } from './kept-draft.ts';
import { useTypedWrong } from './reading.ts';
import { AccuracyField, AirFields, BalanceField, QuotedFields, TemperatureFields } from './setting-fields.tsx';
import { EMPTY_SOLID, isByMass, nextSolid, readSolid, type SolidDraft, titleOf } from './solid-draft.ts';
import { SolidWork } from './solid-work.tsx';
import { ALWAYS, StepCautions } from './step-cautions.tsx';
import { SubstanceFields } from './substance-fields.tsx';
import { useTagged } from './tagged.ts';
import { useEvaluated, useFormula } from './use-evaluated.ts';
import { VesselField } from './vessel-field.tsx';
import './solutions.css';

const SHELF = 'tarebook.solution.solid';

function useSolid() {
  const { draft, change, beginAnew, drop, undoing } = useKeptDraft<SolidDraft>(SHELF, EMPTY_SOLID);
  const formula = useFormula(draft.substance.formula);
  const known = formula.data?.known;
  const tagged = useTagged([draft.flask.tag]);
  const { reader, plan, whole, isPlanReadable, isReadable } = readSolid(draft, known, tagged);
  const planned = useEvaluated(isPlanReadable ? plan : null);
  const achieved = useEvaluated(isReadable ? whole : null);
  const proposedTitle = titleOf(draft, known);
  const typedWrongAt = useTypedWrong(reader);
  const problems = { ...reader.problems };
  const { submission, keep } = useKeeping(
    () => beginAnew(nextSolid(draft)),
    () => {
      if (whole === null) reader.refuse('weighing/massG', words.notWeighed);
      if (formula.isBeingRead) reader.wait('substance/formula', solutionFormText.formulaPending);
      return { solution: whole ?? plan, kept: readKeep(reader, draft.keep, proposedTitle), reader };
    },
  );
  const problemAt = (field: string) =>
    submission.problemAt(field) ?? typedWrongAt(field) ?? achieved.problemAt(field) ?? planned.problemAt(field);
  return {
    draft,
    change,
    drop,
    undoing,
    formula,
    known,
    tagged,
    planned,
    achieved,
    submission,
    proposedTitle,
    save: keep,
    problemAt,
    plan,
    problems,
  };
}
type SolidForm = ReturnType<typeof useSolid>;

/** `/solutions/solid`: what is wanted, what to weigh, what was got. */
export default function SolidPage() {
  const form = useSolid();
  const { draft, change, planned, achieved, submission, problemAt } = form;
  return (
    <form onSubmit={form.save} noValidate className="solution-form">
      <PageHeader title={words.title} lead={words.lead} within={{ href: '~/solutions', label: shelfText.title }} />
      <ErrorSummary refusal={submission.refusal} shown={submission.shown} />
      <div className="solution-columns">
        <div className="stack wide-gaps">
          <StepCautions step="before" cautions={planned.result?.cautions ?? beforeAnything(form.known)} />
          <Wanted {...form} />
          <Making {...form} />
        </div>
        <div className="stack wide-gaps">
          <SolidWork draft={draft} planned={planned} achieved={achieved} problemAt={problemAt} onChange={change} />
          <BenchSheet plan={form.plan} problems={withoutReadings(form.problems, 'weighing/')} submission={submission} />
        </div>
      </div>
      <KeepFields
        draft={draft.keep}
        proposedTitle={form.proposedTitle}
        submission={submission}
        onChange={(changes) => change({ keep: { ...draft.keep, ...changes } })}
        onStartAgain={() => {
          submission.setRefusal(null);
          form.drop(EMPTY_SOLID, 'form', keepText.emptied);
        }}
        undoing={form.undoing}
      />
    </form>
  );
}

const beforeAnything = (known: FormulaReply['known'] | undefined) => [...ALWAYS, ...(known?.cautions ?? [])];

/** The solid, and the concentration wanted. */
function Wanted({ draft, change, formula, problemAt }: SolidForm) {
  return (
    <section className="stack">
      <h2>{words.substance}</h2>
      <SubstanceFields
        at="substance"
        draft={draft.substance}
        formula={formula}
        problemAt={problemAt}
        onChange={(changes) => change({ substance: { ...draft.substance, ...changes } })}
      />
      <div className="field-pair">
        <Field
          name="target/value"
          label={words.target}
          number
          value={draft.targetValue}
          problem={problemAt('target/value')}
          onChange={(targetValue) => change({ targetValue })}
        />
        <Select
          name="target/unit"
          label={words.targetUnit}
          value={draft.targetUnit}
          options={(Object.keys(unitNames) as ConcentrationUnit[]).map((value) => ({ value, label: unitNames[value] }))}
          problem={problemAt('target/unit')}
          onChange={(targetUnit) => targetUnit && change({ targetUnit })}
        />
      </div>
      <AccuracyField
        value={draft.accuracyPercent}
        problemAt={problemAt}
        onChange={(accuracyPercent) => change({ accuracyPercent })}
      />
    </section>
  );
}

/** The vessel or the mass it is made up to, at which temperature, and the balance. */
function Making({ draft, change, tagged, problemAt }: SolidForm) {
  const isMass = isByMass(draft.targetUnit);
  const temperatures = {
    at: 'madeUp/',
    draft: draft.temperatures,
    problemAt,
    onChange: (changes: Partial<SolidDraft['temperatures']>) =>
      change({ temperatures: { ...draft.temperatures, ...changes } }),
  };
  const weighing = {
    draft: draft.weighing,
    problemAt,
    onChange: (changes: Partial<SolidDraft['weighing']>) => change({ weighing: { ...draft.weighing, ...changes } }),
  };
  return (
    <section className="stack">
      <h2>
        {words.madeUp} {isMass ? words.byMass : words.byVolume}
      </h2>
      {isMass ? (
        <Field
          name="madeUp/solutionG"
          {...{ label: words.solutionG, help: words.solutionHelp, unit: 'g', number: true }}
          value={draft.solutionG}
          problem={problemAt('madeUp/solutionG')}
          onChange={(solutionG) => change({ solutionG })}
        />
      ) : (
        <>
          <VesselField
            {...{
              name: 'madeUp',
              label: words.flask,
              help: words.flaskHelp,
              basis: 'contain',
              kind: 'volumetric-flask',
            }}
            {...{ draft: draft.flask, tagged, problemAt }}
            onChange={(flask) => change({ flask })}
          />
          <TemperatureFields {...temperatures} />
        </>
      )}
      <BalanceField {...weighing} />
      <details className="unfold">
        <summary>{solutionFormText.more}</summary>
        <div className="stack">
          {!isMass && <QuotedFields {...temperatures} />}
          <AirFields {...weighing} />
        </div>
      </details>
    </section>
  );
}
