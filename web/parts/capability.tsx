import type { CapabilityOnWire } from '../../server/calibrations/contract.ts';
import type { DecisionRule } from '../../server/metrology/record.ts';
import { capabilityText } from '../messages/en-uncertainty.ts';
import { budgetText } from '../messages/en-working.ts';
import { emptyStrip, type ForeseenPoint, type Help, helpsFor, isAboveThird } from './foreseen.ts';
import { decimalsForTolerance, decimalsForUncertainty, fixed, significant } from './rounding.ts';
import { ToleranceStrip } from './tolerance-strip.tsx';
import { VerdictMark } from './verdict.tsx';

const words = capabilityText;
export const uWords = (uncertaintyMl: number): string => significant(uncertaintyMl, 2);
export const tWords = (toleranceMl: number): string => fixed(toleranceMl, decimalsForTolerance(toleranceMl));
export const percentWords = (share: number): string => fixed(100 * share, 0);

/** `U ≈ 0.007 mL of T 0.100 mL`. */
export const foreseenWords = ({ expandedUncertaintyMl, toleranceMl }: ForeseenPoint): string =>
  toleranceMl === null
    ? words.foreseenAlone(uWords(expandedUncertaintyMl))
    : words.foreseen(uWords(expandedUncertaintyMl), tWords(toleranceMl));

/** What it means, in one or two sentences. */
export function decisionWords(point: ForeseenPoint, rule: DecisionRule): string {
  const { toleranceMl, expandedUncertaintyMl, ratio, plannedTrials, passPossibleWithinMl } = point;
  if (toleranceMl === null || ratio === null) return words.noTolerance;
  if (!point.decidableAtZeroError)
    return plannedTrials === 1 && ratio < 1
      ? words.cannotWithOne
      : ratio < 1 && point.randomLimitMl !== null
        ? words.cannotRandom(String(point.randomLimitMl))
        : words.cannot(uWords(expandedUncertaintyMl), tWords(toleranceMl));
  const can =
    rule === 'simple' && !isAboveThird(ratio)
      ? words.passSimple
      : words.passWithin(fixed(passPossibleWithinMl ?? 0, decimalsForUncertainty(expandedUncertaintyMl)));
  return isAboveThird(ratio) ? `${can} ${words.aboveThird(percentWords(ratio))}` : can;
}

interface LinesProps {
  point: ForeseenPoint;
  rule: DecisionRule;
  /** Calibrations a pooled spread comes from, where that is known. */
  pooledFrom?: number | undefined;
  /** They are those of the other vessels of the lot. */
  isOverLot?: boolean;
}

/** Which spread of a single trial was reckoned with. */
function spreadWords({ point, pooledFrom, isOverLot = false }: LinesProps): string {
  const { kind, sdMl, degreesOfFreedom } = point.repeatability;
  const spread = fixed(sdMl, decimalsForUncertainty(sdMl));
  if (kind !== 'pooled') return words.predictedFrom(spread);
  if (pooledFrom === undefined) return words.pooledFrom(spread, degreesOfFreedom);
  const from = isOverLot ? words.pooledOverLot : words.pooledFromMany;
  return from(spread, degreesOfFreedom, pooledFrom);
}

/** The empty strip with what U would take away from it. */
export function ForeseenStrip({ point }: { point: ForeseenPoint }) {
  const { toleranceMl, expandedUncertaintyMl, passPossibleWithinMl } = point;
  if (toleranceMl === null) return null;
  const u = uWords(expandedUncertaintyMl);
  const t = tWords(toleranceMl);
  return (
    <figure className="foreseen-strip">
      <ToleranceStrip data={emptyStrip(point)} height={96} verdict={null} />
      <figcaption className="quiet small">
        <span className="unseen">
          {passPossibleWithinMl === null || passPossibleWithinMl <= 0
            ? words.stripLabelAll(u, t)
            : words.stripLabel(u, t, fixed(passPossibleWithinMl, decimalsForUncertainty(expandedUncertaintyMl)))}
        </span>
        <span aria-hidden="true">
          {passPossibleWithinMl === null || passPossibleWithinMl <= 0 ? words.eatenAll : words.eaten}
        </span>
      </figcaption>
    </figure>
  );
}

/** U of T, what it means, the largest component, the fewest trials that would do. */
export function ForeseenLines(props: LinesProps) {
  const { point, rule } = props;
  const cannot = point.decidableAtZeroError === false;
  return (
    <div className="stack tight">
      <p className="foreseen-u">
        <strong>{foreseenWords(point)}</strong>
        {point.ratio !== null && <span className="quiet"> {words.ratio(percentWords(point.ratio))}</span>}
      </p>
      <p>
        {cannot && <VerdictMark verdict="not-decidable" />} {decisionWords(point, rule)}
      </p>
      {point.findings
        .filter(({ code }) => code === 'balance-too-coarse')
        .map(({ detail }) => (
          <p key={detail}>{detail}</p>
        ))}
      <p className="quiet">{largestWords(point)}</p>
      <p className="quiet">{spreadWords(props)}</p>
      {point.toleranceMl !== null && <p className="quiet">{fewestWords(point).join(' · ')}</p>}
    </div>
  );
}

const componentWords = (component: string): string => budgetText.components[component] ?? component;
const largestWords = ({ largestComponent, largestShare }: ForeseenPoint): string =>
  words.largest(componentWords(largestComponent), percentWords(largestShare));
const fewestWords = ({ trialsForThird, trialsForDecision }: ForeseenPoint): string[] => [
  trialsForDecision === null ? words.noneForDecision : words.trialsForDecision(trialsForDecision),
  trialsForThird === null ? words.noneForThird : words.trialsForThird(trialsForThird),
];

/** Every balance of the register tried in place of the chosen one. */
export function BalancesTried({ point, balanceId }: { point: ForeseenPoint; balanceId: string }) {
  if (point.balances.length === 0 || point.toleranceMl === null) return null;
  return (
    <section className="stack tight">
      <h3>{words.balances}</h3>
      <ul className="plain tried">
        {point.balances.map(({ id, tag, expandedUncertaintyMl, does }) => (
          <li key={id} data-does={does}>
            <span className="tried-tag">{tag}</span>
            <span>{words.foreseenAlone(uWords(expandedUncertaintyMl))}</span>
            <span>
              <BeadMark isFilled={does} /> {does ? words.would : words.wouldNot}
              {id === balanceId && <span className="quiet"> · {words.chosen}</span>}
            </span>
          </li>
        ))}
      </ul>
      <p className="quiet small">{words.balancesWhat}</p>
    </section>
  );
}

function BeadMark({ isFilled }: { isFilled: boolean }) {
  return (
    <svg className="bead" viewBox="0 0 12 12" aria-hidden="true">
      <circle cx="6" cy="6" r="4" className={isFilled ? 'bead-filled' : 'bead-hollow'} />
    </svg>
  );
}

const helpWords = (help: Help): string => {
  if (help.help === 'trials') return words.helps.trials(help.count);
  if (help.help === 'balance') return words.helps.balance(help.tag, uWords(help.expandedUncertaintyMl));
  return words.helps[help.help];
};

/** What would let it be decided; only where it cannot. */
export function Helps({ point, balanceId }: { point: ForeseenPoint; balanceId: string }) {
  return (
    <section className="stack tight">
      <h3>{words.helpsTitle}</h3>
      <ul>
        {helpsFor(point, balanceId).map((help) => (
          <li key={help.help}>{helpWords(help)}</li>
        ))}
      </ul>
    </section>
  );
}

/** Several points at once, each with its own U and the fewest trials. */
export function ForeseenTable({ capability }: { capability: CapabilityOnWire }) {
  const count = (found: number | null) => (found === null ? words.notWithin : String(found));
  return (
    <div className="table-box" role="region" aria-label={words.points} tabIndex={0}>
      <table className="table foreseen-table">
        <caption>{words.points}</caption>
        <thead>
          <tr>
            <th scope="col" className="number">
              {words.point}
            </th>
            <th scope="col" className="number">
              {words.uncertainty}
            </th>
            <th scope="col" className="number">
              {words.share}
            </th>
            <th scope="col" className="number">
              {words.decision}
            </th>
            <th scope="col" className="number">
              {words.third}
            </th>
            <th scope="col">{words.largestColumn}</th>
          </tr>
        </thead>
        <tbody>
          {capability.points.map((point) => (
            <tr key={point.pointMl}>
              <th scope="row" className="number">
                {point.pointMl}
              </th>
              <td className="number">{uWords(point.expandedUncertaintyMl)}</td>
              <td className="number">{point.ratio === null ? '–' : `${percentWords(point.ratio)} %`}</td>
              <td className="number">{point.toleranceMl === null ? '–' : count(point.trialsForDecision)}</td>
              <td className="number">{point.toleranceMl === null ? '–' : count(point.trialsForThird)}</td>
              <td>{componentWords(point.largestComponent)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
