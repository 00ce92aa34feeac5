import { type ReactNode, useMemo } from 'react';
import { Link } from 'wouter';
import type { CalibrationSummary, VesselListItem } from '../../server/glassware/contract.ts';
import { text } from '../messages/en.ts';
import { vesselText } from '../messages/en-glassware.ts';
import { leadingPoint, stripOf } from '../summaries.ts';
import { KindMark } from './kind-mark.tsx';
import { ToleranceStrip } from './tolerance-strip.tsx';
import { VerdictMark } from './verdict.tsx';
import './vessel-rows.css';

/** One vessel a row: what it is, its latest strip, its verdict, where it stands. The whole row leads to the vessel. */
export function VesselRows({
  vessels,
  aside,
}: {
  vessels: readonly VesselListItem[];
  /** What else stands at the end of each row. */
  aside?: (vessel: VesselListItem) => ReactNode;
}) {
  return (
    <ul className="plain vessel-rows">
      {vessels.map((vessel) => (
        <li key={vessel.id} className="vessel-row">
          <KindMark kind={vessel.kind} />
          <div className="vessel-row-name">
            <Link href={`/glassware/${vessel.id}`}>{vessel.tag}</Link>
            <span className="vessel-row-what">
              {vesselText.what(vessel.nominalVolumeMl, text.words.vesselKinds[vessel.kind])}
              {' · '}
              {vessel.tolerance?.class && vessel.tolerance.class !== '-' ? `${vessel.tolerance.class} · ` : ''}
              {text.words.basesShort[vessel.basis]}
            </span>
          </div>
          <LatestStrip calibration={vessel.latest} />
          <div className="vessel-row-end">
            {vessel.inUse ? null : <span className="quiet small">{vesselText.outOfUse}</span>}
            <span className="quiet small">{vessel.location}</span>
            {aside?.(vessel)}
          </div>
        </li>
      ))}
    </ul>
  );
}

function LatestStrip({ calibration }: { calibration: CalibrationSummary | null }) {
  const point = calibration ? leadingPoint(calibration) : undefined;
  const data = useMemo(() => (point ? stripOf(point) : null), [point]);
  if (!calibration || !point || !data) return <p className="vessel-row-never quiet small">{vesselText.never}</p>;
  return (
    <>
      <div className="vessel-row-strip">
        <ToleranceStrip data={data} height={28} verdict={point.verdict} coverageFactor={point.coverageFactor} />
      </div>
      <div className="vessel-row-verdict">
        <VerdictMark verdict={calibration.verdict} />
        <span className="quiet small">
          {calibration.state === 'open' ? vesselText.inProgress : calibration.performedOn}
        </span>
      </div>
    </>
  );
}
