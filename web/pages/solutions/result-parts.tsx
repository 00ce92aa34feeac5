import { type ReactNode, useMemo } from 'react';
import type { SolutionResult } from '../../../server/solutions/contract.ts';
import { resultText as words } from '../../messages/en-solutions.ts';
import { later } from '../../parts/later.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import { Opening } from '../../parts/result-checks.tsx';
import { Explained, Opens } from './explained.tsx';
import { explainExpanded, relativeWords, uncertaintyWords, valueWords } from './result-words.ts';
import { StepCautions } from './step-cautions.tsx';
import type { Evaluated } from './use-evaluated.ts';

const SolutionBudget = later(() => import('./solution-budget.tsx'));

/** The concentration, large, with its uncertainty; both open. */
function Concentration({ result }: { result: SolutionResult }) {
  const { unit, approximate, quotedAtC } = result;
  return (
    <div className="concentration">
      <p className="concentration-label">
        {words.concentration}
        {quotedAtC !== null && ` ${words.at(String(quotedAtC))}`}
      </p>
      <p className="concentration-value" role="status">
        {approximate && <span className="concentration-about">{words.about}</span>}
        <Opens name="value">
          <Quantity value={valueWords(result)} unit={unit} />
        </Opens>{' '}
        <span className="concentration-u">
          <Opens name="expanded">
            <Quantity value={words.plusMinus(uncertaintyWords(result))} unit={unit} />
          </Opens>
        </span>
      </p>
      <p className="quiet small">{relativeWords(result)}</p>
    </div>
  );
}

/** The same with the way to both numbers. */
export function ExplainedConcentration({ result }: { result: SolutionResult }) {
  const nodes = useMemo(() => ({ value: result.explanation, expanded: explainExpanded(result) }), [result]);
  return (
    <Explained nodes={nodes}>
      <Concentration result={result} />
    </Explained>
  );
}

/** What is said about a result: approximate or not, the accuracy wanted, everything worth knowing. */
export function ResultSays({
  result,
  accuracyPercent,
}: {
  result: SolutionResult;
  accuracyPercent: string | undefined;
}) {
  const { meetsAccuracy, approximate } = result;
  const told = result.findings.filter(({ code }) => code !== 'accuracy-not-met' && code !== 'approximate');
  const isJudged = meetsAccuracy !== null && accuracyPercent !== undefined && accuracyPercent.trim() !== '';
  if (!isJudged && !approximate && told.length === 0) return null;
  return (
    <div className="stack tight">
      {isJudged && (
        <p>
          <strong className={meetsAccuracy ? 'verdict-pass' : 'verdict-fail'}>
            {meetsAccuracy ? words.meets(accuracyPercent) : words.meetsNot(accuracyPercent)}
          </strong>
        </p>
      )}
      {approximate && (
        <p>
          <strong>{words.approximate}</strong>
        </p>
      )}
      {told.length > 0 && (
        <>
          <p className="quiet small">{words.findings}</p>
          <ul className="solution-findings">
            {told.map(({ code, detail }) => (
              <li key={code + detail}>{detail}</li>
            ))}
          </ul>
        </>
      )}
    </div>
  );
}

export function BudgetOpening({ result }: { result: SolutionResult }) {
  return (
    <Opening title={words.budget}>
      <SolutionBudget result={result} />
    </Opening>
  );
}

/** Why nothing can be worked out yet, where no field on the page shows it. */
export function LiveRefusal({ evaluated }: { evaluated: Evaluated }) {
  const { refusal } = evaluated;
  if (!refusal) return null;
  const lines = refusal.fields.length > 0 ? refusal.fields.map(({ detail }) => detail) : [refusal.detail];
  return (
    <div className="notice">
      <p>{words.refused}</p>
      <ul>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </div>
  );
}

interface LiveResultProps {
  evaluated: Evaluated;
  title: string;
  /** What is still to be typed. */
  waiting: string;
  accuracyPercent: string;
  /** Between the concentration and what is said about it. */
  children?: ReactNode;
}

/** What a form comes to while it is filled in, with all that is said about it. */
export function LiveResult({ evaluated, title, waiting, accuracyPercent, children }: LiveResultProps) {
  const { result } = evaluated;
  return (
    <section className="card stack" aria-label={title} aria-busy={evaluated.isBusy}>
      <h2>{title}</h2>
      {result ? (
        <>
          <ExplainedConcentration result={result} />
          {children}
          <ResultSays result={result} accuracyPercent={accuracyPercent} />
          <BudgetOpening result={result} />
          <StepCautions step="making-up" cautions={result.cautions} />
          <StepCautions step="after" cautions={result.cautions} />
        </>
      ) : (
        <>
          <LiveRefusal evaluated={evaluated} />
          {!evaluated.refusal && <p className="quiet">{waiting}</p>}
        </>
      )}
    </section>
  );
}
