import type { Calibration, PointOnWire } from '../../server/calibrations/contract.ts';
import { capabilityText, oneMoreText as words } from '../messages/en-uncertainty.ts';
import { budgetText } from '../messages/en-working.ts';
import { ForeseenLines, uWords } from './capability.tsx';
import { isPooledOverLot } from './foreseen.ts';
import { largestShares, moreWords } from './share-list.ts';
import { Share } from './share.tsx';
import './uncertainty.css';

interface DecidesProps {
  calibration: Calibration;
  point: PointOnWire;
}

/** Beside the work: before the first trial what the set-up can decide, then what carries U and what one more would bring. */
export default function Decides({ calibration, point }: DecidesProps) {
  const index = calibration.points.findIndex(({ pointMl }) => pointMl === point.pointMl);
  const foreseen = calibration.capability?.points.find(({ pointMl }) => Number(pointMl) === Number(point.pointMl));
  if (point.n === 0)
    return foreseen ? (
      <section className="side-part stack tight decides">
        <h2>{capabilityText.title}</h2>
        <ForeseenLines
          point={foreseen}
          rule={calibration.decisionRule}
          pooledFrom={calibration.pool?.from.length}
          isOverLot={isPooledOverLot(calibration)}
        />
      </section>
    ) : null;
  if (point.expandedUncertaintyMl === null) return null;
  const more = calibration.oneMore[index] ?? null;
  const isFinal = point.n >= calibration.plannedTrials;
  return (
    <section className="side-part stack tight decides">
      <h2>{words.title}</h2>
      <table className="shares">
        <caption className="quiet small">{words.largest}</caption>
        <tbody>
          {largestShares(point).map(({ component, share }) => (
            <tr key={component}>
              <th scope="row">{budgetText.components[component] ?? component}</th>
              <td>
                <Share share={share} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {more && !isFinal && <p>{moreWords(point.expandedUncertaintyMl, more)}</p>}
      {more && !isFinal && more.plannedTrials > more.trials && (
        <p className="quiet">{words.planned(more.plannedTrials, uWords(more.plannedUncertaintyMl))}</p>
      )}
      <p className="quiet">{isFinal ? words.isFinal : words.finalAt(calibration.plannedTrials)}</p>
    </section>
  );
}
