import { Link } from 'wouter';
import type { VesselKind } from '../../server/metrology/record.ts';
import { text } from '../messages/en.ts';
import { vesselText } from '../messages/en-glassware.ts';
import { benchRoomText } from '../messages/en-bench.ts';
import type { CalibrationListItem } from '../queries.ts';
import { KindMark } from './kind-mark.tsx';
import { age } from './time.ts';
import './open-calibrations.css';

interface OpenCalibrationsProps {
  items: readonly CalibrationListItem[];
  nowMs: number;
}

/** Calibrations to go on with, large enough for a wet finger. */
export function OpenCalibrations({ items, nowMs }: OpenCalibrationsProps) {
  return (
    <ul className="plain open-list">
      {items.map((item) => (
        <li key={item.id}>
          <Link href={`/bench/${item.id}`} className="open-item">
            <KindMark kind={item.kind as VesselKind} />
            <span className="open-item-name">
              <strong>{item.tag}</strong>
              <span className="quiet small">
                {vesselText.what(item.nominalVolumeMl, text.words.vesselKinds[item.kind as VesselKind])}
              </span>
            </span>
            <span className="open-item-end">
              <span>{benchRoomText.openProgress(item.trialsRecorded, item.trialsPlanned)}</span>
              <span className="quiet small">{benchRoomText.begun(age(item.recordedAt, nowMs))}</span>
            </span>
          </Link>
        </li>
      ))}
    </ul>
  );
}
