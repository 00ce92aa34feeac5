import { useMemo, useState } from 'react';
import type { WareRowOnWire } from '../../../server/experiments/contract.ts';
import type { GroupPage, Prediction } from '../../../server/experiments/contract-class.ts';
import { benchText as words, entryText, foreseeText } from '../../messages/en-class.ts';
import { Button } from '../../parts/button.tsx';
import { decimalsForTolerance, fixed } from '../../parts/rounding.ts';
import { Foresee } from './foresee.tsx';
import { Found } from './found.tsx';
import { typedPrediction } from './memory.ts';
import { type Step, stepsOf } from './step.ts';
import { readingWords } from './reading-words.ts';
import { TrialEntry } from './trial-entry.tsx';
import type { Group } from './use-group.ts';

/** The rows of the experiment as steps, one of them open. */
export function Steps({ group, page }: { group: Group; page: GroupPage }) {
  const { kept, memory } = group;
  const steps = useMemo(() => stepsOf(page, kept.waiting), [page, kept.waiting]);
  const open = steps.find(({ row }) => row.key === kept.row) ?? steps.find(({ isDone }) => !isDone) ?? steps[0];
  const openStep = (key: string) => memory.change(() => ({ row: key }));
  if (!open) return null;
  return (
    <div className={steps.length > 1 ? 'class-steps' : undefined}>
      {steps.length > 1 && (
        <nav aria-label={words.steps}>
          <ol className="plain class-step-list">
            {steps.map((step) => (
              <li key={step.row.key}>
                <button
                  type="button"
                  className="class-step-button"
                  aria-current={step === open ? 'step' : undefined}
                  onClick={() => openStep(step.row.key)}
                >
                  <span className="class-step-label">{step.row.label}</span>
                  <span className="class-step-state">{stateOf(step)}</span>
                </button>
              </li>
            ))}
          </ol>
        </nav>
      )}
      <OpenStep
        key={open.row.key}
        group={group}
        page={page}
        step={open}
        next={nextAfter(steps, open)}
        onNext={openStep}
      />
    </div>
  );
}

const stateOf = ({ row, trials, waiting }: Step): string =>
  words.stepState(trials.length + waiting.filter(({ kind }) => kind === 'trial').length, row.trialsPerGroup);

/** The next one that is not done, after this one or from the beginning. */
const nextAfter = (steps: readonly Step[], open: Step): Step | null => {
  const at = steps.indexOf(open);
  return [...steps.slice(at + 1), ...steps.slice(0, at)].find(({ isDone }) => !isDone) ?? null;
};

/** The button that was pressed goes with what it ended; the cursor goes on to the first field of what follows. */
const toFirstField = () =>
  requestAnimationFrame(() => document.querySelector<HTMLElement>('.class-entry input')?.focus());

interface OpenStepProps {
  group: Group;
  page: GroupPage;
  step: Step;
  next: Step | null;
  onNext: (key: string) => void;
}

function OpenStep({ group, page, step, next, onNext }: OpenStepProps) {
  const [isChanging, setIsChanging] = useState(false);
  const { row, prediction, isForeseen, isDone, trials } = step;
  const change = () => {
    if (prediction === null) return;
    group.memory.type(row.key, typedPrediction(prediction));
    setIsChanging(true);
  };
  return (
    <section className="class-step" aria-label={row.label}>
      <div className="class-step-work">
        <StepHead row={row} />
        {isForeseen && !isChanging ? (
          <>
            {prediction !== null && trials.length === 0 && <Expected prediction={prediction} onChange={change} />}
            <TrialEntry group={group} page={page} step={step} />
          </>
        ) : (
          <Foresee
            {...{ group, page, step }}
            onDone={() => {
              setIsChanging(false);
              toFirstField();
            }}
          />
        )}
        {isDone && next && (
          <div className="row">
            <Button
              bench
              onClick={() => {
                onNext(next.row.key);
                toFirstField();
              }}
            >
              {entryText.next(next.row.label)}
            </Button>
          </div>
        )}
        {isDone && next === null && <p>{entryText.all}</p>}
      </div>
      {trials.length > 0 && <Found group={group} step={step} />}
    </section>
  );
}

/** What the group said; it may change its mind until the first weighing. */
function Expected({ prediction, onChange }: { prediction: Prediction; onChange: () => void }) {
  const { volumeMl, withinMl, sureness } = prediction;
  return (
    <div className="row">
      <p>
        {foreseeText.before} {foreseeText.said(volumeMl, withinMl, sureness)}
      </p>
      <Button look="quiet" onClick={onChange}>
        {foreseeText.change}
      </Button>
    </div>
  );
}

/** What is filled, how it is weighed and how it is read. */
function StepHead({ row }: { row: WareRowOnWire }) {
  const { name, how } = words.basis[row.basis];
  return (
    <div className="stack tight">
      <h2>{row.label}</h2>
      <p className="quiet">{wareWords(row)}</p>
      <p>
        <strong>{name}.</strong> {how} {row.drops !== undefined && words.drops(row.drops)}
      </p>
      <details className="unfold">
        <summary>{words.reading.title}</summary>
        <p>{readingWords(row)}</p>
      </details>
    </div>
  );
}

const wareWords = ({ nominalVolumeMl, toleranceMl, toleranceSource }: WareRowOnWire): string => {
  const tolerance =
    toleranceMl === null
      ? words.noTolerance
      : words.tolerance(fixed(toleranceMl, decimalsForTolerance(toleranceMl)), toleranceSource);
  return `${words.nominal(nominalVolumeMl)} · ${tolerance}`;
};
