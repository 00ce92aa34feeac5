import { useMemo } from 'react';
import type { SolutionResult } from '../../../server/solutions/contract.ts';
import { solidText as words } from '../../messages/en-solutions.ts';
import { Field } from '../../parts/field.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import { decimalsOf, fixed, significant } from '../../parts/rounding.ts';
import { useInstruments } from '../../queries.ts';
import { Explained, Opens } from './explained.tsx';
import { BudgetOpening, ExplainedConcentration, LiveRefusal, ResultSays } from './result-parts.tsx';
import { explainExpanded, relativeWords, resultWords } from './result-words.ts';
import type { SolidDraft } from './solid-draft.ts';
import { StepCautions } from './step-cautions.tsx';
import type { Evaluated } from './use-evaluated.ts';

/** Digits behind the mark of a usual analytical balance. */
const USUAL_DECIMALS = 4;

interface SolidWorkProps {
  draft: SolidDraft;
  planned: Evaluated;
  achieved: Evaluated;
  problemAt: (field: string) => string | undefined;
  onChange: (changes: Partial<SolidDraft>) => void;
}

/** The bench side: what to weigh, what was weighed, what it came to. */
export function SolidWork({ draft, planned, achieved, problemAt, onChange }: SolidWorkProps) {
  const plan = planned.result;
  const result = draft.massG.trim() === '' ? undefined : achieved.result;
  return (
    <div className="stack wide-gaps">
      <section className="card stack" aria-label={words.work} aria-busy={planned.isBusy}>
        <h2>{words.work}</h2>
        {plan ? (
          <ToWeigh plan={plan} balanceId={draft.weighing.balanceId} isWeighed={result !== undefined} />
        ) : (
          <NotYet evaluated={planned} />
        )}
        {plan && <StepCautions step="weighing" cautions={plan.cautions} />}
        <Field
          name="weighing/massG"
          {...{ label: words.weighed, help: words.weighedHelp, unit: 'g', number: true }}
          value={draft.massG}
          problem={problemAt('weighing/massG')}
          onChange={(massG) => onChange({ massG })}
        />
        {plan && <StepCautions step="making-up" cautions={plan.cautions} />}
      </section>
      <section className="card stack" aria-label={words.achieved} aria-busy={achieved.isBusy}>
        <h2>{words.achieved}</h2>
        {result ? (
          <Achieved result={result} accuracyPercent={draft.accuracyPercent} />
        ) : (
          <p className="quiet">{words.notWeighed}</p>
        )}
        {plan && <StepCautions step="after" cautions={plan.cautions} />}
      </section>
    </div>
  );
}

const NotYet = ({ evaluated }: { evaluated: Evaluated }) =>
  evaluated.refusal ? <LiveRefusal evaluated={evaluated} /> : <p className="quiet">{words.waiting}</p>;

function useBalanceDecimals(balanceId: string): number {
  const instruments = useInstruments();
  const balance = instruments.data?.items.find(({ id }) => id === balanceId);
  return balance?.resolutionG === undefined ? USUAL_DECIMALS : decimalsOf(balance.resolutionG);
}

interface ToWeighProps {
  plan: SolutionResult;
  balanceId: string;
  /** What was got says it all by itself. */
  isWeighed: boolean;
}

function ToWeigh({ plan, balanceId, isWeighed }: ToWeighProps) {
  const decimals = useBalanceDecimals(balanceId);
  const nodes = useMemo(() => ({ weigh: plan.explanation, expanded: explainExpanded(plan) }), [plan]);
  const { toWeigh } = plan;
  if (!toWeigh) return null;
  return (
    <Explained nodes={nodes}>
      <div className="concentration">
        <p className="concentration-label">{words.weigh}</p>
        <p className="concentration-value" role="status">
          <Opens name="weigh">
            <Quantity value={fixed(toWeigh.readingG, decimals)} unit="g" />
          </Opens>
        </p>
        <p className="quiet small">{words.weighHelp}</p>
      </div>
      <p>{leastWords(toWeigh)}</p>
      <p>
        <span className="quiet">{words.foreseen}</span>{' '}
        <Opens name="expanded">
          <span className="quantity">{resultWords(plan)}</span>
        </Opens>{' '}
        <span className="quiet small">{relativeWords(plan)}</span>
      </p>
      {!isWeighed && <ResultSays result={plan} accuracyPercent={undefined} />}
    </Explained>
  );
}

function leastWords({ minimumLoadG, aboveMinimum }: NonNullable<SolutionResult['toWeigh']>): string {
  if (minimumLoadG === null) return words.leastUnknown;
  const least = words.least(significant(minimumLoadG, 2));
  return `${least} ${aboveMinimum ? words.leastAbove : words.leastBelow}`;
}

function Achieved({ result, accuracyPercent }: { result: SolutionResult; accuracyPercent: string }) {
  return (
    <>
      <ExplainedConcentration result={result} />
      <ResultSays result={result} accuracyPercent={accuracyPercent} />
      <BudgetOpening result={result} />
    </>
  );
}
