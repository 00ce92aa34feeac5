import type { PointOnWire } from '../../../server/calibrations/contract.ts';
import { budgetText } from '../../messages/en-working.ts';
import { fixed, significant } from '../../parts/rounding.ts';

const words = budgetText;
const BAR_WIDTH = 100;

/** Every component of the uncertainty with its share, the largest first; what was assumed says so. */
export default function Budget({ point }: { point: PointOnWire }) {
  const { combinedUncertaintyMl, coverageFactor, expandedUncertaintyMl } = point;
  if (combinedUncertaintyMl === null || coverageFactor === null || expandedUncertaintyMl === null) return null;
  const share = (contributionMl: number) => (contributionMl / combinedUncertaintyMl) ** 2;
  const lines = [...point.budget].sort((a, b) => share(b.contributionMl) - share(a.contributionMl));
  return (
    <div className="stack tight">
      <div className="table-box" role="region" aria-label={words.open} tabIndex={0}>
        <table className="table budget">
          <caption className="unseen">{words.caption(point.pointMl)}</caption>
          <thead>
            <tr>
              <th scope="col">{words.component}</th>
              <th scope="col" className="number">
                {words.share}
              </th>
              <th scope="col" className="number">
                {words.contribution}
              </th>
              <th scope="col">{words.source}</th>
            </tr>
          </thead>
          <tbody>
            {lines.map((line) => (
              <tr key={line.component} className={line.contributionMl === 0 ? 'quiet' : undefined}>
                <th scope="row">{words.components[line.component] ?? line.component}</th>
                <td className="number">
                  <Share share={share(line.contributionMl)} />
                </td>
                <td className="number">{significant(line.contributionMl, 2)}</td>
                <td>
                  {line.source}
                  {line.assumed && <strong className="budget-assumed">{words.assumed}</strong>}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p className="quiet">
        {words.sum(
          significant(combinedUncertaintyMl, 2),
          fixed(coverageFactor, 2),
          significant(expandedUncertaintyMl, 2),
        )}
      </p>
    </div>
  );
}

function Share({ share }: { share: number }) {
  return (
    <span className="share">
      <svg viewBox={`0 0 ${BAR_WIDTH} 8`} preserveAspectRatio="none" aria-hidden="true">
        <rect className="share-ground" width={BAR_WIDTH} height="8" />
        <rect className="share-bar" width={BAR_WIDTH * share} height="8" />
      </svg>
      <span className="share-number">{share > 0 && share < 0.005 ? words.hardly : fixed(100 * share, 0)}</span> %
    </span>
  );
}
