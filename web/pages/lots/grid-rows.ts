/** What stands in each cell of the grid: trials the server has, those on their way, those being typed. */
import type { Round, RoundRow, ShortTrial } from '../../../server/lots/contract-round.ts';
import type { OutboxEntry } from '../../outbox.ts';
import { isAtPoint } from '../bench/record.ts';

/** One trial of one vessel: saved, on its way or being typed; both null where nothing is typed yet. */
export interface Slot {
  saved: ShortTrial | null;
  entry: OutboxEntry | null;
  /** Other readings typed for a trial that another tab recorded: no trial of their own. */
  refused: OutboxEntry[];
}

export interface GridRow {
  row: RoundRow;
  isOpen: boolean;
  slots: Slot[];
}

const slotWith = (saved: ShortTrial | null, entry: OutboxEntry | null): Slot => ({ saved, entry, refused: [] });

const isOnTheWay = (entry: OutboxEntry): boolean =>
  entry.state === 'waiting' || entry.state === 'sending' || entry.state === 'saved';

/**
 * Trials of a vessel stand in the order of their numbers. What is on its way follows in the order it was completed; what
 * is being typed stays where it was begun as long as that place is free. What another tab recorded with other readings
 * stays with that trial, and is never taken for the next one.
 */
export function slotsOf(row: RoundRow, pointMl: string, planned: number, entries: readonly OutboxEntry[]): Slot[] {
  const saved = row.trials.filter((trial) => isAtPoint(pointMl, trial));
  const known = new Set(row.trials.map((trial) => trial.number));
  const mine = entries.filter(
    (entry) =>
      entry.calibrationId === row.calibrationId && isAtPoint(pointMl, entry) && !known.has(entry.savedNumber ?? 0),
  );
  const slots: Slot[] = saved.map((trial) => slotWith(trial, null));
  for (const entry of mine.filter(isOnTheWay)) slots.push(slotWith(null, entry));
  const excluded = saved.filter((trial) => trial.excluded).length;
  while (slots.length < planned + excluded) slots.push(slotWith(null, null));
  for (const entry of mine.filter((one) => !isOnTheWay(one))) {
    const wanted = slots[entry.slot ?? 0];
    const free = wanted && isFree(wanted) ? wanted : slots.find(isFree);
    if (wanted && !isFree(wanted) && isRecordedElsewhere(entry)) wanted.refused.push(entry);
    else if (free) free.entry = entry;
    else slots.push(slotWith(null, entry));
  }
  return slots;
}

export const isFree = (slot: Slot): boolean => slot.saved === null && slot.entry === null;

const isRecordedElsewhere = ({ slot, state, problem }: OutboxEntry): boolean =>
  slot !== undefined && state === 'failed' && problem?.code === 'key-reused';

/**
 * Rows that stay the same object while nothing in them changes: a key typed in one row draws that row and no other.
 */
export function rowKeeper(): (round: Round, pointMl: string, entries: readonly OutboxEntry[]) => GridRow[] {
  const kept = new Map<string, { from: readonly unknown[]; gridRow: GridRow }>();
  return (round, pointMl, entries) =>
    round.rows.map((row) => {
      const mine = entries.filter((entry) => entry.calibrationId === row.calibrationId);
      const from = [row, pointMl, round.plannedTrials, ...mine];
      const before = kept.get(row.calibrationId);
      if (before?.from.length === from.length && from.every((one, index) => one === before.from[index]))
        return before.gridRow;
      const isOpen = row.state === 'open';
      const gridRow = { row, isOpen, slots: slotsOf(row, pointMl, round.plannedTrials, mine) };
      kept.set(row.calibrationId, { from, gridRow });
      return gridRow;
    });
}

/** Number the dry reading of a vessel has or will have, for trials that use it again; null where there is none yet. */
export function dryReading({ slots }: GridRow): { number: number; emptyG: string } | null {
  for (const [index, { saved, entry }] of slots.entries()) {
    const source = saved ? (saved.emptySource ?? 'own') : entry?.typed.emptySource;
    const emptyG = saved?.emptyG ?? entry?.body?.emptyG;
    if (source === 'own' && emptyG !== undefined) return { number: saved?.number ?? index + 1, emptyG };
  }
  return null;
}
