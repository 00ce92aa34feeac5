import type { ReactNode } from 'react';
import type { SolutionResult } from '../../../server/solutions/contract.ts';
import { dilutionText as words, resultText } from '../../messages/en-solutions.ts';
import { Button } from '../../parts/button.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import { EMPTY_STEP, moved, type StepDraft } from './dilution-draft.ts';
import { Opens } from './explained.tsx';
import { relativeWords, uncertaintyWords, valueWords } from './result-words.ts';
import { NO_VESSEL, type Tagged } from './tagged.ts';
import { VesselField } from './vessel-field.tsx';

interface StepsProps {
  steps: readonly StepDraft[];
  tagged: Tagged;
  result: SolutionResult | undefined;
  problemAt: (field: string) => string | undefined;
  onChange: (steps: StepDraft[]) => void;
  /** Leaves the steps without the one of this number. */
  onRemove: (steps: StepDraft[], number: number) => void;
}

/** One step below the other, each with its vessels and what it comes to. */
export function DilutionSteps({ steps, tagged, result, problemAt, onChange, onRemove }: StepsProps) {
  const change = (index: number, changes: Partial<StepDraft>) =>
    onChange(steps.map((step, at) => (at === index ? { ...step, ...changes } : step)));
  return (
    <section className="stack">
      <h2>{words.steps}</h2>
      <ol className="plain dilution-steps">
        {steps.map((step, index) => (
          <li key={index} className="card dilution-step">
            <div className="row spread">
              <h3>
                {words.step(index + 1)}{' '}
                <span className="quiet small">{index === 0 ? words.fromStock : words.fromStep(index)}</span>
              </h3>
              <StepActs {...{ steps, index, onChange, onRemove }} />
            </div>
            <StepVessels {...{ step, index, tagged, problemAt }} onChange={(changes) => change(index, changes)} />
            <After result={result?.steps?.[index]} approximate={result?.approximate ?? false} index={index} />
          </li>
        ))}
      </ol>
      <div>
        <Button onClick={() => onChange([...steps, EMPTY_STEP])}>{words.addStep}</Button>
      </div>
    </section>
  );
}

interface StepVesselsProps {
  step: StepDraft;
  index: number;
  tagged: Tagged;
  problemAt: (field: string) => string | undefined;
  onChange: (changes: Partial<StepDraft>) => void;
}

function StepVessels({ step, index, tagged, problemAt, onChange }: StepVesselsProps) {
  const { deliveries } = step;
  const isMany = deliveries.length > 1;
  return (
    <div className="dilution-vessels">
      <div className="stack tight">
        {deliveries.map((delivery, place) => (
          <div key={place} className="dilution-delivery">
            <VesselField
              {...{ name: `steps/${index}/deliveries/${place}`, label: words.deliver(place + 1, isMany) }}
              {...{ help: words.deliverHelp, basis: 'deliver', kind: 'single-volume-pipette' }}
              {...{ draft: delivery, tagged, problemAt }}
              onChange={(changed) =>
                onChange({ deliveries: deliveries.map((one, at) => (at === place ? changed : one)) })
              }
            />
            {isMany && (
              <IconButton
                label={words.removeDelivery(place + 1, index + 1)}
                path="M4 4l8 8M12 4l-8 8"
                onPress={() => onChange({ deliveries: deliveries.filter((_, at) => at !== place) })}
              />
            )}
          </div>
        ))}
        <div>
          <Button look="quiet" onClick={() => onChange({ deliveries: [...deliveries, NO_VESSEL] })}>
            {words.addDelivery}
          </Button>
        </div>
      </div>
      <VesselField
        {...{ name: `steps/${index}/madeUpIn`, label: words.madeUpIn, help: words.madeUpHelp }}
        {...{ basis: 'contain', kind: 'volumetric-flask', draft: step.madeUpIn, tagged, problemAt }}
        onChange={(madeUpIn) => onChange({ madeUpIn })}
      />
    </div>
  );
}

function After({
  result,
  approximate,
  index,
}: {
  result: NonNullable<SolutionResult['steps']>[number] | undefined;
  approximate: boolean;
  index: number;
}) {
  return (
    <p role="status">
      <span className="quiet">{words.after}</span>{' '}
      {result ? (
        <>
          <strong>
            {approximate && resultText.about}
            <Opens name={`step-${index + 1}`}>
              <Quantity
                value={`${valueWords(result)} ${resultText.plusMinus(uncertaintyWords(result))}`}
                unit={result.unit}
              />
            </Opens>
          </strong>{' '}
          <span className="quiet small">{relativeWords(result)}</span>
        </>
      ) : (
        <span className="quiet small">{words.afterWaiting}</span>
      )}
    </p>
  );
}

function StepActs({
  steps,
  index,
  onChange,
  onRemove,
}: Pick<StepsProps, 'onChange' | 'onRemove'> & { steps: readonly StepDraft[]; index: number }) {
  if (steps.length < 2) return null;
  return (
    <div className="dilution-acts">
      {index > 0 && (
        <IconButton
          label={words.up(index + 1)}
          path="M8 13V3M4 7l4-4 4 4"
          onPress={() => onChange(moved(steps, index, index - 1))}
        />
      )}
      {index < steps.length - 1 && (
        <IconButton
          label={words.down(index + 1)}
          path="M8 3v10M4 9l4 4 4-4"
          onPress={() => onChange(moved(steps, index, index + 1))}
        />
      )}
      <IconButton
        label={words.removeStep(index + 1)}
        path="M4 4l8 8M12 4l-8 8"
        onPress={() =>
          onRemove(
            steps.filter((_, at) => at !== index),
            index + 1,
          )
        }
      />
    </div>
  );
}

export function IconButton({ label, path, onPress }: { label: string; path: string; onPress: () => void }): ReactNode {
  return (
    <button type="button" className="icon-button" aria-label={label} title={label} onClick={onPress}>
      <svg viewBox="0 0 16 16" aria-hidden="true">
        <path d={path} />
      </svg>
    </button>
  );
}
