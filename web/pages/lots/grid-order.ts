/** Where the Enter key leads in a grid of vessels and trials: by the way of working, or as a sheet is read. */
import type { WayOfWorking } from '../../../server/lots/contract.ts';

/** The water of each trial is typed only from a sheet; at the bench it is read once for many. */
export type GridField = 'emptyG' | 'filledG' | 'waterTemperatureC';

/** One cell: a row of the grid, a trial of it counted from 0, and which of its readings. */
export interface Place {
  row: number;
  slot: number;
  field: GridField;
}

/** What the order depends on: which rows take readings, and how many trials each has room for. */
export interface OrderRow {
  isOpen: boolean;
  slots: number;
}

export const samePlace = (a: Place, b: Place): boolean => a.row === b.row && a.slot === b.slot && a.field === b.field;

const range = (count: number): number[] => Array.from({ length: count }, (_, index) => index);

/** Every cell that takes a reading, in the order of the way of working. */
export function placesInOrder(way: WayOfWorking, rows: readonly OrderRow[]): Place[] {
  const open = range(rows.length).filter((row) => rows[row]?.isOpen);
  const hasSlot = (row: number, slot: number) => slot < (rows[row]?.slots ?? 0);
  const column = (slot: number, field: GridField): Place[] =>
    open.filter((row) => hasSlot(row, slot)).map((row) => ({ row, slot, field }));
  const most = Math.max(0, ...open.map((row) => rows[row]?.slots ?? 0));
  if (way === 'vessel-by-vessel')
    return open.flatMap((row) =>
      range(rows[row]?.slots ?? 0).flatMap((slot): Place[] => [
        { row, slot, field: 'emptyG' },
        { row, slot, field: 'filledG' },
      ]),
    );
  return range(most).flatMap((slot) => [
    ...(way === 'reuse-dry' && slot > 0 ? [] : column(slot, 'emptyG')),
    ...column(slot, 'filledG'),
  ]);
}

/** Every cell to type from a sheet: a vessel after the other, its trials as they stand beside each other. */
export function placesOnSheet(way: WayOfWorking, rows: readonly OrderRow[]): Place[] {
  return rows.flatMap(({ isOpen, slots }, row) =>
    range(isOpen ? slots : 0).flatMap((slot): Place[] => [
      ...(way === 'reuse-dry' && slot > 0 ? [] : [{ row, slot, field: 'emptyG' as const }]),
      { row, slot, field: 'filledG' },
      { row, slot, field: 'waterTemperatureC' },
    ]),
  );
}

/** The first cell after this one that has nothing in it, from the end on again from the beginning; null when all have. */
export function nextPlace(
  order: readonly Place[],
  from: Place | null,
  hasReading: (place: Place) => boolean,
): Place | null {
  const at = from === null ? -1 : order.findIndex((place) => samePlace(place, from));
  const onwards = [...order.slice(at + 1), ...order.slice(0, Math.max(at, 0))];
  return onwards.find((place) => !hasReading(place)) ?? null;
}

/** The same reading of the same trial in the next row that has it, up or down; null at the edge. */
export function placeBeside(rows: readonly OrderRow[], from: Place, step: 1 | -1): Place | null {
  for (let row = from.row + step; row >= 0 && row < rows.length; row += step) {
    const there = rows[row];
    if (there?.isOpen && from.slot < there.slots) return { ...from, row };
  }
  return null;
}
