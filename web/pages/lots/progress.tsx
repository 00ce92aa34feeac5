import type { LotListItem } from '../../../server/lots/contract.ts';
import { lotText } from '../../messages/en-lots.ts';

/** How much of a delivery is measured, as a bar; its label says the same in words. */
export function ProgressBar({ progress }: { progress: LotListItem['progress'] }) {
  const { vessels, measured, outOfUse } = progress;
  const left = Math.max(1, vessels - outOfUse);
  return (
    <progress
      className="lot-progress"
      max={left}
      value={measured}
      aria-label={lotText.progressLabel(measured, vessels)}
    />
  );
}
