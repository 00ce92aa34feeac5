import type { SolutionResult } from '../../../server/solutions/contract.ts';
import { resultText as words } from '../../messages/en-solutions.ts';
import { pointBudgetText } from '../../messages/en-uncertainty.ts';
import { budgetText } from '../../messages/en-working.ts';
import { compact, unitWords, withUnit } from '../../parts/explained-number.ts';
import { fixed, significant } from '../../parts/rounding.ts';
import { Share } from '../../parts/share.tsx';
import '../../parts/uncertainty.css';

type Line = SolutionResult['budget'][number];

const SMALL = 1e-5;
const VALUE_DIGITS = 6;

/** Two significant digits; a power of ten where it is very small. */
const spreadWords = (value: number): string =>
  value !== 0 && Math.abs(value) < SMALL ? compact(value, 2) : significant(value, 2);

/** Every component of a concentration, the largest first, none hidden; what was assumed says so. */
export default function SolutionBudget({ result }: { result: Pick<SolutionResult, 'budget' | 'unit'> }) {
  const { budget, unit } = result;
  const lines = [...budget].sort((one, other) => other.share - one.share);
  const columns = [budgetText.share, `${pointBudgetText.standard}·c ${unit}`, pointBudgetText.value];
  return (
    <div className="table-box" role="region" aria-label={words.budgetCaption(unit)} tabIndex={0}>
      <table className="table budget">
        <caption className="unseen">{words.budgetCaption(unit)}</caption>
        <thead>
          <tr>
            <th scope="col">{pointBudgetText.componentAndSource}</th>
            {[...columns, pointBudgetText.standard].map((column) => (
              <th key={column} scope="col" className="number">
                {column}
              </th>
            ))}
            <th scope="col">{pointBudgetText.distribution}</th>
            <th scope="col" className="number">
              ν
            </th>
            <th scope="col" className="number">
              {pointBudgetText.sensitivity}
            </th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <Row key={line.key} line={line} resultUnit={unit} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Row({ line, resultUnit }: { line: Line; resultUnit: string }) {
  const { label, source, standardUncertainty, degreesOfFreedom, unit } = line;
  return (
    <tr className={line.contribution === 0 ? 'budget-nothing' : undefined}>
      <th scope="row">
        {label}
        <span className="budget-source">
          {source === label ? '' : source}
          {line.assumed && <strong className="budget-assumed">{budgetText.assumed}</strong>}
        </span>
      </th>
      <td className="number">
        <Share share={line.share} />
      </td>
      <td className="number">{spreadWords(Math.abs(line.contribution))}</td>
      <td className="number">{withUnit(compact(line.value, VALUE_DIGITS), unit)}</td>
      <td className="number">{standardUncertainty === 0 ? '0' : withUnit(spreadWords(standardUncertainty), unit)}</td>
      <td>{pointBudgetText.distributions[line.distribution] ?? line.distribution}</td>
      <td className="number">{degreesOfFreedom === null ? '∞' : fixed(degreesOfFreedom, 0)}</td>
      <td className="number">
        {compact(line.sensitivity, 3)} {unitWords(unit) === '' ? resultUnit : `${resultUnit}/(${unitWords(unit)})`}
      </td>
    </tr>
  );
}
