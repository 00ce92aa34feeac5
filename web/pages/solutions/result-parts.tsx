import type { SolutionResult } from '../../../server/solutions/contract.ts';
import { resultText as words } from '../../messages/en-solutions.ts';
import { later } from '../../parts/later.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import { Opening } from '../../parts/result-checks.tsx';
import { significant } from '../../parts/rounding.ts';
import { Opens } from './explained.tsx';
import { relativeWords, uncertaintyWords, valueWords } from './result-words.ts';
import type { Evaluated } from './use-evaluated.ts';

const SolutionBudget = later(() =>
  import('./solution-budget.tsx').then((loaded) => ({ default: loaded.SolutionBudget })),
);

/** The concentration, large, with its uncertainty; both open. */
export function Concentration({ result, label }: { result: SolutionResult; label: string }) {
  const { unit, approximate, quotedAtC } = result;
  return (
    <div className="concentration">
      <p className="concentration-label">
        {label}
        {quotedAtC !== null && ` ${words.at(significant(quotedAtC, 3))}`}
      </p>
      <p className="concentration-value" role="status">
        {approximate && <span className="quiet">{words.about}</span>}
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
  return (
    <div className="stack tight">
      {meetsAccuracy !== null && accuracyPercent && (
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
          <h3>{words.findings}</h3>
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
