import { gridText } from '../../messages/en-lots.ts';
import { decimalsOf, fixed } from '../../parts/rounding.ts';
import { StateMark } from '../bench/state-mark.tsx';
import type { Slot } from './grid-rows.ts';

const words = gridText;

/** Behind the two readings of a trial: its volume, the water it was weighed with, and where it stands. */
export function SlotEnd({ slot, volumeMl }: { slot: Slot; volumeMl: number | null }) {
  const { saved, entry } = slot;
  if (saved === null && (entry === null || entry.state === 'typed')) return null;
  const filledG = saved?.filledG ?? entry?.body?.filledG ?? '';
  const temperatureC = saved?.waterTemperatureC ?? entry?.body?.waterTemperatureC;
  const isCarried = (saved?.waterTemperatureSource ?? entry?.body?.waterTemperatureSource) === 'carried';
  return (
    <span className={`slot-end${saved?.excluded ? ' slot-excluded' : ''}`}>
      {volumeMl !== null && (
        <span className="slot-volume">
          {fixed(volumeMl, Math.min(3, decimalsOf(filledG)))} <span className="quiet">{words.volume}</span>
        </span>
      )}
      {temperatureC !== undefined && (
        <span className="slot-water quiet">{isCarried ? words.carried(temperatureC) : words.read(temperatureC)}</span>
      )}
      <StateMark state={saved ? 'saved' : (entry?.state ?? 'typed')} />
    </span>
  );
}
