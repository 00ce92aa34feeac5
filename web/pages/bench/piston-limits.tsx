import type { Calibration, PointOnWire } from '../../../server/calibrations/contract.ts';
import { deliveryText } from '../../messages/en-delivery.ts';
import { significant } from '../../parts/rounding.ts';
import { VerdictMark } from '../../parts/verdict.tsx';
import { isAtPoint } from './record.ts';

const words = deliveryText;

/** Both limits of a piston pipette, and how this setting stands to each. */
export default function PistonLimits({ calibration, point }: { calibration: Calibration; point: PointOnWire }) {
  const { toleranceMl, biasMl, sdMl, randomError, verdict } = point;
  const foreseen = calibration.capability?.points.find((one) => isAtPoint(point.pointMl, one));
  const randomMl = randomError?.limitMl ?? foreseen?.randomLimitMl ?? null;
  return (
    <section className="side-part stack tight" aria-label={words.limits}>
      <h2>{words.limits}</h2>
      <dl className="facts">
        <dt>{words.systematic}</dt>
        <dd>
          {toleranceMl !== null && <Limit value={biasMl} limitMl={toleranceMl} />}
          {biasMl !== null && <VerdictMark verdict={randomError?.systematicVerdict ?? verdict} />}
        </dd>
        <dt>{words.random}</dt>
        <dd>
          {randomMl === null ? words.randomUnknown : <Limit value={sdMl} limitMl={randomMl} />}
          {randomError != null && <VerdictMark verdict={randomError.verdict} />}
        </dd>
      </dl>
      <p className="quiet small">{words.limitsHelp}</p>
    </section>
  );
}

function Limit({ value, limitMl }: { value: number | null; limitMl: number }) {
  const limit = String(limitMl);
  return (
    <span>{value === null ? words.limitAlone(limit) : words.ofLimit(significant(Math.abs(value), 2), limit)}</span>
  );
}
