import { Suspense } from 'react';
import { Link } from 'wouter';
import type { Formula, ReferenceBook } from '../../../server/reference/contract.ts';
import { referenceText } from '../../messages/en-reference.ts';
import { Loading } from '../../parts/loading.tsx';
import { CALCULATIONS } from './calculations.ts';
import { Calculator } from './calculator.tsx';
import { SymbolText } from './equation.tsx';
import { SpreadCalculator, VerdictCalculator } from './judging.tsx';
import { FORMULA_PLOTS } from './plots-of-formulas.ts';
import { later } from '../../parts/later.tsx';

const words = referenceText.formulas;
// Quantiles are heavy; they come only when somebody unfolds a formula that needs them.
const UncertaintyCalculator = later(() => import('./uncertainty-calculator.tsx'));
const UNCERTAINTY_IDS = new Set([
  'repeatability',
  'degrees-of-freedom',
  'expanded-uncertainty',
  'probability-of-conformity',
  'suspected-outlier',
]);

type Sources = ReferenceBook['sources'];

/** What stands behind one formula, and the formula to try. */
export function FormulaDetails({ formula, sources }: { formula: Formula; sources: Sources }) {
  return (
    <div className="formula-body">
      <div className="stack">
        <p className="measure">{formula.meaning}</p>
        <Letters formula={formula} />
        {formula.constants.length > 0 && <Constants constants={formula.constants} sources={sources} />}
        <dl className="facts">
          <dt>{words.range}</dt>
          <dd>{formula.range}</dd>
          <dt>{words.source}</dt>
          <dd>
            <SourceName of={formula.source} sources={sources} /> <span className="quiet">{formula.locator}</span>
          </dd>
          <dt>{words.version}</dt>
          <dd>{formula.version}</dd>
        </dl>
      </div>
      <TryIt id={formula.id} />
    </div>
  );
}

function TryIt({ id }: { id: string }) {
  if (id === 'verdict') return <VerdictCalculator />;
  if (id === 'mean-and-spread') return <SpreadCalculator />;
  if (UNCERTAINTY_IDS.has(id))
    return (
      <Suspense fallback={<Loading what={words.tryIt} />}>
        <UncertaintyCalculator id={id} />
      </Suspense>
    );
  const calculation = CALCULATIONS[id];
  if (!calculation) return null;
  const plotOf = FORMULA_PLOTS[id];
  return <Calculator id={id} calculation={calculation} {...(plotOf ? { plotOf } : {})} />;
}

function Letters({ formula }: { formula: Formula }) {
  return (
    <table className="table letters">
      <caption>{words.symbols}</caption>
      <thead className="unseen">
        <tr>
          <th scope="col">{words.symbol}</th>
          <th scope="col">{words.meaning}</th>
          <th scope="col">{words.unit}</th>
        </tr>
      </thead>
      <tbody>
        {formula.symbols.map((letter) => (
          <tr key={letter.symbol}>
            <th scope="row">
              <SymbolText of={letter.symbol} />
            </th>
            <td>{letter.meaning}</td>
            <td className="quiet">{letter.unit === '1' ? words.noUnit : letter.unit}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Constants({ constants, sources }: { constants: Formula['constants']; sources: Sources }) {
  const origins = [...new Map(constants.map((one) => [`${one.source} ${one.locator}`, one])).values()];
  return (
    <details className="constants" open={constants.length <= 5}>
      <summary>{words.constants(constants.length)}</summary>
      <table className="table letters">
        <thead className="unseen">
          <tr>
            <th scope="col">{words.symbol}</th>
            <th scope="col">{words.value}</th>
            <th scope="col">{words.unit}</th>
          </tr>
        </thead>
        <tbody>
          {constants.map((one) => (
            <tr key={one.symbol}>
              <th scope="row">
                <SymbolText of={one.symbol} />
              </th>
              <td>{numeral(one.value)}</td>
              <td className="quiet">{one.unit === '1' ? words.noUnit : one.unit}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="small quiet">
        {words.from}{' '}
        {origins.map((one, index) => (
          <span key={one.locator}>
            {index > 0 && '; '}
            <SourceName of={one.source} sources={sources} />, {one.locator}
          </span>
        ))}
      </p>
    </details>
  );
}

const RAISED: Record<string, string> = {
  '-': '⁻',
  0: '⁰',
  1: '¹',
  2: '²',
  3: '³',
  4: '⁴',
  5: '⁵',
  6: '⁶',
  7: '⁷',
  8: '⁸',
  9: '⁹',
};

/** The digits of a constant as they are, with a power of ten where it is small. */
export const numeral = (value: number): string => {
  const [digits = '', exponent] = value.toString().split('e');
  const isPlain = value === 0 || (exponent === undefined && Math.abs(value) >= 1e-4);
  if (isPlain) return digits.replace('-', '−');
  const [mantissa = '', power = ''] = value.toExponential().split('e');
  const raised = power
    .replace('+', '')
    .split('')
    .map((sign) => RAISED[sign] ?? sign)
    .join('');
  return `${mantissa.replace('-', '−')} · 10${raised}`;
};

/** A published work by its short name, as a way to its full entry. */
export function SourceName({ of, sources }: { of: string; sources: Sources }) {
  const work = sources.find((one) => one.key === of);
  if (!work) return <>{words.commonPractice}</>;
  return <Link href={`/sources#${work.key}`}>{work.place}</Link>;
}
