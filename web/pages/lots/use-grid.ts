import { useMemo, useRef, useState } from 'react';
import type { Round } from '../../../server/lots/contract-round.ts';
import type { ToleranceRow } from '../../../server/metrology/tolerance.ts';
import { newKey } from '../../api.ts';
import type { OutboxEntry } from '../../outbox.ts';
import { readNumber } from '../../parts/read-number.ts';
import { useOutbox } from '../../use-outbox.ts';
import { readEntry } from '../bench/entry.ts';
import { type AtField, liveTrial } from '../bench/live.ts';
import { type GridField, nextPlace, type Place, placeBeside, placesInOrder } from './grid-order.ts';
import { taskOf } from './grid-record.ts';
import { dryReading, gridRows } from './grid-rows.ts';
import { blankEntry, withDryReading, withWater } from './grid-trial.ts';
import type { RoundHead } from './use-round-head.ts';

/** What stands in the way of keeping a trial: refused fields, and questions with the answer being typed. */
export interface Asked {
  problems: Partial<Record<string, string>>;
  questions: readonly AtField[];
}

export const cellId = ({ row, slot, field }: Place): string => `cell-${row}-${slot}-${field}`;
export const noteId = (entryId: string): string => `why-${entryId}`;

/** At once, so that no key is lost; what only comes with the next drawing a moment later. */
const focusOn = (id: string): void => {
  const there = document.getElementById(id);
  if (there) there.focus();
  else setTimeout(() => document.getElementById(id)?.focus(), 0);
};

const askedByServer = ({ problem }: OutboxEntry): Asked | null =>
  problem === null
    ? null
    : {
        problems: Object.fromEntries(
          problem.fields.filter((one) => !one.confirm).map(({ field, detail }) => [field, detail]),
        ),
        questions: problem.fields.filter((one) => one.confirm),
      };

/** The cells of a round: what stands in them, what is typed, how a trial becomes complete, where the cursor goes next. */
export function useGrid(round: Round, pointMl: string, tolerances: readonly ToleranceRow[], head: RoundHead) {
  const { outbox, entries } = useOutbox();
  const rows = useMemo(() => gridRows(round, pointMl, entries), [round, pointMl, entries]);
  const orderRows = useMemo(() => rows.map(({ isOpen, slots }) => ({ isOpen, slots: slots.length })), [rows]);
  const order = useMemo(() => placesInOrder(round.wayOfWorking, orderRows), [round.wayOfWorking, orderRows]);
  const ids = useRef(new Map<string, string>());
  const [asked, setAsked] = useState<Readonly<Record<string, Asked>>>({});

  const slotAt = ({ row, slot }: Place) => rows[row]?.slots[slot];
  const reuses = ({ row, slot, field }: Place): string | null => {
    const at = rows[row];
    const taken = field === 'emptyG' && slot > 0 && round.wayOfWorking === 'reuse-dry';
    return taken && at ? (dryReading(at)?.emptyG ?? null) : null;
  };
  const isTaken = (place: Place) => place.field === 'emptyG' && place.slot > 0 && round.wayOfWorking === 'reuse-dry';
  const isEditable = (place: Place): boolean => {
    const at = slotAt(place);
    const state = at?.entry?.state ?? 'typed';
    return !isTaken(place) && at?.saved === null && (state === 'typed' || state === 'failed');
  };
  const valueAt = (place: Place): string => {
    const at = slotAt(place);
    return at?.saved?.[place.field] ?? (at?.entry?.typed[place.field] || reuses(place)) ?? '';
  };
  const entryAt = ({ row, slot }: Place): OutboxEntry | null => {
    const at = rows[row];
    if (!at) return null;
    const there = at.slots[slot]?.entry;
    if (there) return there;
    const key = `${at.row.calibrationId} ${pointMl} ${slot} ${at.slots.filter(({ saved }) => saved).length}`;
    const id = ids.current.get(key) ?? newKey();
    ids.current.set(key, id);
    return blankEntry(at, { id, slot, pointMl, madeAt: Date.now() });
  };
  /** As kept by now, which may be later than what the page shows. */
  const freshAt = (place: Place): OutboxEntry | null => {
    const entry = entryAt(place);
    return outbox.entries().find((one) => one.id === entry?.id) ?? entry;
  };
  const askAt = (id: string, found: Asked | null) =>
    setAsked(({ [id]: _before, ...others }) => (found === null ? others : { ...others, [id]: found }));

  const type = (place: Place, value: string): void => {
    const entry = freshAt(place);
    if (!entry) return;
    askAt(entry.id, null);
    void outbox.type({ ...entry, slot: place.slot, typed: { ...entry.typed, [place.field]: value } });
  };

  const goTo = (place: Place | null): void => {
    if (place) focusOn(cellId(place));
    else focusOn('finish-round');
  };
  /** Over the fields of the round where one of them is due, and from there on to the cell. */
  const advance = (from: Place | null): void => {
    const next = nextPlace(order, from, (place) => !isEditable(place) || valueAt(place).trim() !== '');
    if (from !== null && next?.row !== from.row) head.countVessel();
    const detour = head.detour(next);
    if (detour !== null) focusOn(detour);
    else goTo(next);
  };

  /** @returns whether the trial is on its way, waits for its other reading, or something stands in its way */
  const complete = (place: Place, answer: { confirm: string[]; note: string } | null): 'kept' | 'half' | 'asked' => {
    const at = rows[place.row];
    const entry = freshAt(place);
    if (!at || !entry) return 'half';
    const dry = withDryReading(round.wayOfWorking, at, place.slot, entry.typed);
    if (dry.emptyG.trim() === '' || dry.filledG.trim() === '') return 'half';
    const water = head.water;
    if (water === null) {
      head.wait(place);
      focusOn('round-water');
      return 'asked';
    }
    const typed = { ...withWater(dry, water, entry.id), ...(answer ? { note: answer.note } : {}) };
    const read = readEntry({ pointMl, typed });
    if (read.body === null) {
      askAt(entry.id, { problems: read.problems, questions: [] });
      return 'asked';
    }
    const confirm = (answer?.confirm ?? []) as NonNullable<typeof read.body.confirm>;
    const body = confirm.length > 0 ? { ...read.body, confirm } : read.body;
    const task = taskOf(round, at, tolerances);
    const live = liveTrial(task.record, body, 1, task.tolerance);
    const problems = Object.fromEntries(live.refusals.map(({ field, detail }) => [field, detail]));
    if (live.refusals.length > 0 || live.questions.length > 0) {
      askAt(entry.id, { problems, questions: live.questions });
      return 'asked';
    }
    askAt(entry.id, null);
    void outbox.queue({ ...entry, slot: place.slot, typed }, body);
    if (!typed.isCarried && water.readFor === null) head.useWaterFor(entry.id);
    return 'kept';
  };

  const enter = (place: Place): void => {
    const entry = freshAt(place);
    const typed = entry?.typed[place.field] ?? '';
    if (entry && isEditable(place) && typed.trim() !== '') {
      const read = readNumber(typed, 'g');
      if (!read.ok) return askAt(entry.id, { problems: { [place.field]: read.problem }, questions: [] });
      const outcome = complete(place, null);
      if (outcome === 'asked') {
        focusOn(noteId(entry.id));
        return;
      }
    }
    advance(place);
  };

  return {
    rows,
    order,
    type,
    enter,
    advance,
    valueAt,
    isEditable,
    isTaken,
    askedAt: (place: Place): Asked | null => {
      const entry = slotAt(place)?.entry;
      return entry ? (asked[entry.id] ?? askedByServer(entry)) : null;
    },
    /** Says yes to the questions of a cell, with the reason. @returns false where something else stands in the way */
    answer: (place: Place, questions: readonly AtField[], note: string): boolean => {
      const confirm = questions.flatMap((question) => question.confirm ?? []);
      const isKept = complete(place, { confirm, note }) === 'kept';
      if (isKept) advance(place);
      return isKept;
    },
    moveBeside: (place: Place, step: 1 | -1): void => {
      const beside = placeBeside(orderRows, place, step);
      if (beside) goTo(beside);
    },
    goTo,
    setProblem: (place: Place, problem: string): void => {
      const entry = freshAt(place);
      if (entry) askAt(entry.id, { problems: { [place.field]: problem }, questions: [] });
    },
  };
}
export type Grid = ReturnType<typeof useGrid>;
export type { GridField, Place };
