/** What stands in the cells of a grid, and the entry behind each of them. */
import type { WayOfWorking } from '../../../server/lots/contract.ts';
import { newKey } from '../../api.ts';
import type { Outbox, OutboxEntry } from '../../outbox.ts';
import type { Place } from './grid-order.ts';
import { dryReading, type GridRow, type Slot } from './grid-rows.ts';
import { blankEntry, hasOwnWater, type RoundWater } from './grid-trial.ts';

interface CellsOf {
  rows: readonly GridRow[];
  way: WayOfWorking;
  pointMl: string;
  outbox: Outbox;
  /** Ids of cells nothing is typed in yet, by cell; they stay the same until something is. */
  ids: Map<string, string>;
}

export function gridCells({ rows, way, pointMl, outbox, ids }: CellsOf) {
  const slotAt = ({ row, slot }: Place): Slot | undefined => rows[row]?.slots[slot];
  /** Its empty reading is the dry one of an earlier trial. */
  const isTaken = ({ slot, field }: Place): boolean => field === 'emptyG' && slot > 0 && way === 'reuse-dry';
  const dryAt = (place: Place): string => {
    const at = rows[place.row];
    return isTaken(place) && at ? (dryReading(at)?.emptyG ?? '') : '';
  };
  const isEditable = (place: Place): boolean => {
    const at = slotAt(place);
    const state = at?.entry?.state ?? 'typed';
    return !isTaken(place) && at?.saved === null && (state === 'typed' || state === 'failed');
  };
  const valueAt = (place: Place): string => {
    const at = slotAt(place);
    return at?.saved?.[place.field] ?? (at?.entry?.typed[place.field] || dryAt(place));
  };
  /** Water typed for this trial alone; nothing where it has that of the round. */
  const ownWaterAt = (place: Place, water: RoundWater | null): string => {
    const entry = slotAt(place)?.entry;
    return entry && hasOwnWater(entry.typed, water, entry.id) ? entry.typed.waterTemperatureC : '';
  };
  const idFor = (cell: string): string => {
    const known = ids.get(cell);
    // Once its trial is on its way, the cell may be another's: a key typed there must not be taken for the old one.
    const isSpent = outbox.entries().some(({ id, state }) => id === known && state !== 'typed');
    const id = known === undefined || isSpent ? newKey() : known;
    ids.set(cell, id);
    return id;
  };
  /** The entry of a cell as kept by now, which may be later than what the page shows. */
  const entryAt = ({ row, slot }: Place): OutboxEntry | null => {
    const at = rows[row];
    if (!at) return null;
    const cell = `${at.row.calibrationId} ${pointMl} ${slot}`;
    const shown = at.slots[slot]?.entry ?? blankEntry(at, { id: idFor(cell), slot, pointMl, madeAt: Date.now() });
    return outbox.entries().find(({ id }) => id === shown.id) ?? shown;
  };
  return { slotAt, isTaken, isEditable, valueAt, ownWaterAt, entryAt };
}
export type GridCells = ReturnType<typeof gridCells>;
