import { useMemo, useRef, useState } from 'react';
import type { Round } from '../../../server/lots/contract-round.ts';
import type { ToleranceRow } from '../../../server/metrology/tolerance.ts';
import { gridText } from '../../messages/en-lots.ts';
import { readNumber } from '../../parts/read-number.ts';
import type { Outbox, OutboxEntry } from '../../outbox.ts';
import { useOutbox } from '../../use-outbox.ts';
import { UNITS } from '../bench/entry.ts';
import type { AtField } from '../bench/live.ts';
import { gridCells, type GridCells } from './grid-cells.ts';
import { type Answer, type Asked, askedByServer, completedTrial } from './grid-completing.ts';
import { nextPlace, type Place, placeBeside, placesInOrder, placesOnSheet } from './grid-order.ts';
import { type GridRow, isFree, rowKeeper } from './grid-rows.ts';
import { hasOwnWater } from './grid-trial.ts';
import type { RoundHead } from './use-round-head.ts';

export const cellId = ({ row, slot, field }: Place): string => `cell-${row}-${slot}-${field}`;
export const noteId = (entryId: string): string => `why-${entryId}`;

/** At once, so that no key is lost; what only comes with the next drawing a moment later. */
const focusOn = (id: string): void => {
  const there = document.getElementById(id);
  if (there) there.focus();
  else setTimeout(() => document.getElementById(id)?.focus(), 0);
};

const goTo = (place: Place | null): void => focusOn(place ? cellId(place) : 'finish-round');

/** Where water is weighed, °C. */
const isWaterRange = (typed: string): boolean => Number(typed) >= 0 && Number(typed) <= 40;

/** What is asked, by the entry it is asked about. */
function useAsked() {
  const [asked, setAsked] = useState<Readonly<Record<string, Asked>>>({});
  const askAt = (id: string, found: Asked | null): void =>
    setAsked((before) => {
      if (found === null && !(id in before)) return before;
      const { [id]: _before, ...others } = before;
      return found === null ? others : { ...others, [id]: found };
    });
  return { asked, askAt };
}

/** Where the cursor goes: by the way of working, over fields of the round that are due, or to the vessel beside. */
function cursorOver(round: Round, rows: readonly GridRow[], cells: GridCells, head: RoundHead) {
  const isOwn = (place: Place | null): boolean => place !== null && cells.ownWaterAt(place) !== '';
  const places = rows.map(({ isOpen, slots }) => ({ isOpen, slots: slots.length }));
  const isFromSheet = round.origin === 'sheet';
  const inOrder = isFromSheet ? placesOnSheet : placesInOrder;
  const hasReading = (place: Place): boolean => !cells.isEditable(place) || cells.valueAt(place).trim() !== '';
  const advance = (from: Place | null): void => {
    const next = nextPlace(inOrder(round.wayOfWorking, places), from, hasReading);
    if (isFromSheet) return goTo(next);
    if (from !== null && hasReading(from) && next?.row !== from.row) head.countVessel();
    const detour = head.detour(next, isOwn(next));
    if (detour !== null) focusOn(detour);
    else goTo(next);
  };
  return {
    advance,
    /** At the bench water of its own stands beside the way: back to the filled reading, and on where that is typed. */
    advanceFromWater: (place: Place): void => {
      if (isFromSheet) return advance(place);
      const filled: Place = { ...place, field: 'filledG' };
      if (!isOwn(place) || cells.valueAt(filled).trim() === '') goTo(filled);
      else advance(filled);
    },
    moveBeside: (place: Place, step: 1 | -1): void => {
      const beside = placeBeside(places, place, step);
      if (beside) goTo(beside);
    },
  };
}

/** Readings that were refused for one trial are those of the next one, where somebody says so. */
const takingForNext =
  (rows: readonly GridRow[], outbox: Outbox) =>
  (row: number, entry: OutboxEntry): void => {
    const slots = rows[row]?.slots ?? [];
    const free = slots.findIndex(isFree);
    const slot = free < 0 ? slots.length : free;
    void outbox.type({ ...entry, slot });
    goTo({ row, slot, field: 'filledG' });
  };

/** The cells of a round: what stands in them, what is typed, how a trial becomes complete, where the cursor goes next. */
export function useGrid(round: Round, pointMl: string, tolerances: readonly ToleranceRow[], head: RoundHead) {
  const { outbox, entries } = useOutbox();
  const [keepRows] = useState(rowKeeper);
  const rows = useMemo(() => keepRows(round, pointMl, entries), [keepRows, round, pointMl, entries]);
  const [ids] = useState(() => new Map<string, string>());
  const { asked, askAt } = useAsked();
  const cells = gridCells({ rows, way: round.wayOfWorking, pointMl, outbox, ids, water: head.water });
  const { advance, advanceFromWater, moveBeside } = cursorOver(round, rows, cells, head);

  const type = (place: Place, value: string): void => {
    const entry = cells.entryAt(place);
    if (!entry) return;
    askAt(entry.id, null);
    const isWater = place.field === 'waterTemperatureC';
    const typed = { ...entry.typed, [place.field]: value, ...(isWater ? { isCarried: false } : {}) };
    void outbox.type({ ...entry, slot: place.slot, typed });
  };
  /** @returns false where something stands in the way, and the cursor is there */
  const complete = (place: Place, answer: Answer | null): boolean => {
    const row = rows[place.row];
    const entry = cells.entryAt(place);
    if (!row || !entry) return true;
    const { slot } = place;
    const { water } = head;
    const done = completedTrial({ round, pointMl, tolerances, row, slot, entry, water, answer });
    if (done.outcome === 'half') return true;
    if (done.outcome === 'water-missing') {
      head.wait(place);
      focusOn('round-water');
      return false;
    }
    askAt(entry.id, done.outcome === 'asked' ? done.asked : null);
    if (done.outcome === 'asked') {
      if (done.asked.questions.length > 0) focusOn(noteId(entry.id));
      return false;
    }
    void outbox.queue({ ...entry, slot, typed: done.typed }, done.body);
    const isRoundWater = round.origin === null && !hasOwnWater(entry.typed, water, entry.id);
    if (isRoundWater && water?.readFor === null) head.useWaterFor(entry.id);
    return true;
  };
  const setProblem = (place: Place, problem: string): void => {
    const entry = cells.entryAt(place);
    if (entry) askAt(entry.id, { problems: { [place.field]: problem }, questions: [] });
  };
  const enter = (place: Place): void => {
    const typed = cells.entryAt(place)?.typed[place.field] ?? '';
    if (cells.isEditable(place) && typed.trim() !== '') {
      const read = readNumber(typed, UNITS[place.field]);
      if (!read.ok) return setProblem(place, read.problem);
      if (place.field === 'waterTemperatureC' && !isWaterRange(read.value))
        return setProblem(place, gridText.waterRange);
      if (!complete(place, null)) return;
    }
    if (place.field === 'waterTemperatureC') advanceFromWater(place);
    else advance(place);
  };
  const askedAt = (place: Place): Asked | null => {
    const entry = cells.slotAt(place)?.entry;
    return entry ? (asked[entry.id] ?? askedByServer(entry)) : null;
  };
  /** Says yes to the questions of a cell, with the reason, and goes on. */
  const answer = (place: Place, questions: readonly AtField[], note: string): void => {
    const confirm = questions.flatMap((question) => question.confirm ?? []);
    if (complete(place, { confirm, note })) advance(place);
  };
  const { valueAt, ownWaterAt, isEditable } = cells;
  const typing = { type, enter, answer, setProblem, askedAt, takeForNext: takingForNext(rows, outbox) };
  return { rows, asked, acts: useLasting({ ...typing, advance, moveBeside, goTo, valueAt, ownWaterAt, isEditable }) };
}

/** The same object for as long as the page stands; each call goes to what the latest drawing knows. */
function useLasting<T extends Record<string, (...values: never[]) => unknown>>(acts: T): T {
  const latest = useRef(acts);
  latest.current = acts;
  return useMemo(() => {
    const names = Object.keys(latest.current) as (keyof T)[];
    const lasting = names.map((name) => [name, (...values: never[]) => latest.current[name]?.(...values)]);
    return Object.fromEntries(lasting) as T;
  }, []);
}

export type Grid = ReturnType<typeof useGrid>;
export type GridActs = Grid['acts'];
export type { Place };
