import { useState } from 'react';
import { gridText } from '../../messages/en-lots.ts';
import { READING_FIELD, readingHandlers } from '../../parts/reading-handlers.ts';
import { UNITS } from '../bench/entry.ts';
import { showRead } from './grid-cell.tsx';
import { cellId, type GridActs, type Place } from './use-grid.ts';

const words = gridText;

const waterOf = (place: Place): Place => ({ ...place, field: 'waterTemperatureC' });

/** Which trial of a row has its field for water of its own opened, and how the cursor gets there. */
export function useOwnWater(acts: GridActs) {
  const [opened, setOpened] = useState<number | null>(null);
  return {
    opened,
    open: (place: Place): void => {
      setOpened(place.slot);
      acts.goTo(waterOf(place));
    },
    close: (): void => setOpened(null),
  };
}

interface OwnWaterProps {
  /** The filled reading of the trial. */
  place: Place;
  tag: string;
  acts: GridActs;
  isOpen: boolean;
  onOpen: () => void;
  onClose: () => void;
}

/**
 * Below the filled reading of a trial: its own water, where it is not that of the round. Enter goes back to the way of
 * working; emptied, the trial has the water of the round again.
 */
export function OwnWater({ place, tag, acts, isOpen, onOpen, onClose }: OwnWaterProps) {
  const own = waterOf(place);
  const value = acts.ownWaterAt(own);
  if (value === '' && !isOpen)
    return (
      <button
        type="button"
        className="grid-plain grid-own-open"
        aria-label={words.ownWaterOf(tag, place.slot + 1)}
        onClick={onOpen}
      >
        {words.ownWater}
      </button>
    );
  const problem = acts.askedAt(own)?.problems['waterTemperatureC'];
  const handlers = readingHandlers({
    unit: UNITS.waterTemperatureC,
    onChange: (typed) => acts.type(own, typed),
    onEnter: () => acts.enter(own),
    onRead: (read, typed) => showRead(acts, own, read, typed),
  });
  return (
    <label className="grid-own">
      <span className="quiet">{words.ownWater} °C</span>
      <input
        {...handlers}
        id={cellId(own)}
        {...READING_FIELD}
        className="input grid-input"
        aria-label={words.cell.waterTemperatureC(tag, place.slot + 1)}
        aria-invalid={problem ? true : undefined}
        aria-describedby={problem ? `${cellId(own)}-said` : undefined}
        value={value}
        onChange={(event) => acts.type(own, event.target.value)}
        onBlur={(event) => {
          handlers.onBlur(event);
          onClose();
        }}
        onKeyDown={(event) => {
          if (event.key !== 'Escape') return handlers.onKeyDown(event);
          acts.type(own, '');
          acts.goTo(place);
        }}
      />
    </label>
  );
}
