import { gridText } from '../../messages/en-lots.ts';
import { decimalsOf, fixed } from '../../parts/rounding.ts';
import { Quantity } from '../../parts/quantity.tsx';
import { StateMark } from '../bench/state-mark.tsx';
import type { Slot } from './grid-rows.ts';

const words = gridText;

/** Below the filled reading of a trial: its volume, and where it stands. */
export function SlotEnd({ slot, volumeMl }: { slot: Slot; volumeMl: number | null }) {
  const { saved, entry } = slot;
  if (saved === null && (entry === null || entry.state === 'typed')) return null;
  const filledG = saved?.filledG ?? entry?.body?.filledG ?? '';
  return (
    <span className={`slot-end${saved?.excluded ? ' slot-excluded' : ''}`}>
      {volumeMl !== null && (
        <span className="slot-volume">
          {fixed(volumeMl, Math.min(3, decimalsOf(filledG)))} <span className="quiet">{words.volume}</span>
        </span>
      )}
      <StateMark state={saved ? 'saved' : (entry?.state ?? 'typed')} />
    </span>
  );
}

/** Below the empty reading: the water the trial was weighed with, and whether it was read for it. */
export function SlotWater({ slot: { saved, entry } }: { slot: Slot }) {
  const known = saved ?? (entry?.state === 'typed' ? null : entry?.body);
  if (!known) return null;
  const isCarried = known.waterTemperatureSource === 'carried';
  return (
    <span className={`slot-end slot-water${isCarried ? ' quiet' : ' slot-read'}`}>
      <Quantity value={known.waterTemperatureC} unit="°C" /> {isCarried ? words.carried : words.read}
    </span>
  );
}
