import type { KeyboardEvent } from 'react';
import { gridText } from '../../messages/en-lots.ts';
import { UNITS } from '../bench/entry.ts';
import { type Read, READING_FIELD, readingHandlers } from '../../parts/reading-handlers.ts';
import { withTrueMinus } from '../../parts/rounding.ts';
import { cellId, type GridActs, type Place } from './use-grid.ts';

interface GridCellProps {
  place: Place;
  tag: string;
  acts: GridActs;
  canType: boolean;
  /** Opens the field for water of its own; absent where each trial has one anyway. */
  onOwnWater?: (() => void) | undefined;
}

/** One reading of one trial: a field while it can be typed, else the reading as it stands. */
export function GridCell({ place, tag, acts, canType, onOwnWater }: GridCellProps) {
  const value = acts.valueAt(place);
  const label = gridText.cell[place.field](tag, place.slot + 1);
  if (!canType || !acts.isEditable(place))
    return (
      <span
        className="grid-reading"
        aria-label={value === '' ? undefined : label}
        role={value === '' ? undefined : 'note'}
      >
        {withTrueMinus(value)}
      </span>
    );
  const problem = acts.askedAt(place)?.problems[place.field];
  const handlers = readingHandlers({
    unit: UNITS[place.field],
    onChange: (typed) => acts.type(place, typed),
    onEnter: () => acts.enter(place),
    onRead: (read: Read, typed: string) => showRead(acts, place, read, typed),
  });
  const keyDown = (event: KeyboardEvent<HTMLInputElement>): void => {
    if (onOwnWater && isOwnWaterKey(event)) {
      event.preventDefault();
      return onOwnWater();
    }
    const step = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : null;
    if (step === null) return handlers.onKeyDown(event);
    event.preventDefault();
    acts.moveBeside(place, step);
  };
  return (
    <input
      {...handlers}
      id={cellId(place)}
      {...READING_FIELD}
      className="input grid-input"
      aria-label={label}
      aria-keyshortcuts={onOwnWater && OWN_WATER_KEY}
      aria-invalid={problem ? true : undefined}
      aria-describedby={problem ? `${cellId(place)}-said` : undefined}
      value={value}
      onChange={(event) => acts.type(place, event.target.value)}
      onKeyDown={keyDown}
    />
  );
}

/** No reading has this letter in its beginning: a balance writes its unit behind the number. */
const OWN_WATER_KEY = 'w';
const isOwnWaterKey = ({ key, ctrlKey, altKey, metaKey, currentTarget }: KeyboardEvent<HTMLInputElement>): boolean =>
  key.toLowerCase() === OWN_WATER_KEY && !ctrlKey && !altKey && !metaKey && !/[a-z]/i.test(currentTarget.value);

/** A balance string that was taken apart is shown as the number it is; an unreadable one says why. */
export function showRead(acts: GridActs, place: Place, read: Read, typed: string): void {
  if ('problem' in read) acts.setProblem(place, read.problem);
  else if (read.note !== null || !/^[\s\d.,+\-−]*$/.test(typed)) acts.type(place, read.value);
}
