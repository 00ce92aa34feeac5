import type { KeyboardEvent } from 'react';
import { gridText } from '../../messages/en-lots.ts';
import { type Read, readingHandlers } from '../../parts/reading-handlers.ts';
import { withTrueMinus } from '../../parts/rounding.ts';
import { cellId, type Grid, type Place } from './use-grid.ts';

interface GridCellProps {
  place: Place;
  tag: string;
  grid: Grid;
  canType: boolean;
}

/** One reading of one trial: a field while it can be typed, else the reading as it stands. */
export function GridCell({ place, tag, grid, canType }: GridCellProps) {
  const value = grid.valueAt(place);
  const label = gridText.cell[place.field](tag, place.slot + 1);
  if (!canType || !grid.isEditable(place))
    return (
      <span
        className="grid-reading"
        aria-label={value === '' ? undefined : label}
        role={value === '' ? undefined : 'note'}
      >
        {withTrueMinus(value)}
      </span>
    );
  const problem = grid.askedAt(place)?.problems[place.field];
  const handlers = readingHandlers({
    unit: 'g',
    onChange: (typed) => grid.type(place, typed),
    onEnter: () => grid.enter(place),
    onRead: (read: Read, typed: string) => showRead(grid, place, read, typed),
  });
  const keyDown = (event: KeyboardEvent<HTMLInputElement>): void => {
    const step = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : null;
    if (step === null) return handlers.onKeyDown(event);
    event.preventDefault();
    grid.moveBeside(place, step);
  };
  return (
    <input
      {...handlers}
      id={cellId(place)}
      type="text"
      inputMode="decimal"
      enterKeyHint="next"
      autoComplete="off"
      spellCheck={false}
      className="input grid-input"
      aria-label={label}
      aria-invalid={problem ? true : undefined}
      aria-describedby={problem ? `${cellId(place)}-said` : undefined}
      value={value}
      onChange={(event) => grid.type(place, event.target.value)}
      onKeyDown={keyDown}
    />
  );
}

/** A balance string that was taken apart is shown as the number it is; an unreadable one says why. */
function showRead(grid: Grid, place: Place, read: Read, typed: string): void {
  if ('problem' in read) grid.setProblem(place, read.problem);
  else if (read.note !== null || !/^[\s\d.,+\-−]*$/.test(typed)) grid.type(place, read.value);
}
