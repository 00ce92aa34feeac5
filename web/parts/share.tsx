import { budgetText } from '../messages/en-working.ts';
import { fixed } from './rounding.ts';
import './share.css';

const BAR_WIDTH = 100;

/** A share of the variance, 0 to 1, as number and as bar. */
export function Share({ share }: { share: number }) {
  return (
    <span className="share">
      <svg viewBox={`0 0 ${BAR_WIDTH} 8`} preserveAspectRatio="none" aria-hidden="true">
        <rect className="share-ground" width={BAR_WIDTH} height="8" />
        <rect className="share-bar" width={BAR_WIDTH * share} height="8" />
      </svg>
      <span className="share-number">{share > 0 && share < 0.005 ? budgetText.hardly : fixed(100 * share, 0)}</span> %
    </span>
  );
}
