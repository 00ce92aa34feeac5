import type { Calibration, PointOnWire } from '../../server/calibrations/contract.ts';
import { pointBudgetText as words, ruleText } from '../messages/en-uncertainty.ts';
import { text } from '../messages/en.ts';
import { budgetText } from '../messages/en-working.ts';
import { percentWords, tWords, uWords } from './capability.tsx';
import { compact, probabilityWords, unitWords, withUnit } from './explained-number.ts';
import { isAboveThird, isPooledOverLot } from './foreseen.ts';
import { Figure } from './quantity.tsx';
import { decimalsForUncertainty, fixed, significant } from './rounding.ts';
import { Share } from './share.tsx';
import { Unfold } from './unfold.tsx';
import { UnfoldingOf } from './unfolding.tsx';
import { VerdictMark } from './verdict.tsx';
import './uncertainty.css';

type Line = PointOnWire['budget'][number];

interface BudgetTableProps {
  pointMl: string;
  lines: readonly Line[];
  combinedMl: number;
}

/** Every component in the order it is listed, none hidden; what was assumed says so. */
export function BudgetTable({ pointMl, lines, combinedMl }: BudgetTableProps) {
  return (
    <div className="table-box" role="region" aria-label={words.caption(pointMl)} tabIndex={0}>
      <table className="table budget">
        <caption className="unseen">{words.caption(pointMl)}</caption>
        <thead>
          <tr>
            <th scope="col">{words.componentAndSource}</th>
            <th scope="col" className="number">
              {budgetText.share}
            </th>
            <th scope="col" className="number">
              {budgetText.contribution}
            </th>
            <th scope="col" className="number">
              {words.value}
            </th>
            <th scope="col" className="number">
              {words.standard}
            </th>
            <th scope="col">{words.distribution}</th>
            <th scope="col" className="number">
              ν
            </th>
            <th scope="col" className="number">
              {words.sensitivity}
            </th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <BudgetRow key={line.component} line={line} combinedMl={combinedMl} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

function BudgetRow({ line, combinedMl }: { line: Line; combinedMl: number }) {
  const { component, value, unit, standardUncertainty, degreesOfFreedom, contributionMl } = line;
  const componentWords = budgetText.components[component] ?? component;
  return (
    <tr className={contributionMl === 0 ? 'budget-nothing' : undefined}>
      <th scope="row">
        {componentWords}
        <span className="budget-source">
          {line.source === componentWords ? '' : line.source}
          {line.assumed && <strong className="budget-assumed">{budgetText.assumed}</strong>}
        </span>
      </th>
      <td className="number">
        <Share share={combinedMl === 0 ? 0 : (contributionMl / combinedMl) ** 2} />
      </td>
      <td className="number">{uncertaintyWords(contributionMl)}</td>
      <td className="number">{value === null ? '' : withUnit(compact(value, 6), unit)}</td>
      <td className="number">
        {standardUncertainty === 0 ? '0' : withUnit(uncertaintyWords(standardUncertainty), unit)}
      </td>
      <td>{words.distributions[line.distribution] ?? line.distribution}</td>
      <td className="number">{degreesOfFreedom === null ? '∞' : fixed(degreesOfFreedom, 0)}</td>
      <td className="number">{withUnit(compact(line.sensitivity, 3), sensitivityUnit(unit))}</td>
    </tr>
  );
}

const sensitivityUnit = (unit: string): string => unitWords(`mL/(${unit})`);
/** Two significant digits; a power of ten where it is very small. */
const uncertaintyWords = (value: number): string =>
  value !== 0 && value < 1e-5 ? compact(value, 2) : significant(value, 2);

type Judged = PointOnWire & { combinedUncertaintyMl: number; expandedUncertaintyMl: number; coverageFactor: number };
const isJudged = (point: PointOnWire): point is Judged =>
  point.combinedUncertaintyMl !== null && point.expandedUncertaintyMl !== null && point.coverageFactor !== null;

interface PointBudgetProps {
  calibration: Calibration;
  point: PointOnWire;
}

/** The whole uncertainty of one point: components, sum, what U means, how it judges. */
export default function PointBudget({ calibration, point }: PointBudgetProps) {
  if (!isJudged(point)) return null;
  return (
    <div className="stack">
      <BudgetTable pointMl={point.pointMl} lines={point.budget} combinedMl={point.combinedUncertaintyMl} />
      <UnfoldingOf calibrationId={calibration.id} version={calibration.version}>
        <Sum calibration={calibration} point={point} />
        <Judging calibration={calibration} point={point} />
      </UnfoldingOf>
    </div>
  );
}

interface JudgedProps {
  calibration: Calibration;
  point: Judged;
}

function Sum({ calibration, point }: JudgedProps) {
  const { pointMl, coverageFactor, coverageProbability, effectiveDegreesOfFreedom, singleUseUncertaintyMl } = point;
  return (
    <>
      <dl className="figures budget-sum">
        <Figure
          label={words.combined}
          value={significant(point.combinedUncertaintyMl, 2)}
          unit="mL"
          of={{ pointMl, number: 'combinedUncertainty' }}
        />
        <Figure
          label={words.freedom}
          value={effectiveDegreesOfFreedom === null ? '∞' : fixed(effectiveDegreesOfFreedom, 1)}
        />
        <Figure
          label={words.factor(fixed(100 * Number(coverageProbability), coverageProbability.length > 4 ? 2 : 0))}
          value={fixed(coverageFactor, 2)}
          of={{ pointMl, number: 'coverageFactor' }}
        />
        <Figure
          label={words.expanded}
          value={uWords(point.expandedUncertaintyMl)}
          unit="mL"
          of={{ pointMl, number: 'expandedUncertainty' }}
        />
      </dl>
      <p className="measure">
        {words.ofTheMean} {singleUseUncertaintyMl !== null && words.ofOneUse(significant(singleUseUncertaintyMl, 2))}
      </p>
      {calibration.pool && (
        <p className="quiet">
          {(isPooledOverLot(calibration) ? words.poolOverLot : words.pool)(
            fixed(calibration.pool.sdMl, decimalsForUncertainty(calibration.pool.sdMl)),
            calibration.pool.degreesOfFreedom,
            calibration.pool.from.length,
          )}
        </p>
      )}
    </>
  );
}

function Judging({ calibration, point }: JudgedProps) {
  const { pointMl, toleranceMl, probabilityOfConformity, meetsClass, expandedUncertaintyMl } = point;
  if (toleranceMl === null) return <p className="quiet">{words.noTolerance}</p>;
  const ratio = expandedUncertaintyMl / toleranceMl;
  return (
    <dl className="facts budget-judging">
      <dt>{words.verdict}</dt>
      <dd>
        <VerdictMark verdict={point.verdict} {...(calibration.final ? {} : { aside: text.strip.soFar })} />
        {meetsClass !== null && <span className="quiet"> {words.meets(meetsClass)}</span>}
      </dd>
      <dt>{words.ratio}</dt>
      <dd>
        {words.ratioIs(percentWords(ratio), uWords(expandedUncertaintyMl), tWords(toleranceMl))}{' '}
        {isAboveThird(ratio) && <strong>{words.aboveThird}</strong>}
      </dd>
      {probabilityOfConformity !== null && (
        <>
          <dt>{words.conformity}</dt>
          <dd>
            <Unfold of={{ pointMl, number: 'probabilityOfConformity' }}>
              {probabilityWords(probabilityOfConformity)}
            </Unfold>
            <span className="quiet"> {words.conformityIs}</span>
          </dd>
        </>
      )}
      <dt>{words.rule}</dt>
      <dd>
        {ruleText[calibration.decisionRule].name}. {ruleText[calibration.decisionRule].risk}
      </dd>
      {calibration.difference && <Difference difference={calibration.difference} />}
    </dl>
  );
}

function Difference({ difference }: { difference: NonNullable<Calibration['difference']> }) {
  const decimals = decimalsForUncertainty(difference.expandedUncertaintyMl);
  return (
    <>
      <dt>{words.difference}</dt>
      <dd>
        {words.differenceIs(fixed(difference.valueMl, decimals), fixed(difference.expandedUncertaintyMl, decimals))}{' '}
        <VerdictMark verdict={difference.verdict} />
      </dd>
    </>
  );
}
