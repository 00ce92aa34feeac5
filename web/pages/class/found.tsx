import { useState } from 'react';
import { summarise } from '../../../server/metrology/statistics.ts';
import type { ClassTrial } from '../../../server/experiments/contract-class.ts';
import { foreseeText, foundText as words } from '../../messages/en-class.ts';
import { Notice } from '../../parts/notice.tsx';
import { Figure } from '../../parts/quantity.tsx';
import { decimalsForUncertainty, decimalsOf, fixed, signed } from '../../parts/rounding.ts';
import { ToleranceStrip } from '../../parts/tolerance-strip.tsx';
import type { Step } from './step.ts';
import { TrialStory } from './trial-story.tsx';
import type { Group } from './use-group.ts';

/** What a group can look into at its own bench; what the room has for all is its teacher's. */
const OWN_FINDINGS = new Set([
  'digits-not-as-displayed',
  'volume-unusual',
  'water-air-difference',
  'water-air-difference-strong',
  'below-dew-point',
]);

/** Digits of a volume as its readings have them. */
const digitsOf = ({ filledG }: ClassTrial): number => Math.max(1, decimalsOf(filledG));

/** What the group foresaw beside what it found: a strip, three numbers, and each weighing three ways. */
export function Found({ group, step }: { group: Group | null; step: Step }) {
  const { row, trials, prediction } = step;
  const counted = trials.filter(({ excluded }) => excluded === null);
  const found = counted.length === 0 ? null : summarise(counted.map(({ volumeMl }) => volumeMl));
  const volumes = (of: readonly ClassTrial[]) => of.map(({ volumeMl }) => volumeMl);
  return (
    <section className="class-found" aria-label={words.title}>
      <h3>{words.title}</h3>
      <ToleranceStrip
        height={96}
        verdict={null}
        data={{
          ...{ nominalMl: Number(row.nominalVolumeMl), toleranceMl: row.toleranceMl, meanMl: found?.mean ?? null },
          volumesMl: volumes(counted),
          excludedMl: volumes(trials.filter(({ excluded }) => excluded !== null)),
        }}
      />
      <dl className="figures">
        {prediction && (
          <Figure
            label={words.expected}
            value={foreseeText.said(prediction.volumeMl, prediction.withinMl, null)}
            {...(prediction.sureness ? { sub: foreseeText.sure[prediction.sureness] } : {})}
          />
        )}
        {found && <Numbers step={step} found={found} counted={counted} />}
      </dl>
      <ThreeVolumes group={group} step={step} />
      <div className="stack tight">
        <p>
          <strong>{words.question}</strong>
        </p>
        <details className="unfold">
          <summary>{words.hint}</summary>
          <ul>
            {words.hints.map((hint) => (
              <li key={hint}>{hint}</li>
            ))}
          </ul>
        </details>
      </div>
    </section>
  );
}

interface NumbersProps {
  step: Step;
  found: ReturnType<typeof summarise>;
  counted: readonly ClassTrial[];
}

/** Bias and spread with the number of trials; a spread needs two. */
function Numbers({ step: { row, trials }, found, counted }: NumbersProps) {
  // Never more digits than the finest reading has.
  const digits = Math.max(...counted.map(digitsOf));
  const decimals = found.sd ? Math.min(digits, decimalsForUncertainty(found.sd)) : digits;
  const count = counted.length === trials.length ? words.n(found.n) : words.nOf(found.n, trials.length);
  return (
    <>
      <Figure label={words.mean} value={fixed(found.mean, decimals)} unit="mL" sub={count} />
      <Figure
        {...{ label: words.bias, unit: 'mL', sub: words.biasSub(row.nominalVolumeMl) }}
        value={signed(found.mean - Number(row.nominalVolumeMl), decimals)}
      />
      <Figure
        {...{ label: words.spread, sub: words.spreadSub }}
        {...(found.sd === null ? { value: words.needsTwo } : { value: fixed(found.sd, decimals), unit: 'mL' })}
      />
    </>
  );
}

function ThreeVolumes({ group, step }: { group: Group | null; step: Step }) {
  const [open, setOpen] = useState<number | null>(null);
  const remarks = new Set(
    step.trials.flatMap(({ findings }) =>
      findings.flatMap(({ code, detail }) => (OWN_FINDINGS.has(code) ? [detail] : [])),
    ),
  );
  return (
    <>
      <div className="table-box">
        <table className="table class-volumes">
          <caption>{words.threeTitle}</caption>
          <thead>
            <tr>
              <th scope="col">{words.trial}</th>
              <th scope="col" className="number">
                {words.simple}
              </th>
              <th scope="col" className="number">
                {words.density}
              </th>
              <th scope="col" className="number">
                {words.corrected}
              </th>
            </tr>
          </thead>
          <tbody>
            {step.trials.map((trial) => (
              <tr key={trial.number} data-excluded={trial.excluded ? '' : undefined}>
                <th scope="row">
                  <button
                    type="button"
                    className="class-trial-button"
                    aria-label={words.open(trial.number)}
                    aria-expanded={open === trial.number}
                    onClick={() => setOpen(open === trial.number ? null : trial.number)}
                  >
                    {trial.number}
                  </button>
                </th>
                {[trial.simpleVolumeMl, trial.densityVolumeMl, trial.volumeMl].map((volumeMl, index) => (
                  <td key={index} className="number">
                    {fixed(volumeMl, digitsOf(trial))}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {step.trials.map(
        (trial) =>
          trial.number === open && (
            <TrialStory
              key={trial.number}
              act={group && ((...sent) => group.link.act(...sent))}
              step={step}
              trial={trial}
            />
          ),
      )}
      {[...remarks].map((remark) => (
        <Notice key={remark}>{remark}</Notice>
      ))}
    </>
  );
}
